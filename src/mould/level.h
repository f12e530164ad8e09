// SPDX-License-Identifier: GPL-3.0-or-later
// How high metal stands in a cavity that holds a given volume: straight lines between heights.
#pragma once

#include "solid/grid.h"

G_BEGIN_DECLS

typedef struct {
    guint n;   // at least 2
    double *z; // m, rising
    double *v; // m3 below that height, rising from 0
} MouldLevel;

// A prism, `plan` m2, between two heights.
MouldLevel *mould_level_prism(double plan, double bottom, double top);
// A shape given by its signed distance, every length larger by `scale`; heights beyond `bottom` and
// `top` are drawn in to them and volumes are brought to `volume` in all. NULL for an empty grid.
MouldLevel *mould_level_grid(const SolidGrid *grid, double scale, double bottom, double top,
                             double volume);
// `level` with an upright cylinder beside it that fills with it: a riser.
MouldLevel *mould_level_with_post(const MouldLevel *level, double area, double bottom, double top);
void mould_level_free(MouldLevel *level); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(MouldLevel, mould_level_free)

double mould_level_volume(const MouldLevel *level);                // m3, all
double mould_level_height(const MouldLevel *level, double volume); // m; the ends outside 0 and all
double mould_level_below(const MouldLevel *level, double height);  // m3

G_END_DECLS
