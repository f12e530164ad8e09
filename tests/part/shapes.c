// SPDX-License-Identifier: GPL-3.0-or-later
// Parts for the tests of pulls, made by code.
#include "shapes.h"

static void
set_triangle(SolidMesh *m, guint32 *at, guint32 a, guint32 b, guint32 c)
{
    m->triangles[*at][0] = a;
    m->triangles[*at][1] = b;
    m->triangles[*at][2] = c;
    ++*at;
}

static void
set_square(SolidMesh *m, guint32 *at, guint32 a, guint32 b, guint32 c, guint32 d)
{
    set_triangle(m, at, a, b, c);
    set_triangle(m, at, a, c, d);
}

SolidMesh *
shape_turned(const double (*profile)[2], int n, int sides)
{
    guint32 rings = (guint32)n, round = (guint32)sides, at = 0;
    SolidMesh *m = solid_mesh_new(rings * round + 2, 2 * round * rings);
    for (guint32 i = 0; i < rings; i++)
        for (guint32 s = 0; s < round; s++) {
            double a = 2 * G_PI * s / round;
            m->vertices[i * round + s] = vec3(profile[i][0] * cos(a), profile[i][0] * sin(a),
                                              profile[i][1]);
        }
    guint32 low = rings * round, high = low + 1;
    m->vertices[low] = vec3(0, 0, profile[0][1]);
    m->vertices[high] = vec3(0, 0, profile[n - 1][1]);
    for (guint32 s = 0; s < round; s++) {
        guint32 t = (s + 1) % round;
        set_triangle(m, &at, low, t, s);
        for (guint32 i = 0; i + 1 < rings; i++)
            set_square(m, &at, i * round + s, i * round + t, (i + 1) * round + t,
                       (i + 1) * round + s);
        set_triangle(m, &at, high, (rings - 1) * round + s, (rings - 1) * round + t);
    }
    return m;
}

SolidMesh *
shape_bracket(double x, double z, double t, double y)
{
    const double p[6][2] = {{0, 0}, {x, 0}, {x, t}, {t, t}, {t, z}, {0, z}};
    SolidMesh *m = solid_mesh_new(12, 20);
    guint32 at = 0;
    for (int i = 0; i < 6; i++) {
        m->vertices[i] = vec3(p[i][0], 0, p[i][1]);
        m->vertices[6 + i] = vec3(p[i][0], y, p[i][1]);
    }
    for (guint32 i = 0; i < 6; i++)
        set_square(m, &at, i, 6 + i, 6 + (i + 1) % 6, (i + 1) % 6);
    const guint32 fan[4][3] = {{0, 1, 2}, {0, 2, 3}, {0, 3, 4}, {0, 4, 5}};
    for (int i = 0; i < 4; i++) {
        set_triangle(m, &at, fan[i][0], fan[i][1], fan[i][2]);
        set_triangle(m, &at, 6 + fan[i][0], 6 + fan[i][2], 6 + fan[i][1]);
    }
    return m;
}

// A plate across x from x0 to x1 with a round hole in its middle, from the given vertex on.
static void
add_eye(SolidMesh *m, const ShapeClevis *c, double x0, double x1, guint32 first, guint32 *at,
        guint32 sides)
{
    double half_y = c->y / 2, half_z = (c->z + c->sunk) / 2, zm = c->z - half_z;
    for (guint32 s = 0; s < sides; s++) {
        double a = 2 * G_PI * s / sides + 0.0, u = cos(a), v = sin(a);
        double scale = 1 / fmax(fabs(u) / half_y, fabs(v) / half_z);
        double hole = c->z / 2;
        Vec3 outer = vec3(x0, scale * u, zm + scale * v);
        Vec3 inner = vec3(x0, c->hole * u, hole + c->hole * v);
        Vec3 *to = &m->vertices[first + 4 * s];
        to[0] = outer;
        to[1] = inner;
        to[2] = vec3(x1, outer.y, outer.z);
        to[3] = vec3(x1, inner.y, inner.z);
    }
    for (guint32 s = 0; s < sides; s++) {
        guint32 a = first + 4 * s, b = first + 4 * ((s + 1) % sides);
        set_square(m, at, a, a + 1, b + 1, b);         // face at x0
        set_square(m, at, a + 2, b + 2, b + 3, a + 3); // face at x1
        set_square(m, at, a, b, b + 2, a + 2);         // outside
        set_square(m, at, a + 1, a + 3, b + 3, b + 1); // hole
    }
}

SolidMesh *
shape_clevis(const ShapeClevis *c, int sides)
{
    guint32 n = (guint32)sides, at = 0;
    SolidMesh *m = solid_mesh_new(8 * n + 8, 16 * n + 12);
    double half = c->gap / 2;
    add_eye(m, c, half, half + c->ear, 0, &at, n);
    add_eye(m, c, -half - c->ear, -half, 4 * n, &at, n);
    guint32 b = 8 * n;
    double x = half + c->ear + c->sunk, y = c->y / 2 + c->sunk;
    for (guint32 i = 0; i < 8; i++)
        m->vertices[b + i] = vec3(i & 1 ? x : -x, i & 2 ? y : -y, i & 4 ? 0 : -c->base);
    const guint32 face[6][4] = {{0, 1, 5, 4}, {1, 3, 7, 5}, {3, 2, 6, 7},
                                {2, 0, 4, 6}, {4, 5, 7, 6}, {0, 2, 3, 1}};
    for (int f = 0; f < 6; f++)
        set_square(m, &at, b + face[f][0], b + face[f][1], b + face[f][2], b + face[f][3]);
    return m;
}

SolidMesh *
shape_rotated(const SolidMesh *mesh, Vec3 axis, double angle, Vec3 shift, double r[9])
{
    Vec3 a = vec3_unit(axis);
    double c = cos(angle), s = sin(angle), k = 1 - c;
    double rows[9] = {c + a.x * a.x * k,       a.x * a.y * k - a.z * s, a.x * a.z * k + a.y * s,
                      a.y * a.x * k + a.z * s, c + a.y * a.y * k,       a.y * a.z * k - a.x * s,
                      a.z * a.x * k - a.y * s, a.z * a.y * k + a.x * s, c + a.z * a.z * k};
    for (int i = 0; i < 9; i++)
        r[i] = rows[i];
    return solid_mesh_transformed(mesh, r, shift);
}
