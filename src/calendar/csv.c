// SPDX-License-Identifier: GPL-3.0-or-later
// Comma-separated values.
#include "calendar/csv.h"

#include <math.h>
#include <string.h>

static void
append_cell(GString *out, const char *cell)
{
    if (!strpbrk(cell, ",\"\r\n")) {
        g_string_append(out, cell);
        return;
    }
    g_string_append_c(out, '"');
    for (; *cell; cell++) {
        if (*cell == '"')
            g_string_append_c(out, '"');
        g_string_append_c(out, *cell);
    }
    g_string_append_c(out, '"');
}

void
calendar_csv_row(GString *out, const char *const *cells, guint n)
{
    g_return_if_fail(out && (cells || n == 0));
    for (guint i = 0; i < n; i++) {
        if (i > 0)
            g_string_append_c(out, ',');
        if (cells[i])
            append_cell(out, cells[i]);
    }
    g_string_append(out, "\r\n");
}

char *
calendar_csv_number(double value, int digits)
{
    char format[] = "%.0f", text[G_ASCII_DTOSTR_BUF_SIZE * 12];
    g_return_val_if_fail(digits >= 0 && digits <= 9, NULL);
    if (!isfinite(value))
        return g_strdup("");
    format[2] = (char)('0' + digits);
    g_ascii_formatd(text, sizeof text, format, value);
    char *end = text + strlen(text);
    while (digits > 0 && end[-1] == '0')
        *--end = '\0';
    if (digits > 0 && end[-1] == '.')
        *--end = '\0';
    return g_strdup(strcmp(text, "-0") == 0 ? "0" : text);
}
