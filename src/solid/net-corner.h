// SPDX-License-Identifier: GPL-3.0-or-later
// Sharp edges and corners of a net: the point where the planes of the surface about a vertex meet.
// Inside solid/ only.
#pragma once

#include "solid/grid.h"

G_BEGIN_DECLS

// Sums over the planes about a vertex, lengths in cells from where it stands.
typedef struct {
    double a[6]; // normals times normals: xx xy xz yy yz zz
    double b[3];
    Vec3 normal; // sum
    Vec3 move;   // cells, by which the vertex was moved
    guint32 count;
} NetCorner;

// A plane through `at` (from the vertex, cells) with a unit normal.
void net_corner_add(NetCorner *corner, Vec3 at, Vec3 normal);

// TRUE when the planes are not those of a smooth surface; *move (cells) then leads to the point
// nearest to all of them, and to the vertex where they leave a choice.
gboolean net_corner_solve(const NetCorner *corner, Vec3 *move);

G_END_DECLS
