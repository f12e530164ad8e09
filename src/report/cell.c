// SPDX-License-Identifier: GPL-3.0-or-later
// Columns of text.
#include "report/cell.h"

void
report_cell(GString *out, const char *text, int width, gboolean right)
{
    int gap = width - (int)g_utf8_strlen(text, -1);
    g_autofree char *space = g_strnfill((gsize)MAX(gap, 0), ' ');
    g_string_append_printf(out, right ? "%2$s%1$s" : "%1$s%2$s", text, space);
}
