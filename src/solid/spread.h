// SPDX-License-Identifier: GPL-3.0-or-later
// Places spread over the faces of a mesh, for whatever is looked at from many places.
#pragma once

#include "solid/mesh.h"

G_BEGIN_DECLS

typedef struct {
    Vec3 at, normal; // m; unit, by the triangle's turn
} SolidPlace;

// About `wanted` places or more, evenly spread: large triangles are cut into m*m like ones, of a
// mesh of many small ones every so manieth has one in its middle. Same order for the same mesh. An
// array of SolidPlace.
GArray *solid_spread(const SolidMesh *mesh, guint wanted);

// Unit normal of a triangle by its turn, and its area (m2) unless NULL.
Vec3 solid_normal(const SolidMesh *mesh, guint32 triangle, double *area);

G_END_DECLS
