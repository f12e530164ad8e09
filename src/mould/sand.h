// SPDX-License-Identifier: GPL-3.0-or-later
// Sand of a flask. Pure functions, SI.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// Rammed sand, kg, in a flask of inside volume `flask` (m3) with `metal` in it.
double mould_sand_mass(double flask, double metal, double rammed_density);

// Boxes or buckets that hold `box` kg each, to fetch `mass` with; whole ones.
double mould_sand_boxes(double mass, double box);

// Sand, m, beyond the cover asked for; 0 where there is no more than that.
double mould_sand_over(double cover, double asked);

G_END_DECLS
