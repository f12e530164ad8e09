// SPDX-License-Identifier: GPL-3.0-or-later
// A file made in memory and put in place whole.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// TRUE when `replace`, or when nothing has the name, not even a link to nowhere; else
// BASE_ERROR_FILE.
gboolean whole_file_may(const char *path, gboolean replace, GError **error);

// Atomic: a reader finds the old bytes or the new. BASE_ERROR_FILE when the name is taken and
// `replace` is FALSE (a file that another program makes at that very moment is not noticed), or
// when it cannot be written.
gboolean whole_file_write(const char *path, const void *data, gsize length, gboolean replace,
                          GError **error);

G_END_DECLS
