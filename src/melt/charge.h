// SPDX-License-Identifier: GPL-3.0-or-later
// What a crucible holds and what one load takes. Plain numbers in and out, SI.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// Brim volume, m3, of a crucible rated for `rating` kg of a metal of `density` kg/m3. A rating is
// for molten metal up to the brim, so `density` is that of the liquid.
double melt_crucible_volume(double rating, double density);

// Most metal, kg, that one load can give to flasks: of `working` kg the crucible may hold, the
// share `loss` turns to dross, `heel` kg stay, and of the rest a reserve is kept back: `reserve` as
// a share of what is poured, but at least `least` kg. May be negative.
double melt_pourable(double working, double loss, double heel, double reserve, double least);

// Whole flasks of `flask_metal` kg in `pourable` kg, at most `boxes`; 0 if not even one.
int melt_flasks(double pourable, double flask_metal, double boxes);

// Reserve, kg, for `poured` kg into flasks.
double melt_reserve(double poured, double reserve, double least);

// Cold metal to weigh in, kg, for that load.
double melt_charge(double poured, double reserve_mass, double heel, double loss);

// The rating, in kg of a metal of `rating_density`, of a crucible that would hold `need` kg of a
// metal of `density` at the working fill.
double melt_rating_needed(double need, double density, double fill, double rating_density);

G_END_DECLS
