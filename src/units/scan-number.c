// SPDX-License-Identifier: GPL-3.0-or-later
// Numbers as people type them: decimal point or comma, groups of three, 3/4, 1 3/4, 1-3/4, 1e3.
// A text means the same on every machine and in every shop: a single point is always a decimal
// mark; a single comma is one too unless it could as well part thousands ("1,234"): that is
// refused. A cleaned copy goes through g_ascii_strtod, which rounds exactly and knows no locale.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "units/scan.h"

typedef struct {
    guint start, end;              // of the digits and marks
    guint points, commas, glue;    // how many of each
    guint first_mark, second_mark; // positions
    guint last_mark;
} Run;

static gboolean
digits_at(const UnitsScan *scan, guint pos, guint count)
{
    for (guint i = 0; i < count; i++)
        if (!units_is_digit(scan->c[pos + i]))
            return FALSE;
    return TRUE;
}

// A space glues digits when exactly three follow, and they are not the top of a fraction.
static gboolean
glue_joins(const UnitsScan *scan, guint pos)
{
    if (scan->c[pos] != UNITS_GLUE || !digits_at(scan, pos + 1, 3))
        return FALSE;
    gunichar after = scan->c[pos + 4];
    return !units_is_digit(after) && after != '/';
}

static gboolean
take_run(UnitsScan *scan, Run *run, GError **error)
{
    *run = (Run){.start = scan->pos};
    guint pos = scan->pos;
    for (;; pos++) {
        gunichar c = scan->c[pos];
        if (units_is_digit(c))
            continue;
        if (c == UNITS_GLUE && pos > run->start && glue_joins(scan, pos)) {
            run->glue++;
            continue;
        }
        if (c != '.' && c != ',')
            break;
        if (!units_is_digit(scan->c[pos + 1]))
            return units_refuse(scan, pos, _("write a digit after it, or leave it out"), error,
                                _("a decimal mark without a digit after it"));
        guint marks = run->points + run->commas;
        if (marks == 0)
            run->first_mark = pos;
        if (marks == 1)
            run->second_mark = pos;
        run->last_mark = pos;
        if (c == '.')
            run->points++;
        else
            run->commas++;
    }
    run->end = pos;
    return TRUE;
}

// 1 to 3 digits, not beginning with 0, then groups of exactly three up to `end`.
static gboolean
are_thousands(const UnitsScan *scan, guint start, guint end, gunichar mark)
{
    if (scan->c[start] == '0')
        return FALSE;
    guint length = 0;
    gboolean first = TRUE;
    for (guint pos = start; pos <= end; pos++) {
        if (pos < end && units_is_digit(scan->c[pos])) {
            length++;
            continue;
        }
        if (pos < end && scan->c[pos] != mark)
            return FALSE;
        if (first ? length < 1 || length > 3 : length != 3)
            return FALSE;
        first = FALSE;
        length = 0;
    }
    return TRUE;
}

// Finds the decimal mark of a run: its position, or run->end for a whole number.
static gboolean
find_decimal(const UnitsScan *scan, const Run *run, guint *decimal, GError **error)
{
    const char *remedy = _("leave out what parts thousands");
    guint marks = run->points + run->commas;
    *decimal = run->end;
    if (run->glue > 0) {
        guint whole_end = marks ? run->first_mark : run->end;
        if (marks > 1)
            return units_refuse(scan, run->second_mark, remedy, error,
                                _("a second mark in one number"));
        if (!are_thousands(scan, run->start, whole_end, UNITS_GLUE))
            return units_refuse(scan, run->start, remedy, error,
                                _("these digits are not in groups of three"));
        *decimal = whole_end;
        return TRUE;
    }
    if (marks == 0)
        return TRUE;
    if (run->points > 0 && run->commas > 0) {
        gunichar last = scan->c[run->last_mark];
        gunichar other = last == '.' ? ',' : '.';
        if ((last == '.' ? run->points : run->commas) > 1 ||
            !are_thousands(scan, run->start, run->last_mark, other))
            return units_refuse(scan, run->second_mark, remedy, error,
                                _("a second mark in one number"));
        *decimal = run->last_mark;
        return TRUE;
    }
    if (marks > 1) {
        if (are_thousands(scan, run->start, run->end, scan->c[run->first_mark]))
            return TRUE;
        return units_refuse(scan, run->second_mark, remedy, error,
                            _("a second mark in one number"));
    }
    if (run->commas == 1 && are_thousands(scan, run->start, run->end, ','))
        return units_refuse(scan, run->first_mark,
                            _("write a point for decimals, or leave out what parts thousands"),
                            error, _("this comma could mark decimals or part thousands"));
    *decimal = run->first_mark;
    return TRUE;
}

