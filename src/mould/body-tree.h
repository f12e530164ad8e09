// SPDX-License-Identifier: GPL-3.0-or-later
// Points over a skin, and the tree of balls round them.
#pragma once

#include "mould/body.h"

G_BEGIN_DECLS

// All vertices, and points on triangles wider than `spacing` (m) so that no place of the skin is
// much further from one; far apart in exchange where there would be millions. Free.
Vec3 *mould_body_points(const SolidMesh *mesh, double spacing, guint *n_points);

// Sorts the points into a tree of balls, split in halves along the longest side. Free.
MouldBall *mould_body_tree(Vec3 *points, guint n_points, guint *n_balls);

G_END_DECLS
