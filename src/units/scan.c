// SPDX-License-Identifier: GPL-3.0-or-later
// Brings typed text into one plain form, so that the readers of numbers and units need to know one
// spelling of each sign, and keeps the place of each character for messages.
#include "units/scan.h"

#include <glib/gi18n-lib.h>

#include "base/error.h"

typedef struct {
    gunichar from;
    const char *to;
} Plain;

static const Plain plain_forms[] = {
    {0x00B2, "2"},    {0x00B3, "3"},    {0x00B5, "u"},    {0x03BC, "u"},    {0x00BA, "°"},
    {0x02DA, "°"},    {0x2103, "°C"},   {0x2109, "°F"},   {0x212A, "K"},    {0x2032, "'"},
    {0x2019, "'"},    {0x2018, "'"},    {0x00B4, "'"},    {0x2033, "\""},   {0x201D, "\""},
    {0x201C, "\""},   {0x2212, "-"},    {0x2010, "-"},    {0x2011, "-"},    {0x2013, "-"},
    {0x2044, "/"},    {0x2215, "/"},    {0x00B7, " "},    {0x22C5, " "},    {0x2219, " "},
    {'*', " "},       {'\t', " "},      {0x00BD, " 1/2"}, {0x00BC, " 1/4"}, {0x00BE, " 3/4"},
    {0x2153, " 1/3"}, {0x2154, " 2/3"}, {0x215B, " 1/8"}, {0x215C, " 3/8"}, {0x215D, " 5/8"},
    {0x215E, " 7/8"}, {0x2113, "l"},
};

static void
add_plain(UnitsScan *scan, gunichar c, guint at)
{
    scan->c[scan->n] = c;
    scan->at[scan->n] = at;
    scan->n++;
}

// Spaces that do not break a line, and thin ones, are how groups of digits are set in print.
static gboolean
glues(gunichar c)
{
    return c == 0x00A0 || c == 0x202F || c == 0x2009 || c == 0x2007 || c == 0x2006 || c == 0x200A;
}

static void
add_typed(UnitsScan *scan, gunichar c, guint at)
{
    if (glues(c)) {
        add_plain(scan, UNITS_GLUE, at);
        return;
    }
    for (guint i = 0; i < G_N_ELEMENTS(plain_forms); i++) {
        if (plain_forms[i].from != c)
            continue;
        for (const char *p = plain_forms[i].to; *p; p = g_utf8_next_char(p))
            add_plain(scan, g_utf8_get_char(p), at);
        return;
    }
    add_plain(scan, c, at);
}

gboolean
units_scan_start(UnitsScan *scan, QuantityKind kind, const char *text, GError **error)
{
    scan->n = 0;
    scan->pos = 0;
    scan->text = text;
    scan->kind = kind;
    guint at = 0;
    for (const char *p = text; *p;) {
        gunichar c = g_utf8_get_char_validated(p, -1);
        at++;
        add_plain(scan, 0, at);
        scan->n--;
        if (c == (gunichar)-1 || c == (gunichar)-2)
            return units_refuse(scan, scan->n, NULL, error, _("this is not UTF-8 text"));
        if (at > UNITS_LONGEST)
            return units_refuse(scan, scan->n, NULL, error, _("the text is too long"));
        add_typed(scan, c, at);
        p = g_utf8_next_char(p);
    }
    scan->c[scan->n] = 0;
    scan->at[scan->n] = at + 1;
    return TRUE;
}

gboolean
units_refuse(const UnitsScan *scan, guint pos, const char *remedy, GError **error,
             const char *format, ...)
{
    va_list args;
    va_start(args, format);
    g_autofree char *what = g_strdup_vprintf(format, args);
    va_end(args);
    g_autofree char *place = g_strdup_printf(_("at character %u"), scan->at[pos]);
    g_autofree char *example = g_strdup_printf(_("write for instance \"%s\""),
                                               units_kind(scan->kind)->example);
    return base_error_set(error, BASE_ERROR_VALUE, NULL, place, what, remedy ? remedy : example);
}

gboolean
units_is_blank(gunichar c)
{
    return c == ' ' || c == UNITS_GLUE;
}

gboolean
units_is_digit(gunichar c)
{
    return c >= '0' && c <= '9';
}

void
units_skip_blanks(UnitsScan *scan)
{
    while (units_is_blank(scan->c[scan->pos]))
        scan->pos++;
}

char *
units_word(const UnitsScan *scan, guint pos)
{
    guint end = pos;
    while (scan->c[end] && !units_is_blank(scan->c[end]) && end - pos < 24)
        end++;
    const char *from = g_utf8_offset_to_pointer(scan->text, scan->at[pos] - 1);
    const char *to = g_utf8_offset_to_pointer(scan->text, scan->at[end] - 1);
    g_autoptr(GString) word = g_string_new(NULL);
    for (const char *p = from; p < to; p = g_utf8_next_char(p)) {
        gunichar c = g_utf8_get_char(p);
        g_string_append_unichar(word, g_unichar_isprint(c) ? c : '?');
    }
    return g_string_free(g_steal_pointer(&word), FALSE);
}
