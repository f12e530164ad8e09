// SPDX-License-Identifier: GPL-3.0-or-later
// In which unit and with how many figures a shop shows a quantity, by size; and the words for each
// kind. Thresholds lie half a last digit below the round value: 999.6 g rounds to 1.00 kg.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "units/unit-table.h"

#define COUNT_OF(array) ((guint)G_N_ELEMENTS(array))
#define KEEP UNITS_KEEP_ZEROS

// clang-format off
static const UnitsKind kinds[QUANTITY_KINDS] = {
    [QUANTITY_NUMBER] = {"1", N_("a number"), "1.5"},
    [QUANTITY_COUNT] = {"1", N_("a whole number"), "12"},
    [QUANTITY_RATIO] = {"1", N_("a share"), "1.3 %"},
    [QUANTITY_LENGTH] = {"m", N_("a length"), "12.5 mm"},
    [QUANTITY_AREA] = {"m2", N_("an area"), "250 mm²"},
    [QUANTITY_VOLUME] = {"m3", N_("a volume"), "128 cm³"},
    [QUANTITY_MASS] = {"kg", N_("a mass"), "1.3 kg"},
    [QUANTITY_DENSITY] = {"kg/m3", N_("a density"), "2680 kg/m³"},
    [QUANTITY_TEMPERATURE] = {"degC", N_("a temperature"), "720 °C"},
    [QUANTITY_TEMPERATURE_DIFFERENCE] = {"K", N_("a temperature difference"), "60 K"},
    [QUANTITY_ANGLE] = {"rad", N_("an angle"), "1.5 deg"},
    [QUANTITY_TIME] = {"s", N_("a time"), "1 h 20 min"},
    [QUANTITY_VELOCITY] = {"m/s", N_("a velocity"), "0.5 m/s"},
    [QUANTITY_FLOW] = {"m3/s", N_("a flow"), "120 cm³/s"},
    [QUANTITY_FORCE] = {"N", N_("a force"), "250 N"},
    [QUANTITY_ENERGY] = {"J", N_("an energy"), "4.5 kWh"},
    [QUANTITY_POWER] = {"W", N_("a power"), "3 kW"},
    [QUANTITY_HEAT_CONTENT] = {"J/kg", N_("a heat content"), "389 kJ/kg"},
    [QUANTITY_SPECIFIC_HEAT] = {"J/(kg K)", N_("a specific heat"), "963 J/(kg·K)"},
    [QUANTITY_CONDUCTIVITY] = {"W/(m K)", N_("a conductivity"), "0.7 W/(m·K)"},
    [QUANTITY_CHVORINOV] = {"s/m2", N_("a mould constant"), "2.2 min/cm²"},
    [QUANTITY_NIYAMA] = {"K^0.5 s^0.5/m", N_("a Niyama number"), "0.8 √(K·s)/mm"},
    [QUANTITY_RATE] = {"1/s", N_("a rate"), "0.5 /s"},
    [QUANTITY_HEATING_RATE] = {"K/s", N_("a heating rate"), "8 K/min"},
    [QUANTITY_MONEY] = {"currency", N_("a sum of money"), "35"},
    [QUANTITY_MONEY_PER_TIME] = {"currency/s", N_("a price for time"), "25 /h"},
    [QUANTITY_MONEY_PER_MASS] = {"currency/kg", N_("a price for mass"), "2.5 /kg"},
    [QUANTITY_MONEY_PER_ENERGY] = {"currency/J", N_("a price for energy"), "0.30 /kWh"},
    [QUANTITY_MONEY_PER_VOLUME] = {"currency/m3", N_("a price for volume"), "12 /l"},
    [QUANTITY_REMOVAL_RATE] = {"m3/s", N_("a removal rate"), "5 cm³/min"},
    [QUANTITY_TEXT] = {"", N_("words"), ""},
    [QUANTITY_DATE] = {"", N_("a date"), "2031-05-17"},
};

