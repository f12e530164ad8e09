// SPDX-License-Identifier: GPL-3.0-or-later
// Making a skin draw to the last triangle. Inside board/ only.
#pragma once

#include "solid/mesh.h"

G_BEGIN_DECLS

// A hole, m; what is in it need not draw.
typedef struct {
    Vec3 a, b;
    double radius;
} BoardHole;

// Moves vertices sideways, by a few hundredths of `cell` where it is needed at all, until no
// triangle of the mesh looks down but those in a hole and those marked in `skip` (one for each
// triangle; the foot, cut faces). `walls`, one for each vertex, has bit 0 where x and bit 1 where y
// may not change. Marks what lies in a hole in `skip` too. How many triangles still look down; 0
// unless the shape itself does not draw.
guint board_draw(SolidMesh *mesh, const guint8 *walls, guint8 *skip, const BoardHole *holes,
                 guint n_holes, double cell);

G_END_DECLS
