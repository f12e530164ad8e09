// SPDX-License-Identifier: GPL-3.0-or-later
// Distances to posts, bars and rods.
#include "board/shape.h"

static double
to_cosine(double tangent)
{
    return 1 / sqrt(1 + tangent * tangent);
}

double
board_shape_post(Vec3 p, double x, double y, double radius, double height, double taper)
{
    double side = hypot(p.x - x, p.y - y) - radius + (p.z - height / 2) * taper;
    return fmax(side * to_cosine(taper), p.z - height);
}

double
board_shape_bar(Vec3 p, double x1, double y1, double x2, double y2, double width, double depth,
                double taper)
{
    double length = hypot(x2 - x1, y2 - y1);
    if (!(length > 0))
        return G_MAXFLOAT;
    double ux = (x2 - x1) / length, uy = (y2 - y1) / length;
    double along = (p.x - x1) * ux + (p.y - y1) * uy, across = (p.y - y1) * ux - (p.x - x1) * uy;
    double slope = (p.z - depth / 2) * taper;
    double a = fabs(along - length / 2) - length / 2 + slope, b = fabs(across) - width / 2 + slope;
    // Rounded outside the corners, so that the sides' distances join smoothly.
    double out = hypot(fmax(a, 0), fmax(b, 0)) + fmin(fmax(a, b), 0);
    return fmax(out * to_cosine(taper), p.z - depth);
}

double
board_shape_rod(Vec3 p, Vec3 a, Vec3 b, double radius)
{
    Vec3 axis = vec3_sub(b, a), from = vec3_sub(p, a);
    double length = vec3_length(axis);
    if (!(length > 0))
        return G_MAXFLOAT;
    double along = vec3_dot(from, axis) / length;
    Vec3 off = vec3_sub(from, vec3_scale(axis, along / length));
    return fmax(vec3_length(off) - radius, fabs(along - length / 2) - length / 2);
}
