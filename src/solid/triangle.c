// SPDX-License-Identifier: GPL-3.0-or-later
// The place of a triangle nearest to a point.
#include "solid/triangle.h"

static double
measure_segment2(Vec3 p, Vec3 a, Vec3 b, Vec3 *foot)
{
    Vec3 ab = vec3_sub(b, a);
    double n = vec3_dot(ab, ab);
    double t = n > 0 ? CLAMP(vec3_dot(vec3_sub(p, a), ab) / n, 0.0, 1.0) : 0;
    *foot = vec3_add(a, vec3_scale(ab, t));
    Vec3 d = vec3_sub(p, *foot);
    return vec3_dot(d, d);
}

// Squared. Over the face when all three weights of the foot are positive; else the nearest point
// lies on an edge whose opposite corner has a negative weight.
double
solid_triangle_distance2(Vec3 p, const Vec3 v[3], Vec3 *foot)
{
    Vec3 ab = vec3_sub(v[1], v[0]), ac = vec3_sub(v[2], v[0]), ap = vec3_sub(p, v[0]);
    Vec3 n = vec3_cross(ab, ac);
    double nn = vec3_dot(n, n);
    double weight[3];
    weight[2] = vec3_dot(vec3_cross(ab, ap), n);
    weight[1] = vec3_dot(vec3_cross(ap, ac), n);
    weight[0] = nn - weight[1] - weight[2];
    if (nn > 0 && weight[0] >= 0 && weight[1] >= 0 && weight[2] >= 0) {
        double h = vec3_dot(ap, n) / nn;
        *foot = vec3_sub(p, vec3_scale(n, h));
        return h * h * nn;
    }
    double best = INFINITY;
    for (int c = 0; c < 3; c++) {
        Vec3 at;
        if (nn > 0 && weight[c] >= 0)
            continue;
        double d = measure_segment2(p, v[(c + 1) % 3], v[(c + 2) % 3], &at);
        if (d < best) {
            best = d;
            *foot = at;
        }
    }
    return best;
}

double
solid_triangle_distance(Vec3 point, const Vec3 corners[3], Vec3 *foot)
{
    Vec3 at = point;
    double d = sqrt(solid_triangle_distance2(point, corners, &at));
    if (foot)
        *foot = at;
    return d;
}
