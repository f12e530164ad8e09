// SPDX-License-Identifier: GPL-3.0-or-later
// Rows in which every second casting is turned by half: shapes that taper or hook stand closer so.
#pragma once

#include "mould/fixed.h"

G_BEGIN_DECLS

// A row's two ways of standing, front to the runner, and the least distances from gate to gate: to
// the half-turned neighbour and from it to the next.
typedef struct {
    MouldStance stance[2];
    double there, back; // m; in one row
    double both;        // m, either, when the row opposite is the same turned by half
} MouldPair;

MouldPair mould_alternate_pair(const MouldFixed *fixed, double turn);

// The places of the most cavities in such rows, if they are more than `least`; NULL if not. An
// array of PlacementSpot, with the runner's axis and the sprue's place (one of the two NAN: in the
// middle of its gates) to be built with mould_fixed_build(). Not for round flasks.
GArray *mould_alternate_search(const MouldFixed *fixed, guint least, int *axis, double *sprue_x,
                               double *sprue_y);

G_END_DECLS
