// SPDX-License-Identifier: GPL-3.0-or-later
// Rows for a spreadsheet: comma-separated values of RFC 4180, UTF-8, CRLF at line ends.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// Appends a row of `n` cells; NULL is an empty one. Cells with a comma, a quote or a line end are
// put in quotes, quotes in them doubled (section 2, 5 to 7).
void calendar_csv_row(GString *out, const char *const *cells, guint n);

// A number for a cell, never in the locale's way: up to `digits` decimals, zeros at the end gone;
// empty for what is not known. Free.
char *calendar_csv_number(double value, int digits);

G_END_DECLS
