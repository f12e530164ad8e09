// SPDX-License-Identifier: GPL-3.0-or-later
// Transient heat flow in metal and sand by the enthalpy method: each cell holds heat per volume,
// its temperature follows from it through melting, and heat flows between neighbours by their
// resistances in series. Cells cut by the casting's skin hold both materials by share.
//
// Time goes in super-steps of several stages (Runge-Kutta-Legendre, first order: Meyer, Balsara and
// Aslam, J. Comput. Phys. 257 (2014) 594), which stay stable far beyond the explicit limit and,
// like it, make no new hot or cold spots. Steps grow with the time gone by, as heat flow slows
// down.
#pragma once

#include <glib.h>

#include "base/progress.h"

G_BEGIN_DECLS

#define FREEZE_MAX_CELLS 4000000u

// SI; temperatures deg C. Between solidus and liquidus the latent heat is spread evenly and no
// other heat counted; the two may be equal.
typedef struct {
    double density;
    double cp_solid, cp_liquid;
    double latent;
    double solidus, liquidus;
    double conductivity_solid, conductivity_liquid;
    double sand_density, sand_specific, sand_conductivity;
    double pour, ambient;
} FreezeMaterials;

typedef struct FreezeHeat FreezeHeat;

// `share` of metal in each of nx * ny * nz cubic cells (x fastest), copied. Metal starts at the
// pouring temperature, sand at ambient. `edge`: temperature held at the box's faces x-, x+, y-, y+,
// z-, z+, or NAN where no heat passes. NULL with BASE_ERROR_LIMIT over FREEZE_MAX_CELLS, or
// BASE_ERROR_VALUE when a property is missing or not positive.
FreezeHeat *freeze_heat_new(int nx, int ny, int nz, double cell, const float *share,
                            const FreezeMaterials *materials, const double edge[6], GError **error);
void freeze_heat_free(FreezeHeat *heat);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(FreezeHeat, freeze_heat_free)

// A chill: another material than sand in the cells beside the metal.
typedef struct {
    double capacity;     // J/(m3 K), density times specific heat
    double conductivity; // W/(m K)
} FreezeChill;

// Before the first step: in every cell `share` of what is not metal is the chill, at ambient, the
// rest sand. It touches the metal without a gap. FALSE with BASE_ERROR_VALUE when a property is not
// positive.
gboolean freeze_heat_set_chill(FreezeHeat *heat, const float *share, const FreezeChill *chill,
                               GError **error);

// Length of a step over the time gone by; 0.02 unless set.
void freeze_heat_set_growth(FreezeHeat *heat, double growth);

// One super-step, no further than `until` (s; INFINITY for none).
gboolean freeze_heat_step(FreezeHeat *heat, double until, Progress *progress, GError **error);

double freeze_heat_time(const FreezeHeat *heat);                    // s
double freeze_heat_temperature(const FreezeHeat *heat, gsize cell); // deg C
double freeze_heat_content(const FreezeHeat *heat); // J in all cells, over 0 deg C solid
// Cells at least half metal that are not solid yet.
gsize freeze_heat_liquid(const FreezeHeat *heat);
// When each cell became solid, s: NAN for sand and what is not solid yet. Borrowed.
const double *freeze_heat_solid_times(const FreezeHeat *heat);
// Gradient over square root of cooling rate near the end of freezing, K^0.5 s^0.5/m, for cells all
// of whose neighbours are metal too: NAN elsewhere. Niyama and others 1982. Borrowed.
const double *freeze_heat_niyama(const FreezeHeat *heat);
// Share of heat of melting still held by the metal of a cell, 0 solid to 1 liquid.
double freeze_heat_liquid_share(const FreezeHeat *heat, gsize cell);

G_END_DECLS
