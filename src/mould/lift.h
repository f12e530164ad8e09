// SPDX-License-Identifier: GPL-3.0-or-later
// What liquid metal does to the cope and to cores.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// Lift on the cope, N: rho g A h, with A the area of metal seen along the pull and h the head over
// it.
double mould_lift(double density, double area, double head, double gravity);

// Lift, N, when metal of the volume `under` (m3) stands in the cope beneath the roofs it pushes on:
// each roof has that much less head over it. rho g (A h - V), the pressure summed over the roofs.
double mould_lift_roofed(double density, double area, double head, double under, double gravity);

// Lift, N, with the surge when the mould is full: `rest` by a factor (1.5 to 2, common practice, no
// source), and no less than with the momentum `push` (N) of the stream stopped at once.
double mould_lift_surging(double rest, double factor, double push);

// A cope on its drag: lift and weight (N) with where they act, from the middle of the flask, m.
typedef struct {
    double lift, lift_x, lift_y;
    double weight, cope_x, cope_y;
    double length, width; // m, of the flask; of a round one `length` is the diameter
    gboolean round;
} MouldTipping;

// Force, N, that weights in the middle of the flask, the cope among them, have to have so that it
// neither lifts nor tips about an edge: L + |L e - W c| / a, a half the flask, from the moments
// about the edge (statics); the more of both directions. No less than the lift.
double mould_lift_tipping(const MouldTipping *tipping);

// Buoyancy of a core, N; its prints not counted.
double mould_core_buoyancy(double volume, double metal_density, double core_density,
                           double gravity);

// Mass, kg, to put on a cope of mass `cope_mass` against `lift` (N); 0 when it is heavy enough.
double mould_weight_needed(double lift, double cope_mass, double gravity);

// Clamps that hold `force` (N) each, instead of `mass`; whole ones.
double mould_clamps_needed(double mass, double force, double gravity);

G_END_DECLS
