// SPDX-License-Identifier: GPL-3.0-or-later
// A casting with its riser and gate as the rows beside a runner see it; private to rest*.c,
// mixed*.c and closer.c.
//
// All is seen from one side of the runner: u along it, v away from it, so that what stands at -v is
// seen turned by half.
#pragma once

#include "mould/fixed.h"

G_BEGIN_DECLS

#define REST_SIMPLER 6e-5 // m, by which outlines lose detail

// By how much a casting's skin may lie outside of its outline, m: as far as its box does, and a
// little.
double rest_shape_margin(const MouldFixed *fixed);
// From a row's foremost to the casting's reach, m, where risers stand in the gates; 0 without.
double rest_shape_riser(const MouldWish *wish);

// The casting with its riser in a stance, moved by (u, v); with the gate's line down to `gate_to`
// (v; NAN: without it).
SolidOutline *rest_shape_outline(const MouldFixed *fixed, const MouldStance *stance, double u,
                                 double v, double gate_to);

// One side of a runner along `axis` at `v`: 1 at +v, -1 at -v.
typedef struct {
    int axis, side;
    double v;
} RestSide;

// A spot seen from a side.
typedef struct {
    MouldStance stance; // as it is fed from the runner
    double u, v;        // of its origin; v negative when it stands on the other side
} RestSeen;

RestSeen rest_shape_seen(const MouldFixed *fixed, const PlacementSpot *spot, RestSide side);
// The other way: a casting in a stance at u, with its origin `away` (m) from the runner's middle.
PlacementSpot rest_shape_spot(RestSide side, const MouldStance *stance, double u, double away,
                              gboolean guest);

guint rest_shape_guests(const PlacementSpot *spots, guint n); // how many of them are guests

// How much further from the runner a spot on this side has to stand to be `reach` (m) away from the
// sprue at `sprue_u` on the runner's middle; 0 when it is.
double rest_shape_past_sprue(const MouldFixed *fixed, const RestSeen *seen, double sprue_u,
                             double reach);

G_END_DECLS
