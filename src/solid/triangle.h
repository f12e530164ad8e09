// SPDX-License-Identifier: GPL-3.0-or-later
// The place of a triangle nearest to a point.
#pragma once

#include <glib.h>

#include "solid/vec.h"

G_BEGIN_DECLS

// Distance (m) to one triangle, and its nearest point unless `foot` is NULL. Degenerate triangles
// count as segments or points.
double solid_triangle_distance(Vec3 point, const Vec3 corners[3], Vec3 *foot);

// The square of it, m2; `foot` must be given.
double solid_triangle_distance2(Vec3 point, const Vec3 corners[3], Vec3 *foot);

G_END_DECLS
