// SPDX-License-Identifier: GPL-3.0-or-later
// Directions worth asking about: a part's own, and an even spread over the half-sphere.
#pragma once

#include "solid/measure.h"
#include "solid/mesh.h"

G_BEGIN_DECLS

typedef enum {
    DIRECTION_FILE_AXIS, // an axis of the file
    DIRECTION_AXIS,      // a principal axis of inertia
    DIRECTION_FACE,      // across a flat face
    DIRECTION_SPREAD,    // one of the spread, or found by going on from one
} DirectionKind;

typedef struct {
    Vec3 way; // unit, part axes
    DirectionKind kind;
} Direction;

// Axes of the file as given, principal axes, normals of the flat faces (triangles of one normal
// summed; the largest `faces` of them) and `spread` more, no two of the first three kinds alike;
// opposite ways count as one and the one with the greater z, y, x stands for both. Same order for
// the same mesh. An array of Direction.
GArray *direction_list(const SolidMesh *mesh, const SolidMeasure *measure, const Vec3 file[3],
                       guint faces, guint spread);

// Angle (rad) between two lines, 0 to pi/2.
double direction_angle(Vec3 a, Vec3 b);

G_END_DECLS
