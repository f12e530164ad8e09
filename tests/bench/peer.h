// SPDX-License-Identifier: GPL-3.0-or-later
// The other end of peers.py.
#pragma once

#include "timing.h"

G_BEGIN_DECLS

typedef struct Peer Peer;

// Starts the script and says which peers there are; NULL, and says so, where it does not run.
Peer *peer_start(void);
void peer_stop(Peer *peer); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Peer, peer_stop)

// A name in the peer's own folder, which goes with it. Free with g_free.
char *peer_path(const Peer *peer, const char *name);

// One run of a request as peers.py has them; adds to the times. FALSE if that peer is missing.
gboolean peer_run(Peer *peer, const char *request, Timing *timing);

// A file of `size` bytes that the peer wrote; NULL if it has another size. Free with g_free.
gpointer peer_read(const char *path, gsize size);

G_END_DECLS
