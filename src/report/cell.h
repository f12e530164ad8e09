// SPDX-License-Identifier: GPL-3.0-or-later
// Columns of text.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// Appends `text` in a column of `width` characters, at its left or its right end.
void report_cell(GString *out, const char *text, int width, gboolean right);

G_END_DECLS
