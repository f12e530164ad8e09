// SPDX-License-Identifier: GPL-3.0-or-later
// A vertex on an edge or a corner stands where the planes of the walls about it meet: the least
// squares of its distances to them. A mean of crossings would bevel the edge.
#include "solid/net-corner.h"

#define SMOOTH 0.965 // mean of the unit normals about a vertex; longer is one surface
#define PULL 0.004   // of a plane's weight, towards where the vertex stands

void
net_corner_add(NetCorner *corner, Vec3 at, Vec3 n)
{
    double d = vec3_dot(n, at);
    const double products[6] = {n.x * n.x, n.x * n.y, n.x * n.z, n.y * n.y, n.y * n.z, n.z * n.z};
    for (int i = 0; i < 6; i++)
        corner->a[i] += products[i];
    corner->b[0] += d * n.x;
    corner->b[1] += d * n.y;
    corner->b[2] += d * n.z;
    corner->normal = vec3_add(corner->normal, n);
    corner->count++;
}

gboolean
net_corner_solve(const NetCorner *corner, Vec3 *move)
{
    if (corner->count < 2 || vec3_length(corner->normal) > SMOOTH * corner->count)
        return FALSE;
    const double *a = corner->a, *b = corner->b;
    double pull = PULL * corner->count;
    Vec3 x = vec3(a[0] + pull, a[1], a[2]), y = vec3(a[1], a[3] + pull, a[4]);
    Vec3 z = vec3(a[2], a[4], a[5] + pull), right = vec3(b[0], b[1], b[2]);
    double det = vec3_dot(x, vec3_cross(y, z)); // above 0 by the pull
    *move = vec3(vec3_dot(right, vec3_cross(y, z)) / det, vec3_dot(right, vec3_cross(z, x)) / det,
                 vec3_dot(right, vec3_cross(x, y)) / det);
    return TRUE;
}
