// SPDX-License-Identifier: GPL-3.0-or-later
// The plain convex shapes in a flask beside the cavities: upright discs (riser, well), bars
// (runner) and the tapered sprue; and the flask's walls.
#pragma once

#include "mould/layout.h"

G_BEGIN_DECLS

typedef enum {
    MOULD_PROP_ROUND, // upright, radius `low_radius` at `low`, `high_radius` at `high`
    MOULD_PROP_BAR,   // upright, on a rectangle
} MouldPropKind;

typedef struct {
    MouldPropKind kind;
    double x, y;                    // m, middle
    double low, high;               // m, z
    double low_radius, high_radius; // m, of round ones
    double cos, sin;                // of a bar's length
    double length, width;           // m, halves, of a bar
} MouldProp;

MouldProp mould_prop_disc(double x, double y, double diameter, double low, double high);
MouldProp mould_prop_bar(const MouldChannel *channel, double low, double high);

// The nearest point of the filled shape: `p` itself when inside.
Vec3 mould_prop_nearest(const MouldProp *prop, Vec3 p);

// Least distance of two, m, by going to and fro between nearest points, which ends at the least for
// convex shapes (Cheney and Goldstein, 1959); 0 when they meet.
double mould_prop_distance(const MouldProp *a, const MouldProp *b, Vec3 *on_a, Vec3 *on_b);

// The inside of a flask: a rectangle or a circle at the parting, narrower upwards by the draft of
// its walls.
typedef struct {
    gboolean round;
    double length, width; // m at the parting; the diameter twice when round
    double cope, drag;    // m
    double draft;         // rad
} MouldWalls;

MouldWalls mould_walls_of(const MouldLayout *layout);

// How far `p` lies from the wall, m, negative outside; and the wall's nearest point, unless NULL.
double mould_walls_distance(const MouldWalls *walls, Vec3 p, Vec3 *on_wall);

G_END_DECLS