// Rungs of one kind and one `when` go up in `from`.
static const UnitsRung rungs[] = {
    // kind, when, from, shown, figures, least, most, bare
    {QUANTITY_NUMBER, UNITS_ALWAYS, 0, "", 4, 0, 9, TRUE},
    {QUANTITY_COUNT, UNITS_ALWAYS, 0, "", 15, 0, 0, TRUE},
    {QUANTITY_RATIO, UNITS_ALWAYS, 0, "%", 3, 0, 9, FALSE}, // bare: see parse.c
    {QUANTITY_LENGTH, UNITS_NO_INCHES, 0, "µm", 3, 0, 2, FALSE},
    {QUANTITY_LENGTH, UNITS_NO_INCHES, 0.995e-5, "mm", 4, 0, 2, TRUE},
    {QUANTITY_LENGTH, UNITS_NO_INCHES, 9.9995, "m", 4, 0, 2, FALSE},
    {QUANTITY_LENGTH, UNITS_INCHES, 0, "in", 9, 3, 3, TRUE},
    {QUANTITY_AREA, UNITS_NO_INCHES, 0, "mm²", 3, 0, 9, TRUE},
    {QUANTITY_AREA, UNITS_NO_INCHES, 0.9995e-3, "cm²", 3, KEEP, 9, FALSE},
    {QUANTITY_AREA, UNITS_NO_INCHES, 0.9995, "m²", 3, KEEP, 9, FALSE},
    {QUANTITY_AREA, UNITS_INCHES, 0, "in²", 3, KEEP, 9, TRUE},
    {QUANTITY_VOLUME, UNITS_NO_INCHES, 0, "mm³", 3, 0, 9, FALSE},
    {QUANTITY_VOLUME, UNITS_NO_INCHES, 0.9995e-7, "cm³", 3, KEEP, 9, TRUE},
    {QUANTITY_VOLUME, UNITS_NO_INCHES, 9.995e-3, "l", 3, KEEP, 9, FALSE},
    {QUANTITY_VOLUME, UNITS_INCHES, 0, "in³", 3, KEEP, 9, TRUE},
    {QUANTITY_MASS, UNITS_NO_POUNDS, 0, "mg", 3, 0, 9, FALSE},
    {QUANTITY_MASS, UNITS_NO_POUNDS, 0.9995e-4, "g", 3, KEEP, 9, FALSE},
    {QUANTITY_MASS, UNITS_NO_POUNDS, 0.9995, "kg", 3, KEEP, 9, TRUE},
    {QUANTITY_MASS, UNITS_POUNDS, 0, "oz", 3, KEEP, 9, FALSE},
    {QUANTITY_MASS, UNITS_POUNDS, 0.4521746, "lb", 3, KEEP, 9, TRUE}, // 15.95 oz
    {QUANTITY_DENSITY, UNITS_NO_POUNDS, 0, "kg/m³", 4, 0, 9, TRUE},
    {QUANTITY_DENSITY, UNITS_POUNDS, 0, "lb/in³", 3, KEEP, 9, TRUE},
    {QUANTITY_TEMPERATURE, UNITS_NO_FAHRENHEIT, 0, "°C", 3, 0, 1, TRUE},
    {QUANTITY_TEMPERATURE, UNITS_FAHRENHEIT, 0, "°F", 3, 0, 1, TRUE},
    {QUANTITY_TEMPERATURE_DIFFERENCE, UNITS_NO_FAHRENHEIT, 0, "K", 3, 0, 2, TRUE},
    {QUANTITY_TEMPERATURE_DIFFERENCE, UNITS_FAHRENHEIT, 0, "°F", 3, 0, 2, TRUE},
    {QUANTITY_ANGLE, UNITS_ALWAYS, 0, "°", 3, 0, 2, TRUE},
    {QUANTITY_TIME, UNITS_ALWAYS, 0, "s", 3, 0, 9, FALSE},
    {QUANTITY_TIME, UNITS_ALWAYS, 59.95, "min", 3, 0, 0, TRUE},
    {QUANTITY_TIME, UNITS_ALWAYS, 3570, "h", 3, 0, 0, FALSE},
    {QUANTITY_VELOCITY, UNITS_NO_INCHES, 0, "mm/s", 3, 0, 9, FALSE},
    {QUANTITY_VELOCITY, UNITS_NO_INCHES, 9.995e-3, "m/s", 3, KEEP, 9, TRUE},
    {QUANTITY_VELOCITY, UNITS_INCHES, 0, "in/s", 3, KEEP, 9, TRUE},
    {QUANTITY_FLOW, UNITS_NO_INCHES, 0, "cm³/s", 3, KEEP, 9, TRUE},
    {QUANTITY_FLOW, UNITS_NO_INCHES, 9.995e-3, "l/s", 3, KEEP, 9, FALSE},
    {QUANTITY_FLOW, UNITS_INCHES, 0, "in³/s", 3, KEEP, 9, TRUE},
    {QUANTITY_FORCE, UNITS_NO_POUNDS, 0, "N", 3, KEEP, 9, TRUE},
    {QUANTITY_FORCE, UNITS_NO_POUNDS, 999.5, "kN", 3, KEEP, 9, FALSE},
    {QUANTITY_FORCE, UNITS_POUNDS, 0, "lbf", 3, KEEP, 9, TRUE},
    {QUANTITY_ENERGY, UNITS_ALWAYS, 0, "J", 3, KEEP, 9, FALSE},
    {QUANTITY_ENERGY, UNITS_ALWAYS, 999.5, "kJ", 3, KEEP, 9, FALSE},
    {QUANTITY_ENERGY, UNITS_ALWAYS, 359820, "kWh", 3, KEEP, 9, TRUE}, // 0.09995 kWh
    {QUANTITY_POWER, UNITS_ALWAYS, 0, "W", 3, 0, 9, TRUE},
    {QUANTITY_POWER, UNITS_ALWAYS, 999.5, "kW", 3, KEEP, 9, FALSE},
    {QUANTITY_POWER, UNITS_ALWAYS, 999500, "MW", 3, KEEP, 9, FALSE},
    {QUANTITY_HEAT_CONTENT, UNITS_NO_POUNDS, 0, "kJ/kg", 3, KEEP, 9, TRUE},
    {QUANTITY_HEAT_CONTENT, UNITS_POUNDS, 0, "Btu/lb", 3, KEEP, 9, TRUE},
    {QUANTITY_SPECIFIC_HEAT, UNITS_NO_POUNDS, 0, "J/(kg·K)", 3, 0, 9, TRUE},
    {QUANTITY_SPECIFIC_HEAT, UNITS_POUNDS, 0, "Btu/(lb·°F)", 3, KEEP, 9, TRUE},
    {QUANTITY_CONDUCTIVITY, UNITS_ALWAYS, 0, "W/(m·K)", 3, 0, 9, TRUE},
    {QUANTITY_CHVORINOV, UNITS_NO_INCHES, 0, "min/cm²", 3, KEEP, 9, TRUE},
    {QUANTITY_CHVORINOV, UNITS_INCHES, 0, "min/in²", 3, KEEP, 9, TRUE},
    {QUANTITY_NIYAMA, UNITS_ALWAYS, 0, "√(K·s)/mm", 3, KEEP, 9, TRUE},
    {QUANTITY_RATE, UNITS_ALWAYS, 0, "/s", 3, 0, 9, TRUE},
    {QUANTITY_HEATING_RATE, UNITS_NO_FAHRENHEIT, 0, "K/min", 3, 0, 9, TRUE},
    {QUANTITY_HEATING_RATE, UNITS_FAHRENHEIT, 0, "°F/min", 3, 0, 9, TRUE},
    {QUANTITY_MONEY, UNITS_ALWAYS, 0, "", 3, 2, 2, TRUE},
    {QUANTITY_MONEY_PER_TIME, UNITS_ALWAYS, 0, "/h", 3, 2, 4, TRUE},
    {QUANTITY_MONEY_PER_MASS, UNITS_NO_POUNDS, 0, "/kg", 3, 2, 4, TRUE},
    {QUANTITY_MONEY_PER_MASS, UNITS_POUNDS, 0, "/lb", 3, 2, 4, TRUE},
    {QUANTITY_MONEY_PER_ENERGY, UNITS_ALWAYS, 0, "/kWh", 3, 2, 4, TRUE},
    {QUANTITY_MONEY_PER_VOLUME, UNITS_NO_INCHES, 0, "/l", 3, 2, 4, TRUE},
    {QUANTITY_MONEY_PER_VOLUME, UNITS_INCHES, 0, "/in³", 3, 2, 4, TRUE},
    {QUANTITY_REMOVAL_RATE, UNITS_NO_INCHES, 0, "cm³/min", 3, 0, 9, TRUE},
    {QUANTITY_REMOVAL_RATE, UNITS_INCHES, 0, "in³/min", 3, KEEP, 9, TRUE},
};
// clang-format on

