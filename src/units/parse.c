// SPDX-License-Identifier: GPL-3.0-or-later
// Text into SI: [sign] part {[+] part}, a part being a number and a unit. Several parts are for
// lengths, masses, times and angles ("2 ft 3 1/2 in", "2 lb 3 oz", "1 h 20 min"); a time may also
// be 1:20. Whatever could be meant in two ways is refused at its place rather than guessed.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "units/scan.h"

typedef struct {
    UnitsScan scan;
    const UnitSet *set;
    double sign;
    double total;
    double top, bottom; // parts that share a divisor are added before dividing: one rounding
    const Unit *last;   // of the part before
    gboolean plus;      // a plus sign stands before this part
} Parse;

static gboolean
is_money(QuantityKind kind)
{
    return kind >= QUANTITY_MONEY && kind <= QUANTITY_MONEY_PER_VOLUME;
}

static gboolean
takes_parts(QuantityKind kind)
{
    return kind == QUANTITY_LENGTH || kind == QUANTITY_MASS || kind == QUANTITY_TIME ||
           kind == QUANTITY_ANGLE;
}

// "m2" begins with a length too, but a unit of another kind that takes the whole word was meant.
static gboolean
belongs_elsewhere(const UnitsScan *scan, guint end)
{
    if (!units_is_digit(scan->c[end]))
        return FALSE;
    for (int kind = 0; kind < QUANTITY_KINDS; kind++) {
        guint stop;
        if (units_scan_unit(scan, kind, &stop) && stop > end &&
            (scan->c[stop] == 0 || units_is_blank(scan->c[stop])))
            return TRUE;
    }
    return FALSE;
}

static gboolean
refuse_unit(const UnitsScan *scan, GError **error)
{
    g_autofree char *word = units_word(scan, scan->pos);
    for (int kind = 0; kind < QUANTITY_KINDS; kind++) {
        guint stop;
        if (kind == (int)scan->kind || !units_scan_unit(scan, kind, &stop))
            continue;
        if (scan->c[stop] == 0 || units_is_blank(scan->c[stop]))
            return units_refuse(scan, scan->pos, NULL, error, _("\"%s\" makes it %s, not %s"), word,
                                _(units_kind(kind)->name), _(units_kind(scan->kind)->name));
    }
    return units_refuse(scan, scan->pos, NULL, error, _("\"%s\" is not a unit for %s"), word,
                        _(units_kind(scan->kind)->name));
}

// What a number without a unit means here.
static const Unit *
find_bare(Parse *parse, guint number_at, double value, GError **error)
{
    UnitsScan *scan = &parse->scan;
    if (parse->last) {
        const Unit *next = parse->last->next ? units_find(scan->kind, parse->last->next) : NULL;
        if (!next || parse->plus)
            units_refuse(scan, number_at, NULL, error, _("this number lacks a unit"));
        return parse->plus ? NULL : next;
    }
    if (scan->c[scan->pos] != 0) {
        if (units_is_digit(scan->c[scan->pos]))
            units_refuse(scan, scan->pos, NULL, error, _("a second number without a unit between"));
        else
            refuse_unit(scan, error);
        return NULL;
    }
    // 12 for 12 % would be 1200 %, and 1 could be either.
    if (scan->kind == QUANTITY_RATIO && value >= 1.0) {
        units_refuse(scan, scan->pos, _("write % after it, or a share below 1"), error,
                     _("it is unclear whether this is a percentage"));
        return NULL;
    }
    if (scan->kind == QUANTITY_RATIO)
        return units_find(scan->kind, "");
    return units_find(scan->kind, units_rung_bare(scan->kind, parse->set)->shown);
}

static gboolean
take_unit(Parse *parse, guint number_at, double value, const Unit **unit, GError **error)
{
    UnitsScan *scan = &parse->scan;
    guint end = 0;
    units_skip_blanks(scan);
    if (is_money(scan->kind) && !units_scan_currency(scan, parse->set, error))
        return FALSE;
    const Unit *found = units_scan_unit(scan, scan->kind, &end);
    if (found && !belongs_elsewhere(scan, end))
        scan->pos = end;
    else if (found)
        return refuse_unit(scan, error);
    else if (!(found = find_bare(parse, number_at, value, error)))
        return FALSE;
    *unit = found;
    return TRUE;
}

// Without a plus sign the parts get smaller, and each is less than one of the unit before it.
static gboolean
check_order(const Parse *parse, guint number_at, double value, const Unit *unit, GError **error)
{
    if (!parse->last || parse->plus)
        return TRUE;
    double before = units_to_si(parse->last, 1.0);
    if (units_to_si(unit, 1.0) >= before)
        return units_refuse(&parse->scan, number_at, _("put + between values that add up"), error,
                            _("%s after %s"), unit->shown, parse->last->shown);
    if (units_to_si(unit, value) >= before * (1.0 - 1e-12))
        return units_refuse(&parse->scan, number_at, _("put + between values that add up"), error,
                            _("this is as much as 1 %s or more"), parse->last->shown);
    return TRUE;
}

