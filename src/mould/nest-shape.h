// SPDX-License-Identifier: GPL-3.0-or-later
// An outline as the search for a nesting sees it: points along it, and its signed distance on a
// grid.
#pragma once

#include "solid/section.h"

G_BEGIN_DECLS

typedef struct {
    const SolidOutline *outline;
    SolidPoint *points; // along all loops, corners among them
    guint n_points;
    double radius; // m, of all points from the origin
    double area;   // m2
    int nx, ny;
    double cell;
    SolidPoint origin; // of cell 0, 0
    float *distance;   // m, negative inside; reaches `margin` beyond the outline
} NestShape;

NestShape *nest_shape_new(const SolidOutline *outline, double margin);
void nest_shape_free(NestShape *shape); // NULL is harmless

// Signed distance and its slope at a point in the shape's axes; FALSE beyond the grid, where
// nothing is near.
gboolean nest_shape_distance(const NestShape *shape, SolidPoint p, double *distance,
                             SolidPoint *slope);

G_END_DECLS
