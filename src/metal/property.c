// SPDX-License-Identifier: GPL-3.0-or-later
// The properties of metals, sands and crucible kinds, and the units their tables are written in.
// Ranges are wide: they catch a misplaced decimal point or a wrong unit, nothing finer.
#include "metal/property.h"

#include <glib/gi18n-lib.h>

#define METAL TABLE_METALS
#define SAND TABLE_SANDS
#define KIND TABLE_CRUCIBLE_KINDS

static const TableProperty properties[] = {
    {"solidus", N_("Solidus"), QUANTITY_TEMPERATURE, METAL, 150, 1700, TRUE},
    {"liquidus", N_("Liquidus"), QUANTITY_TEMPERATURE, METAL, 150, 1700, TRUE},
    {"density_solid", N_("Density, solid"), QUANTITY_DENSITY, METAL, 1500, 25000, TRUE},
    {"density_liquid", N_("Density, liquid"), QUANTITY_DENSITY, METAL, 1500, 25000, TRUE},
    {"density_slope", N_("Change of liquid density, kg/m³ per K"), QUANTITY_NUMBER, METAL, -5, 0,
     FALSE},
    {"conductivity_solid", N_("Conductivity, solid"), QUANTITY_CONDUCTIVITY, METAL, 5, 500, FALSE},
    {"conductivity_liquid", N_("Conductivity, liquid"), QUANTITY_CONDUCTIVITY, METAL, 5, 500,
     FALSE},
    {"cp_solid", N_("Specific heat, solid"), QUANTITY_SPECIFIC_HEAT, METAL, 80, 2000, FALSE},
    {"cp_liquid", N_("Specific heat, liquid"), QUANTITY_SPECIFIC_HEAT, METAL, 80, 2000, FALSE},
    {"latent_heat", N_("Latent heat"), QUANTITY_HEAT_CONTENT, METAL, 2e4, 1e6, FALSE},
    {"enthalpy_model", N_("Heat content by"), QUANTITY_TEXT, METAL, 0, 0, FALSE},
    {"contraction", N_("Contraction"), QUANTITY_RATIO, METAL, 0.001, 0.04, FALSE},
    {"freezing_shrinkage", N_("Shrinkage on freezing"), QUANTITY_RATIO, METAL, 0.001, 0.12, FALSE},
    {"pouring_temperature", N_("Pouring temperature"), QUANTITY_TEMPERATURE, METAL, 150, 1800,
     FALSE},
    {"gate_velocity", N_("Fastest at the gate"), QUANTITY_VELOCITY, METAL, 0.1, 2, FALSE},
    {"melt_loss", N_("Melt loss"), QUANTITY_RATIO, METAL, 0, 0.2, FALSE},
    {"price", N_("Price"), QUANTITY_MONEY_PER_MASS, METAL, 0, 1e6, FALSE},
    {"castability", N_("Castability"), QUANTITY_TEXT, METAL, 0, 0, FALSE},
    {"fluidity", N_("Fluidity"), QUANTITY_TEXT, METAL, 0, 0, FALSE},
    {"fume", N_("Gives off fume of"), QUANTITY_TEXT, METAL, 0, 0, FALSE},
    {"cutting_energy", N_("Cutting energy, J/m³"), QUANTITY_NUMBER, METAL, 1e8, 1e10, FALSE},
    {"conductivity", N_("Conductivity"), QUANTITY_CONDUCTIVITY, SAND, 0.05, 10, TRUE},
    {"density", N_("Density"), QUANTITY_DENSITY, SAND, 500, 5000, TRUE},
    {"specific_heat", N_("Specific heat"), QUANTITY_SPECIFIC_HEAT, SAND, 300, 3000, TRUE},
    {"rammed_density", N_("Density as rammed"), QUANTITY_DENSITY, SAND, 500, 5000, TRUE},
    {"fill", N_("Working fill"), QUANTITY_RATIO, KIND, 0.2, 0.95, TRUE},
    {"firings_min", N_("Firings, fewest"), QUANTITY_COUNT, KIND, 1, 10000, TRUE},
    {"firings_max", N_("Firings, most"), QUANTITY_COUNT, KIND, 1, 10000, TRUE},
    {"warmup_1", N_("First hold of the warm-up"), QUANTITY_TEMPERATURE, KIND, 50, 1000, TRUE},
    {"warmup_2", N_("Second hold of the warm-up"), QUANTITY_TEMPERATURE, KIND, 50, 1200, TRUE},
    {"warmup_hold", N_("Length of each hold"), QUANTITY_TIME, KIND, 0, 86400, TRUE},
    {"temper_at", N_("Hold of a new one"), QUANTITY_TEMPERATURE, KIND, 50, 1000, FALSE},
    {"temper_hold", N_("Length of the hold of a new one"), QUANTITY_TIME, KIND, 0, 86400, FALSE},
    {"families", N_("Metal families"), QUANTITY_TEXT, KIND, 0, 0, TRUE},
    {"flux", N_("Flux"), QUANTITY_TEXT, KIND, 0, 0, TRUE},
    {"flux_refused", N_("Fluxes it does not bear"), QUANTITY_TEXT, KIND, 0, 0, FALSE},
    {"flux_sparing", N_("Fluxes it bears sparingly"), QUANTITY_TEXT, KIND, 0, 0, FALSE},
    {"charging", N_("Charging"), QUANTITY_TEXT, KIND, 0, 0, FALSE},
};

