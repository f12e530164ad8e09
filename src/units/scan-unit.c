// SPDX-License-Identifier: GPL-3.0-or-later
// Finds the longest unit of a kind at a place of a text, and the currency. Spelling is lenient
// where nothing else could be meant: J/(kg K), J/kg K, J/kg·K; cm3, cm^3, cm³; per for /; KG for
// kg.
#include <glib/gi18n-lib.h>
#include <string.h>

#include "units/scan.h"

typedef struct {
    const UnitsScan *scan;
    guint pos;
    int depth;      // open brackets
    gboolean past;  // a stroke was passed: spaces may stand between factors below it
    gboolean loose; // capitals for small letters
} Match;

static void
skip_brackets(Match *match)
{
    for (;; match->pos++) {
        gunichar c = match->scan->c[match->pos];
        if (c == '(')
            match->depth++;
        else if (c == ')' && match->depth > 0)
            match->depth--;
        else if (c != '^')
            return;
    }
}

static void
skip_blanks(Match *match)
{
    while (units_is_blank(match->scan->c[match->pos]))
        match->pos++;
}

static gboolean
match_stroke(Match *match)
{
    const gunichar *c = match->scan->c;
    skip_blanks(match);
    skip_brackets(match);
    skip_blanks(match);
    if (c[match->pos] == '/')
        match->pos++;
    else if (c[match->pos] == 'p' && c[match->pos + 1] == 'e' && c[match->pos + 2] == 'r' &&
             units_is_blank(c[match->pos + 3]))
        match->pos += 4;
    else
        return FALSE;
    match->past = TRUE;
    skip_blanks(match);
    return TRUE;
}

static gboolean
match_one(Match *match, gunichar wanted)
{
    if (wanted == '/')
        return match_stroke(match);
    skip_brackets(match);
    if (wanted == ' ') {
        if (!units_is_blank(match->scan->c[match->pos]))
            return FALSE;
        skip_blanks(match);
        return TRUE;
    }
    if (match->past)
        skip_blanks(match);
    skip_brackets(match);
    gunichar c = match->scan->c[match->pos];
    if (c != wanted && !(match->loose && c && g_unichar_toupper(wanted) == c))
        return FALSE;
    match->pos++;
    return TRUE;
}

// A unit ends where no letter, digit of a power or stroke goes on.
static gboolean
ends_well(const UnitsScan *scan, guint pos)
{
    gunichar c = scan->c[pos];
    gunichar before = scan->c[pos - 1];
    if (g_unichar_isalpha(c) || c == '/' || c == '^' || c == '(' || c == ')' || c == 0x00B0)
        return FALSE;
    return !(units_is_digit(before) && units_is_digit(c));
}

static guint
match_spelling(const UnitsScan *scan, const char *spelling, gsize length, gboolean loose)
{
    Match match = {.scan = scan, .pos = scan->pos, .loose = loose};
    for (const char *p = spelling; p < spelling + length; p = g_utf8_next_char(p))
        if (!match_one(&match, g_utf8_get_char(p)))
            return 0;
    while (match.depth > 0 && scan->c[match.pos] == ')') {
        match.depth--;
        match.pos++;
    }
    if (match.depth != 0 || !ends_well(scan, match.pos))
        return 0;
    return match.pos;
}

static const Unit *
find_longest(const UnitsScan *scan, QuantityKind kind, gboolean loose, guint *end)
{
    guint count;
    const Unit *table = units_table(&count);
    const Unit *best = NULL;
    for (guint i = 0; i < count; i++) {
        if (table[i].kind != kind)
            continue;
        for (const char *p = table[i].spellings; *p;) {
            gsize length = strcspn(p, "|");
            guint stop = match_spelling(scan, p, length, loose);
            if (stop && (!best || stop > *end)) {
                best = &table[i];
                *end = stop;
            }
            p += length + (p[length] == '|');
        }
    }
    return best;
}

const Unit *
units_scan_unit(const UnitsScan *scan, QuantityKind kind, guint *end)
{
    guint stop = 0;
    const Unit *unit = find_longest(scan, kind, FALSE, &stop);
    if (!unit)
        unit = find_longest(scan, kind, TRUE, &stop);
    if (unit)
        *end = stop;
    return unit;
}

// Signs, and the three-letter codes (ISO 4217) of the currencies that commonly use them.
static const struct {
    gunichar sign;
    const char *codes;
} signs[] = {
    {0x20AC, "EUR"}, {'$', "USD CAD AUD NZD SGD HKD MXN"},
    {0x00A3, "GBP"}, {0x00A5, "JPY CNY"},
    {0x20B9, "INR"}, {0x20BA, "TRY"},
    {0x20A9, "KRW"}, {0x20BD, "RUB"},
    {0x20B4, "UAH"},
};

static guint
match_currency(const UnitsScan *scan, const char *currency)
{
    guint pos = scan->pos;
    for (const char *p = currency; *p; p = g_utf8_next_char(p), pos++)
        if (g_unichar_toupper(scan->c[pos]) != g_unichar_toupper(g_utf8_get_char(p)))
            return 0;
    return *currency && !g_unichar_isalpha(scan->c[pos]) ? pos : 0;
}

// Three capitals, which is how codes look.
static gboolean
looks_like_code(const UnitsScan *scan)
{
    const gunichar *c = scan->c + scan->pos;
    for (guint i = 0; i < 3; i++)
        if (c[i] < 'A' || c[i] > 'Z')
            return FALSE;
    return !g_unichar_isalpha(c[3]);
}

gboolean
units_scan_currency(UnitsScan *scan, const UnitSet *set, GError **error)
{
    g_autofree char *own = g_utf8_make_valid(set->currency, -1);
    guint end = match_currency(scan, own);
    gunichar c = scan->c[scan->pos];
    gboolean other = FALSE;
    if (!end && looks_like_code(scan)) {
        other = *own != '\0';
        end = scan->pos + 3;
    }
    for (guint i = 0; !end && i < G_N_ELEMENTS(signs); i++)
        if (c == signs[i].sign) {
            other = *own != '\0' && !strstr(signs[i].codes, own);
            end = scan->pos + 1;
        }
    if (other)
        return units_refuse(scan, scan->pos, _("change the sum into the book's currency"), error,
                            _("this book reckons in %s"), own);
    if (end) {
        scan->pos = end;
        units_skip_blanks(scan);
    }
    return TRUE;
}