static gboolean
take_part(Parse *parse, GError **error)
{
    UnitsScan *scan = &parse->scan;
    double value = 0.0;
    const Unit *unit = NULL;
    if (is_money(scan->kind) && !units_scan_currency(scan, parse->set, error))
        return FALSE;
    guint number_at = scan->pos;
    if (!units_scan_number(scan, &value, error) ||
        !take_unit(parse, number_at, value, &unit, error) ||
        !check_order(parse, number_at, value, unit, error))
        return FALSE;
    if (!parse->last)
        parse->bottom = unit->div;
    if (unit->div == parse->bottom)
        parse->top += (parse->sign * value + unit->offset) * unit->mul;
    else
        parse->total += units_to_si(unit, parse->sign * value);
    parse->last = unit;
    return TRUE;
}

static gboolean
take_parts(Parse *parse, GError **error)
{
    UnitsScan *scan = &parse->scan;
    for (;;) {
        if (!take_part(parse, error))
            return FALSE;
        units_skip_blanks(scan);
        if (scan->c[scan->pos] == 0)
            return TRUE;
        if (!takes_parts(scan->kind)) {
            g_autofree char *word = units_word(scan, scan->pos);
            return units_refuse(scan, scan->pos, NULL, error, _("\"%s\" is left over"), word);
        }
        parse->plus = scan->c[scan->pos] == '+';
        if (parse->plus) {
            scan->pos++;
            units_skip_blanks(scan);
        } else if (scan->c[scan->pos] == '-' && units_is_digit(scan->c[scan->pos + 1])) {
            scan->pos++; // 2'-3 1/2", as drawings have it
        }
    }
}

// 1:20 or 1:20:30. *taken tells whether the text is of this form at all.
static gboolean
take_clock(Parse *parse, gboolean *taken, GError **error)
{
    UnitsScan *scan = &parse->scan;
    guint pos = scan->pos;
    while (units_is_digit(scan->c[pos]))
        pos++;
    *taken = pos > scan->pos && scan->c[pos] == ':';
    if (!*taken)
        return TRUE;
    double hours;
    guint end = pos;
    if (!units_scan_number(scan, &hours, error))
        return FALSE;
    parse->total = hours * 3600.0;
    for (double step = 60.0; step >= 1.0 && scan->c[end] == ':'; step /= 60.0, end += 3) {
        const gunichar *c = scan->c + end + 1;
        if (!units_is_digit(c[0]) || !units_is_digit(c[1]) || units_is_digit(c[2]) || c[0] > '5')
            return units_refuse(scan, c[0] ? end + 1 : end, NULL, error,
                                _("after a colon come two digits from 00 to 59"));
        parse->total += step * (double)((c[0] - '0') * 10 + (c[1] - '0'));
    }
    parse->total *= parse->sign;
    scan->pos = end;
    units_skip_blanks(scan);
    if (scan->c[scan->pos] == 'h' && scan->c[scan->pos + 1] == 0)
        scan->pos++;
    if (scan->c[scan->pos] == 0)
        return TRUE;
    g_autofree char *word = units_word(scan, scan->pos);
    return units_refuse(scan, scan->pos, NULL, error, _("\"%s\" is left over"), word);
}

static gboolean
check_total(const Parse *parse, guint start, GError **error)
{
    const UnitsScan *scan = &parse->scan;
    if (!isfinite(parse->total))
        return units_refuse(scan, start, NULL, error, _("this value is too big"));
    if (scan->kind != QUANTITY_COUNT)
        return TRUE;
    if (parse->total != floor(parse->total) || parse->total < 0.0)
        return units_refuse(scan, start, NULL, error, _("this is not a whole number, 0 or more"));
    if (parse->total > 1e15)
        return units_refuse(scan, start, NULL, error, _("this value is too big"));
    return TRUE;
}

static gboolean
parse_text(Parse *parse, GError **error)
{
    UnitsScan *scan = &parse->scan;
    units_skip_blanks(scan);
    guint start = scan->pos;
    if (scan->c[start] == 0)
        return units_refuse(scan, start, NULL, error, _("nothing is written"));
    if (scan->c[start] == '-' || scan->c[start] == '+') {
        parse->sign = scan->c[start] == '-' ? -1.0 : 1.0;
        scan->pos++;
        units_skip_blanks(scan);
    }
    gboolean taken = FALSE;
    if (scan->kind == QUANTITY_TIME && !take_clock(parse, &taken, error))
        return FALSE;
    if (!taken && !take_parts(parse, error))
        return FALSE;
    parse->total += parse->top / parse->bottom;
    return check_total(parse, start, error);
}

gboolean
quantity_parse(QuantityKind kind, const char *text, const UnitSet *units, double *si,
               GError **error)
{
    g_return_val_if_fail((guint)kind < QUANTITY_KINDS && text && units && si, FALSE);
    if (kind == QUANTITY_TEXT || kind == QUANTITY_DATE)
        return base_error_set(error, BASE_ERROR_VALUE, NULL, NULL, _("this is not a number"), NULL);
    Parse parse = {.set = units, .sign = 1.0, .bottom = 1.0};
    if (!units_scan_start(&parse.scan, kind, text, error) || !parse_text(&parse, error))
        return FALSE;
    *si = parse.total == 0.0 ? 0.0 : parse.total; // -0 and 0 are one
    return TRUE;
}
