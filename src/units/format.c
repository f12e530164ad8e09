// SPDX-License-Identifier: GPL-3.0-or-later
// SI into text: rounded for reading, or exact for going back into an entry. No locale is asked: the
// decimal mark is the shop's.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#include "units/unit-table.h"

#define MINUS "\u2212"

static void
set_mark(char *number, const UnitSet *units)
{
    char *point = strchr(number, '.');
    if (point && units->decimal_comma)
        *point = ',';
}

static void
strip_zeros(char *number, int least)
{
    char *point = strchr(number, '.');
    if (!point)
        return;
    char *end = number + strlen(number);
    while (end > point + 1 + least && end[-1] == '0')
        end--;
    if (end == point + 1)
        end = point;
    *end = '\0';
}

// |value| with so many significant figures: digits before the mark are never rounded away.
static char *
print_rounded(double value, const UnitsRung *rung, const UnitSet *units)
{
    char text[64], format[16];
    g_snprintf(format, sizeof format, "%%.%de", rung->figures - 1);
    g_ascii_formatd(text, sizeof text, format, value);
    int power = atoi(strchr(text, 'e') + 1);
    gboolean wide = value != 0.0 && (power >= 9 || (power < -7 && rung->most >= 9));
    if (wide) {
        g_ascii_formatd(text, sizeof text, "%.2e", value);
        text[4] = '\0';
        g_autofree char *head = g_strdup(text);
        g_snprintf(text, sizeof text, "%se%d", head, power);
    } else {
        int decimals = CLAMP(rung->figures - 1 - power, 0, rung->most);
        if (value == 0.0)
            decimals = 0;
        decimals = MAX(decimals, rung->least);
        g_snprintf(format, sizeof format, "%%.%df", decimals);
        g_ascii_formatd(text, sizeof text, format, value);
        if (rung->least != UNITS_KEEP_ZEROS)
            strip_zeros(text, rung->least);
    }
    set_mark(text, units);
    return g_strdup(text);
}

static gboolean
is_money(QuantityKind kind)
{
    return kind >= QUANTITY_MONEY && kind <= QUANTITY_MONEY_PER_VOLUME;
}

// "EUR/h": the shop's currency in front of what it is per.
static char *
print_unit(QuantityKind kind, const char *shown, const UnitSet *units)
{
    if (!is_money(kind))
        return g_strdup(shown);
    g_autofree char *currency = g_utf8_make_valid(units->currency, -1);
    return g_strconcat(currency, shown, NULL);
}

// Seconds below ten minutes, minutes above: nobody pours by the second of the second hour.
static void
print_time(double seconds, char **number, char **unit)
{
    double whole = round(seconds);
    double minutes = floor(whole / 60.0);
    double rest = whole - minutes * 60.0;
    if (whole < 600.0) {
        *unit = g_strdup(rest > 0.0 ? "s" : "min");
        *number = rest > 0.0 ? g_strdup_printf("%.0f min %.0f", minutes, rest)
                             : g_strdup_printf("%.0f", minutes);
        return;
    }
    minutes = round(seconds / 60.0);
    double hours = floor(minutes / 60.0);
    rest = minutes - hours * 60.0;
    if (hours >= 100.0) {
        *unit = g_strdup("h");
        *number = g_strdup_printf("%.0f", round(seconds / 3600.0));
    } else if (hours == 0.0) {
        *unit = g_strdup("min");
        *number = g_strdup_printf("%.0f", minutes);
    } else {
        *unit = g_strdup(rest > 0.0 ? "min" : "h");
        *number = rest > 0.0 ? g_strdup_printf("%.0f h %.0f", hours, rest)
                             : g_strdup_printf("%.0f", hours);
    }
}

static gboolean
is_nothing(const char *number)
{
    return strspn(number, "0.,") == strlen(number);
}

void
quantity_format_parts(QuantityKind kind, double si, const UnitSet *units, char **number,
                      char **unit)
{
    g_return_if_fail((guint)kind < QUANTITY_KINDS && units && number && unit);
    const UnitsRung *rung = units_rung_for(kind, si, units);
    if (!rung || isnan(si)) {
        *number = g_strdup(rung ? _("unknown") : "");
        *unit = g_strdup("");
        return;
    }
    g_autofree char *text = NULL;
    const Unit *shown = units_find(kind, rung->shown);
    // A temperature's sign is that of its number: 20 °F is above nothing but below 0 °C.
    double value = units_from_si(shown, si);
    if (kind == QUANTITY_TIME && rung->from > 0.0 && fabs(si) < 1e12) {
        print_time(fabs(si), &text, unit);
    } else {
        text = isinf(si) ? g_strdup("∞") : print_rounded(fabs(value), rung, units);
        *unit = print_unit(kind, rung->shown, units);
    }
    // What rounds to nothing is nothing, in the unit nothing has: "0 mm", not "0 µm".
    if (is_nothing(text) && si != 0.0 && kind != QUANTITY_TEMPERATURE) {
        g_free(*unit);
        quantity_format_parts(kind, 0.0, units, number, unit);
        return;
    }
    *number = g_strconcat(value < 0.0 && !is_nothing(text) ? MINUS : "", text, NULL);
}

char *
quantity_format(QuantityKind kind, double si, const UnitSet *units)
{
    g_autofree char *number = NULL;
    g_autofree char *unit = NULL;
    g_return_val_if_fail((guint)kind < QUANTITY_KINDS && units, NULL);
    quantity_format_parts(kind, si, units, &number, &unit);
    const char *between = *unit == '\0' || strcmp(unit, "°") == 0 ? "" : " ";
    return g_strconcat(number, between, unit, NULL);
}
