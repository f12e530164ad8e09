// SPDX-License-Identifier: GPL-3.0-or-later
// Outlines: where a plane cuts a mesh or a grid.
#pragma once

#include "solid/grid.h"
#include "solid/mesh.h"

G_BEGIN_DECLS

typedef struct {
    double x, y;
} SolidPoint;

// Closed loops, one after another; loop i is points[starts[i]] .. points[starts[i + 1] - 1].
// Metal lies to the left: outer loops run anticlockwise, holes clockwise. Reference-counted.
typedef struct {
    SolidPoint *points;
    guint n_points;
    guint *starts; // n_loops + 1 entries
    guint n_loops;
} SolidOutline;

SolidOutline *solid_outline_ref(const SolidOutline *outline);
void solid_outline_unref(const SolidOutline *outline);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(SolidOutline, solid_outline_unref)

// Signed area (m2): outer less holes. Box in min/max.
double solid_outline_area(const SolidOutline *outline);
void solid_outline_box(const SolidOutline *outline, SolidPoint *min, SolidPoint *max);

// axis 0, 1, 2: the plane x = at, y = at, z = at; points are (y,z), (x,z), (x,y).
SolidOutline *solid_section_mesh(const SolidMesh *mesh, int axis, double at);
SolidOutline *solid_section_grid(const SolidGrid *grid, int axis, double at, double level);
// Silhouette along z: the outline of the union of all layers value < level.
SolidOutline *solid_section_shadow(const SolidGrid *grid, double level);

// The outline with every vertex of `mesh`, seen along z, inside or less than a thousandth of a
// millimetre outside. It loses nothing; vertices that lie outside by more than `reach` (m), which
// should be about as long as a side, need not be found.
SolidOutline *solid_outline_holding(const SolidOutline *outline, const SolidMesh *mesh,
                                    double reach);

// Fewer points, none further than `tolerance` from the line that replaces it.
SolidOutline *solid_outline_simplified(const SolidOutline *outline, double tolerance);

G_END_DECLS
