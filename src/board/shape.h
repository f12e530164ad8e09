// SPDX-License-Identifier: GPL-3.0-or-later
// Distances to the plain shapes patterns are made of, m, negative inside. All stand on z = 0 and
// taper upwards. Exact near each face; elsewhere the sign is right.
#pragma once

#include "solid/grid.h"

G_BEGIN_DECLS

// A round post about the z axis through (x, y): `radius` at half its height, tapering by tan
// `taper`.
double board_shape_post(Vec3 p, double x, double y, double radius, double height, double taper);

// A bar from (x1, y1) to (x2, y2), `width` wide at half its depth, `depth` high.
double board_shape_bar(Vec3 p, double x1, double y1, double x2, double y2, double width,
                       double depth, double taper);

// A round rod from a to b, ends flat.
double board_shape_rod(Vec3 p, Vec3 a, Vec3 b, double radius);

G_END_DECLS
