// SPDX-License-Identifier: GPL-3.0-or-later
// A closed sphere with bumps, of any number of triangles: the part that benchmarks are made with.
#include "bumpy.h"

#include <math.h>
#include <string.h>

// rings x sides vertices and two poles: 2 sides rings triangles.
SolidMesh *
bumpy_rings(guint32 rings, guint32 sides, double size)
{
    SolidMesh *mesh = solid_mesh_new(rings * sides + 2, 2 * rings * sides);
    guint32(*t)[3] = mesh->triangles;
    for (guint32 r = 0; r < rings; r++)
        for (guint32 s = 0; s < sides; s++) {
            double a = G_PI * (r + 1.0) / (rings + 1.0), b = 2 * G_PI * s / sides;
            double radius = size * (1 + 0.05 * sin(7 * a) * cos(11 * b));
            mesh->vertices[r * sides + s] = vec3(radius * sin(a) * cos(b), radius * sin(a) * sin(b),
                                                 -radius * cos(a));
        }
    guint32 south = rings * sides, north = south + 1, n = 0;
    mesh->vertices[south] = vec3(0, 0, -size);
    mesh->vertices[north] = vec3(0, 0, size);
    for (guint32 s = 0; s < sides; s++) {
        guint32 e = (s + 1) % sides, top = (rings - 1) * sides;
        memcpy(t[n++], (guint32[3]){south, e, s}, sizeof *t);
        memcpy(t[n++], (guint32[3]){north, top + s, top + e}, sizeof *t);
        for (guint32 r = 0; r + 1 < rings; r++) {
            guint32 low = r * sides, high = low + sides;
            memcpy(t[n++], (guint32[3]){low + s, low + e, high + e}, sizeof *t);
            memcpy(t[n++], (guint32[3]){low + s, high + e, high + s}, sizeof *t);
        }
    }
    return mesh;
}

SolidMesh *
bumpy_sphere(guint32 triangles, double radius)
{
    guint32 rings = (guint32)fmax(2, sqrt(triangles / 4.0));
    return bumpy_rings(rings, 2 * rings, radius);
}
