// SPDX-License-Identifier: GPL-3.0-or-later
// Heat content, liquid density and share of solid of a metal.
//
// Pure aluminium and copper follow the Shomate equations of the NIST Chemistry WebBook (after Chase
// 1998), t = T / 1000 K:
//     H - H298 = A t + B t^2/2 + C t^3/3 + D t^4/4 - E/t + F - H        kJ/mol
// The liquid aluminium set is printed with an H term that refers to *liquid* at 298 K. Left out, as
// here, the same set gives the heat above *solid* at 298 K, so the jump between the two sets at the
// melting point is the heat of fusion.
#include "metal/enthalpy.h"

#include <math.h>

#define ZERO_CELSIUS 273.15 // K

typedef struct {
    double a, b, c, d, e, f; // f already stands for F - H of the solid, F of the liquid
} Shomate;

typedef struct {
    const char *name;  // as enthalpy_model names it
    double molar_mass; // kg/mol
    Shomate solid, liquid;
    gboolean jump_from_table; // liquid set gives slopes only: latent_heat of the row is the jump
} ShomateMetal;

static const ShomateMetal shomate_metals[] = {
    {"Shomate equations of aluminium",
     26.9815386e-3,
     {28.08920, -5.414849, 8.560423, 3.427370, -0.277375, -9.147187},
     {31.75104, 3.935826e-8, -1.786515e-8, 2.694171e-9, 5.480037e-9, -0.945684},
     FALSE},
    {"Shomate equations of copper",
     63.546e-3,
     {17.72891, 28.09870, -31.25289, 13.97243, 0.068611, 0.0},
     {32.84450, 0.0, 0.0, 0.0, 0.0, 0.0},
     TRUE},
};

static const ShomateMetal *
find_shomate(const TableRow *metal)
{
    const char *model = table_row_text(metal, "enthalpy_model");
    for (guint i = 0; model && i < G_N_ELEMENTS(shomate_metals); i++)
        if (g_str_equal(shomate_metals[i].name, model))
            return &shomate_metals[i];
    return NULL;
}

// J/kg over the set's own zero, at `celsius`.
static double
evaluate_shomate(const Shomate *s, double celsius, double molar_mass)
{
    double t = (celsius + ZERO_CELSIUS) / 1000.0;
    double h = t * (s->a + t * (s->b / 2 + t * (s->c / 3 + t * s->d / 4))) - s->e / t + s->f;
    return h * 1000.0 / molar_mass;
}

// Heat content over an arbitrary zero, J/kg.
static double
compute_shomate(const ShomateMetal *metal, double melting, double latent, double celsius)
{
    if (celsius <= melting)
        return evaluate_shomate(&metal->solid, celsius, metal->molar_mass);
    double liquid = evaluate_shomate(&metal->liquid, celsius, metal->molar_mass);
    if (!metal->jump_from_table)
        return liquid;
    return liquid - evaluate_shomate(&metal->liquid, melting, metal->molar_mass) + latent +
           evaluate_shomate(&metal->solid, melting, metal->molar_mass);
}

typedef struct {
    double solidus, liquidus, cp_solid, cp_liquid, latent;
} Plain;

// Heat content over the solid at the solidus, J/kg. Only the properties on the way are used, so
// that a missing cp_liquid does not spoil a step within the solid.
static double
compute_plain(const Plain *p, double celsius)
{
    if (celsius <= p->solidus)
        return p->cp_solid * (celsius - p->solidus);
    double range = p->liquidus - p->solidus;
    if (celsius < p->liquidus) {
        // Share of liquid grows evenly from 0 to 1; the mixture's cp follows it.
        double liquid = (celsius - p->solidus) / range;
        double cp = p->cp_solid + (p->cp_liquid - p->cp_solid) * liquid / 2;
        return p->latent * liquid + cp * (celsius - p->solidus);
    }
    return p->latent + (p->cp_solid + p->cp_liquid) / 2 * range +
           p->cp_liquid * (celsius - p->liquidus);
}

double
enthalpy_between(const TableRow *metal, double from, double to)
{
    g_return_val_if_fail(metal != NULL, NAN);
    if (!isfinite(from) || !isfinite(to) || from < -ZERO_CELSIUS || to < -ZERO_CELSIUS)
        return NAN;
    double solidus = table_row_value(metal, "solidus");
    double latent = table_row_value(metal, "latent_heat");
    const ShomateMetal *shomate = find_shomate(metal);
    if (shomate)
        return compute_shomate(shomate, solidus, latent, to) -
               compute_shomate(shomate, solidus, latent, from);
    Plain plain = {solidus, table_row_value(metal, "liquidus"), table_row_value(metal, "cp_solid"),
                   table_row_value(metal, "cp_liquid"), latent};
    return compute_plain(&plain, to) - compute_plain(&plain, from);
}

double
density_of_liquid(const TableRow *metal, double temperature)
{
    g_return_val_if_fail(metal != NULL, NAN);
    if (!(temperature >= table_row_value(metal, "solidus")))
        return NAN;
    return table_row_value(metal, "density_liquid") +
           table_row_value(metal, "density_slope") *
               (temperature - table_row_value(metal, "liquidus"));
}

double
solid_fraction(const TableRow *metal, double temperature)
{
    g_return_val_if_fail(metal != NULL, NAN);
    double solidus = table_row_value(metal, "solidus");
    double liquidus = table_row_value(metal, "liquidus");
    if (isnan(temperature) || isnan(solidus) || isnan(liquidus))
        return NAN;
    if (temperature <= solidus)
        return 1.0;
    if (temperature >= liquidus)
        return 0.0;
    return (liquidus - temperature) / (liquidus - solidus);
}
