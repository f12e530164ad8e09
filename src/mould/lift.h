// SPDX-License-Identifier: GPL-3.0-or-later
// What liquid metal does to the cope and to cores.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// Lift on the cope, N: rho g A h, with A the area of metal seen along the pull and h the head over
// it.
double mould_lift(double density, double area, double head, double gravity);

// Buoyancy of a core, N; its prints not counted.
double mould_core_buoyancy(double volume, double metal_density, double core_density,
                           double gravity);

// Mass, kg, to put on a cope of mass `cope_mass` against `lift` (N); 0 when it is heavy enough.
double mould_weight_needed(double lift, double cope_mass, double gravity);

G_END_DECLS
