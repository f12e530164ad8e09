// SPDX-License-Identifier: GPL-3.0-or-later
// Daylight as a session sees it: two clock times become seconds from when it begins.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct {
    double from, to; // s from the start of the session; 0 and INFINITY: no limit
} SessionLight;

// `from` and `to` are clock times such as "8:00"; NULL or "": no limit. `start` is when the session
// begins, min after midnight. Where the light is over by then, that of the day after is meant.
// FALSE with BASE_ERROR_VALUE that names the field for a clock that cannot be read and for light
// that ends before it begins.
gboolean session_light_find(const char *from, const char *to, int start, SessionLight *light,
                            GError **error);

G_END_DECLS
