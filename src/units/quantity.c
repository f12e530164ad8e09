// SPDX-License-Identifier: GPL-3.0-or-later
// What a kind is called in SI and in a shop, and the shop nobody has set up yet.
#include "units/quantity.h"

#include "units/unit-table.h"

UnitSet
unit_set_default(void)
{
    return (UnitSet){0};
}

const char *
quantity_si_unit(QuantityKind kind)
{
    return units_kind(kind)->si;
}

const char *
quantity_shop_unit(QuantityKind kind, const UnitSet *units)
{
    g_return_val_if_fail(units, "");
    const UnitsRung *rung = units_rung_bare(kind, units);
    if (!rung)
        return "";
    if (kind < QUANTITY_MONEY || kind > QUANTITY_MONEY_PER_VOLUME)
        return rung->shown;
    g_autofree char *currency = g_utf8_make_valid(units->currency, -1);
    g_autofree char *unit = g_strconcat(currency, rung->shown, NULL);
    return g_intern_string(unit);
}
