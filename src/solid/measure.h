// SPDX-License-Identifier: GPL-3.0-or-later
// Volume, area, centroid, box and principal inertia of a closed mesh, from signed tetrahedra.
#pragma once

#include "solid/mesh.h"

G_BEGIN_DECLS

typedef struct {
    double volume;     // m3, signed: negative when inside out
    double area;       // m2
    Vec3 centroid;     // m
    Vec3 min, max;     // m
    double moments[3]; // principal moments of inertia per unit density about the centroid, m5,
                       // ascending
    Vec3 axes[3];      // their unit axes
} SolidMeasure;

// Sums in double about the box's middle, in fixed chunks. An empty mesh gives zeros.
SolidMeasure solid_measure(const SolidMesh *mesh);

G_END_DECLS
