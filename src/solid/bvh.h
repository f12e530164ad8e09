// SPDX-License-Identifier: GPL-3.0-or-later
// The point of a mesh nearest to a given point, by a tree of boxes.
#pragma once

#include "solid/mesh.h"

G_BEGIN_DECLS

typedef struct SolidBvh SolidBvh;

typedef struct {
    double distance;  // m; INFINITY when the mesh is empty
    guint32 triangle; // index in the mesh
    Vec3 point;       // the nearest point, m
} SolidNearest;

#define SOLID_NO_TRIANGLE G_MAXUINT32

// Builds the tree in O(n log n); the mesh may go away afterwards.
SolidBvh *solid_bvh_new(const SolidMesh *mesh);
void solid_bvh_free(SolidBvh *bvh); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(SolidBvh, solid_bvh_free)

// `hint` is a triangle thought to be near (the answer for a neighbour), or SOLID_NO_TRIANGLE. May
// be called from many threads.
SolidNearest solid_bvh_nearest(const SolidBvh *bvh, Vec3 point, guint32 hint);

// The first triangle a ray meets at more than `least` (m) from its origin; `way` is a unit vector.
// SOLID_NO_TRIANGLE and INFINITY when it meets none.
SolidNearest solid_bvh_ray(const SolidBvh *bvh, Vec3 origin, Vec3 way, double least);

G_END_DECLS
