// SPDX-License-Identifier: GPL-3.0-or-later
// The shortest text in a shop's unit that quantity_parse reads back as the same double.
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "units/unit-table.h"

// A comma with exactly three digits behind it is refused on reading, since it could part thousands:
// one more 0 makes it plain.
static void
use_comma(GString *text)
{
    char *point = strchr(text->str, '.');
    if (!point)
        return;
    *point = ',';
    char *end = point + 1;
    while (g_ascii_isdigit(*end))
        end++;
    if (end - point == 4)
        g_string_insert_c(text, end - text->str, '0');
}

static char *
print_text(double value, int figures, const char *shown, const UnitSet *units)
{
    char format[16], number[64];
    g_snprintf(format, sizeof format, "%%.%de", figures - 1);
    g_ascii_formatd(number, sizeof number, format, value);
    int power = atoi(strchr(number, 'e') + 1);
    if (power >= -7 && power < 16) {
        g_snprintf(format, sizeof format, "%%.%df", MAX(figures - 1 - power, 0));
        g_ascii_formatd(number, sizeof number, format, value);
    }
    g_autoptr(GString) text = g_string_new(number);
    if (units->decimal_comma)
        use_comma(text);
    if (*shown)
        g_string_append_printf(text, "%s%s", strcmp(shown, "°") == 0 ? "" : " ", shown);
    return g_string_free(g_steal_pointer(&text), FALSE);
}

static gboolean
reads_back(const char *text, QuantityKind kind, double si, const UnitSet *units, gboolean exact)
{
    double back;
    if (!quantity_parse(kind, text, units, &back, NULL))
        return FALSE;
    return back == si ||
           (!exact && (back == nextafter(si, HUGE_VAL) || back == nextafter(si, -HUGE_VAL)));
}

// The shortest text in this unit that reads back, or NULL. Division may miss by a last place, so
// the neighbours of the quotient are tried too.
static char *
try_unit(QuantityKind kind, double si, const UnitSet *units, const char *shown, gboolean exact)
{
    double value = units_from_si(units_find(kind, shown), si);
    const double near[] = {value, nextafter(value, HUGE_VAL), nextafter(value, -HUGE_VAL)};
    for (guint i = 0; i < G_N_ELEMENTS(near); i++) {
        for (int figures = 1; figures <= 17; figures++) {
            g_autofree char *text = print_text(near[i], figures, shown, units);
            if (reads_back(text, kind, si, units, exact))
                return g_steal_pointer(&text);
        }
    }
    return NULL;
}

// The unit with factor 1, in which every double can be written.
static const char *
find_plain(QuantityKind kind)
{
    guint count;
    const Unit *table = units_table(&count);
    for (guint i = 0; i < count; i++)
        if (table[i].kind == kind && table[i].mul == 1 && table[i].div == 1 && table[i].offset == 0)
            return table[i].shown;
    return "";
}

char *
quantity_format_exact(QuantityKind kind, double si, const UnitSet *units)
{
    g_return_val_if_fail((guint)kind < QUANTITY_KINDS && units, NULL);
    const UnitsRung *own = units_rung_for(kind, si, units);
    if (!own || !isfinite(si))
        return g_strdup("");
    guint count;
    const UnitsRung *rungs = units_rungs(&count);
    g_autofree char *best = try_unit(kind, si, units, own->shown, TRUE);
    if (!best)
        best = try_unit(kind, si, units, own->shown, FALSE);
    // Another rung may be much rounder: 95 min rather than 1.5833333333333333 h.
    for (guint i = count; i-- > 0;) {
        if (&rungs[i] == own || !units_rung_applies(&rungs[i], kind, units))
            continue;
        g_autofree char *other = try_unit(kind, si, units, rungs[i].shown, TRUE);
        if (other && (!best || strlen(other) + 3 <= strlen(best))) {
            g_free(best);
            best = g_steal_pointer(&other);
        }
    }
    if (!best)
        best = print_text(si, 17, find_plain(kind), units);
    return g_steal_pointer(&best);
}
