// SPDX-License-Identifier: GPL-3.0-or-later
// Whether moulds fit into the hours. Private to session/.
#pragma once

#include "session/session.h"

G_BEGIN_DECLS

typedef enum {
    SESSION_FIT_STOPPED = -1, // with an error
    SESSION_FIT_NOT,
    SESSION_FIT_YES
} SessionFit;

// Whether some way of laying them out keeps hours, light and metal.
SessionFit session_floor_fits(const SessionFloor *floor, const int *counts, Progress *progress,
                              GError **error);

G_END_DECLS