typedef struct {
    const char *unit;
    QuantityKind kind;
    double factor, offset; // si = value * factor + offset
} TableUnit;

static const TableUnit units[] = {
    {"C", QUANTITY_TEMPERATURE, 1.0, 0.0},
    {"F", QUANTITY_TEMPERATURE, 1.0 / 1.8, -32.0 / 1.8},
    {"kg/m3", QUANTITY_DENSITY, 1.0, 0.0},
    {"lb/in3", QUANTITY_DENSITY, 0.45359237 / (0.0254 * 0.0254 * 0.0254), 0.0},
    {"kg/m3K", QUANTITY_NUMBER, 1.0, 0.0},
    {"GJ/m3", QUANTITY_NUMBER, 1e9, 0.0},
    {"W/mK", QUANTITY_CONDUCTIVITY, 1.0, 0.0},
    {"J/kgK", QUANTITY_SPECIFIC_HEAT, 1.0, 0.0},
    {"kJ/kg", QUANTITY_HEAT_CONTENT, 1e3, 0.0},
    {"%", QUANTITY_RATIO, 0.01, 0.0},
    {"in/ft", QUANTITY_RATIO, 1.0 / 12.0, 0.0},
    {"m/s", QUANTITY_VELOCITY, 1.0, 0.0},
    {"/kg", QUANTITY_MONEY_PER_MASS, 1.0, 0.0},
    {"1", QUANTITY_COUNT, 1.0, 0.0},
    {"min", QUANTITY_TIME, 60.0, 0.0},
};

const TableProperty *
table_property_find(TableName table, const char *key)
{
    for (guint i = 0; i < G_N_ELEMENTS(properties); i++)
        if (properties[i].table == table && g_str_equal(properties[i].key, key))
            return &properties[i];
    return NULL;
}

guint
table_property_count(void)
{
    return G_N_ELEMENTS(properties);
}

const TableProperty *
table_property_at(guint index)
{
    g_return_val_if_fail(index < G_N_ELEMENTS(properties), NULL);
    return &properties[index];
}

gboolean
table_unit_to_si(QuantityKind kind, const char *unit, double value, double *si)
{
    for (guint i = 0; i < G_N_ELEMENTS(units); i++) {
        if (units[i].kind == kind && g_str_equal(units[i].unit, unit)) {
            *si = value * units[i].factor + units[i].offset;
            return TRUE;
        }
    }
    return FALSE;
}
