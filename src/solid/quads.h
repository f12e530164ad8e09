// SPDX-License-Identifier: GPL-3.0-or-later
// Quadrilaterals of a net laid over a surface that is given on a grid: how the net is drawn onto
// the surface, and the mesh of it, for board/skin.h. The large nets of solid/net.c do the same in
// patches on all cores.
#pragma once

#include "solid/mesh.h"

G_BEGIN_DECLS

// One piece of a net: its corners, anticlockwise seen from outside, and where the grid's edge it
// stands across meets the surface.
typedef struct {
    guint32 corner[4];
    Vec3 crossing;
    gboolean flat; // lies in a side of the grid, and draws no vertex after it
} SolidQuad;

// A mean of points of a curved surface lies below it: moves the `n` vertices, in three rounds, by
// what the middles of the quadrilaterals about them miss their crossings by, along the surface's
// normal. `walls`, NULL or one a vertex, has bit 0, 1 or 2 where x, y or z may not change.
void solid_quads_fit(Vec3 *vertices, const guint8 *walls, guint n, const SolidQuad *quads,
                     guint n_quads);

// Two triangles a quadrilateral, cut along the shorter diagonal; triangles 2q and 2q + 1 are those
// of quads[q].
SolidMesh *solid_quads_mesh(const Vec3 *vertices, guint n, const SolidQuad *quads, guint n_quads);

G_END_DECLS
