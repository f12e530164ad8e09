// SPDX-License-Identifier: GPL-3.0-or-later
// A hash of content (SHA-256), fed piece by piece; pieces are told apart by kind and length.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct Digest Digest;

Digest *digest_new(void);
void digest_free(Digest *digest);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Digest, digest_free)

void digest_add_string(Digest *digest, const char *text); // NULL differs from ""
void digest_add_double(Digest *digest, double value);     // -0 counts as 0
void digest_add_int(Digest *digest, gint64 value);
void digest_add_bytes(Digest *digest, const void *data, gsize length);
char *digest_end(Digest *digest); // 64 hex digits; the digest takes no more after this

// SHA-256 of a whole file, for a mesh kept beside a book. NULL with an error if it cannot be read.
char *digest_of_file(const char *path, GError **error);

G_END_DECLS