const UnitsKind *
units_kind(QuantityKind kind)
{
    g_return_val_if_fail((guint)kind < QUANTITY_KINDS, &kinds[QUANTITY_TEXT]);
    return &kinds[kind];
}

const UnitsRung *
units_rungs(guint *count)
{
    *count = COUNT_OF(rungs);
    return rungs;
}

gboolean
units_rung_applies(const UnitsRung *rung, QuantityKind kind, const UnitSet *set)
{
    if (rung->kind != kind)
        return FALSE;
    switch (rung->when) {
    case UNITS_INCHES:
        return set->inches;
    case UNITS_NO_INCHES:
        return !set->inches;
    case UNITS_POUNDS:
        return set->pounds;
    case UNITS_NO_POUNDS:
        return !set->pounds;
    case UNITS_FAHRENHEIT:
        return set->fahrenheit;
    case UNITS_NO_FAHRENHEIT:
        return !set->fahrenheit;
    case UNITS_ALWAYS:
        break;
    }
    return TRUE;
}

const UnitsRung *
units_rung_for(QuantityKind kind, double si, const UnitSet *set)
{
    const UnitsRung *best = si == 0.0 ? units_rung_bare(kind, set) : NULL;
    if (best)
        return best;
    for (guint i = 0; i < COUNT_OF(rungs); i++)
        if (units_rung_applies(&rungs[i], kind, set) && (!best || fabs(si) >= rungs[i].from))
            best = &rungs[i];
    return best;
}

const UnitsRung *
units_rung_bare(QuantityKind kind, const UnitSet *set)
{
    const UnitsRung *found = NULL;
    for (guint i = 0; i < COUNT_OF(rungs); i++)
        if (rungs[i].bare && units_rung_applies(&rungs[i], kind, set))
            found = &rungs[i];
    return found;
}