static gboolean
take_exponent(UnitsScan *scan, GString *clean)
{
    guint pos = scan->pos;
    if (scan->c[pos] != 'e' && scan->c[pos] != 'E')
        return FALSE;
    guint digits = pos + 1;
    if (scan->c[digits] == '+' || scan->c[digits] == '-')
        digits++;
    if (!units_is_digit(scan->c[digits]))
        return FALSE;
    g_string_append_c(clean, 'e');
    if (scan->c[pos + 1] == '-')
        g_string_append_c(clean, '-');
    for (pos = digits; units_is_digit(scan->c[pos]); pos++)
        g_string_append_c(clean, (char)scan->c[pos]);
    scan->pos = pos;
    return TRUE;
}

// Takes one decimal number. *whole: neither a mark nor an exponent, so a fraction may follow.
static gboolean
take_decimal(UnitsScan *scan, double *value, gboolean *whole, GError **error)
{
    Run run;
    guint decimal;
    if (!take_run(scan, &run, error) || !find_decimal(scan, &run, &decimal, error))
        return FALSE;
    g_autoptr(GString) clean = g_string_new(NULL);
    gboolean zero = TRUE;
    for (guint pos = run.start; pos < run.end; pos++) {
        gunichar c = scan->c[pos];
        if (pos == decimal)
            g_string_append(clean, clean->len ? "." : "0.");
        else if (units_is_digit(c))
            g_string_append_c(clean, (char)c);
        if (c >= '1' && c <= '9')
            zero = FALSE;
    }
    scan->pos = run.end;
    gboolean exponent = take_exponent(scan, clean);
    double number = g_ascii_strtod(clean->str, NULL);
    if (!isfinite(number) || fabs(number) > 1e200)
        return units_refuse(scan, run.start, NULL, error, _("this number is too big"));
    if (!zero && fabs(number) < 1e-200)
        return units_refuse(scan, run.start, NULL, error, _("this number is too small"));
    *whole = decimal == run.end && !exponent;
    *value = number;
    return TRUE;
}

// Position of the slash if a fraction's "digits /digits" stands at pos, else 0.
static guint
find_slash(const UnitsScan *scan, guint pos)
{
    if (!units_is_digit(scan->c[pos]))
        return 0;
    while (units_is_digit(scan->c[pos]))
        pos++;
    while (units_is_blank(scan->c[pos]))
        pos++;
    if (scan->c[pos] != '/')
        return 0;
    guint slash = pos++;
    while (units_is_blank(scan->c[pos]))
        pos++;
    return units_is_digit(scan->c[pos]) ? slash : 0;
}

static double
take_digits(UnitsScan *scan)
{
    double value = 0.0;
    for (; units_is_digit(scan->c[scan->pos]); scan->pos++)
        value = value * 10.0 + (double)(scan->c[scan->pos] - '0');
    return value;
}

// Takes "/digits" after the top of a fraction.
static gboolean
take_bottom(UnitsScan *scan, double *bottom, GError **error)
{
    units_skip_blanks(scan);
    scan->pos++;
    units_skip_blanks(scan);
    guint start = scan->pos;
    *bottom = take_digits(scan);
    if (*bottom == 0.0)
        return units_refuse(scan, start, NULL, error, _("a fraction cannot be over 0"));
    if (*bottom > 1e9)
        return units_refuse(scan, start, NULL, error, _("this fraction is too fine"));
    return TRUE;
}

static gboolean
take_mixed(UnitsScan *scan, guint start, double *value, GError **error)
{
    double bottom;
    scan->pos = start;
    double top = take_digits(scan);
    if (!take_bottom(scan, &bottom, error))
        return FALSE;
    if (top >= bottom)
        return units_refuse(scan, start, NULL, error,
                            _("the fraction after a whole number must be less than 1"));
    *value = (*value * bottom + top) / bottom; // rounds once for any sensible size
    return TRUE;
}

gboolean
units_scan_number(UnitsScan *scan, double *value, GError **error)
{
    gunichar c = scan->c[scan->pos];
    if (!units_is_digit(c) && c != '.' && c != ',') {
        if (c == 0)
            return units_refuse(scan, scan->pos, NULL, error, _("a number is missing"));
        g_autofree char *word = units_word(scan, scan->pos);
        return units_refuse(scan, scan->pos, NULL, error, _("\"%s\" stands where a number should"),
                            word);
    }
    double number = 0.0, bottom;
    gboolean whole = FALSE;
    guint start = scan->pos;
    if (!take_decimal(scan, &number, &whole, error))
        return FALSE;
    guint after = scan->pos;
    if (whole && find_slash(scan, start) >= after) {
        if (!take_bottom(scan, &bottom, error))
            return FALSE;
        number /= bottom;
    } else if (whole) {
        gboolean hyphen = scan->c[after] == '-';
        guint top = after + (hyphen ? 1 : 0);
        while (!hyphen && units_is_blank(scan->c[top]))
            top++;
        if (top > after && find_slash(scan, top) && !take_mixed(scan, top, &number, error))
            return FALSE;
    }
    if (scan->c[scan->pos] == '-' && units_is_digit(scan->c[scan->pos + 1]))
        return units_refuse(scan, scan->pos, _("write one value"), error,
                            _("a range or a subtraction is not read here"));
    *value = number;
    return TRUE;
}
