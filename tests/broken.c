// SPDX-License-Identifier: GPL-3.0-or-later
// Meshes that are not as they should be.
#include "broken.h"

#include <string.h>

#define MM 1e-3

SolidMesh *
broken_join(const SolidMesh *a, const SolidMesh *b)
{
    SolidMesh *out = solid_mesh_new(a->n_vertices + b->n_vertices, a->n_triangles + b->n_triangles);
    memcpy(out->vertices, a->vertices, a->n_vertices * sizeof(Vec3));
    memcpy(out->vertices + a->n_vertices, b->vertices, b->n_vertices * sizeof(Vec3));
    memcpy(out->triangles, a->triangles, (gsize)a->n_triangles * sizeof *out->triangles);
    for (guint32 t = 0; t < b->n_triangles; t++)
        for (int c = 0; c < 3; c++)
            out->triangles[a->n_triangles + t][c] = b->triangles[t][c] + a->n_vertices;
    return out;
}

SolidMesh *
broken_moved(const SolidMesh *mesh, Vec3 shift)
{
    const double same[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    return solid_mesh_transformed(mesh, same, shift);
}

SolidMesh *
broken_overlap(void)
{
    g_autoptr(SolidMesh) one = check_mesh_box(30 * MM, 20 * MM, 10 * MM);
    g_autoptr(SolidMesh) two = broken_moved(one, vec3(18 * MM, 7 * MM, 4 * MM));
    return broken_join(one, two);
}

SolidMesh *
broken_star(double r, double h)
{
    SolidMesh *m = solid_mesh_new(12, 20);
    for (guint32 i = 0; i < 5; i++) {
        double a = 4 * G_PI * i / 5 + 0.3;
        m->vertices[i] = vec3(r * cos(a), r * sin(a), 0);
        m->vertices[5 + i] = vec3(r * cos(a), r * sin(a), h);
    }
    m->vertices[11].z = h;
    for (guint32 i = 0; i < 5; i++) {
        guint32 j = (i + 1) % 5;
        const guint32 four[4][3] = {
            {10, j, i}, {11, 5 + i, 5 + j}, {i, j, 5 + j}, {i, 5 + j, 5 + i}};
        memcpy(m->triangles[4 * i], four, sizeof four);
    }
    return m;
}

SolidMesh *
broken_nested(gboolean hollow)
{
    g_autoptr(SolidMesh) outer = check_mesh_box(30 * MM, 20 * MM, 10 * MM);
    g_autoptr(SolidMesh) small = check_mesh_box(12 * MM, 8 * MM, 4 * MM);
    g_autoptr(SolidMesh) inner = broken_moved(small, vec3(9 * MM, 6 * MM, 3 * MM));
    g_autoptr(SolidMesh) turned = solid_mesh_flipped(inner);
    return broken_join(outer, hollow ? turned : inner);
}

SolidMesh *
broken_inward(void)
{
    g_autoptr(SolidMesh) one = check_mesh_box(30 * MM, 20 * MM, 10 * MM);
    g_autoptr(SolidMesh) two = check_mesh_box(12 * MM, 8 * MM, 4 * MM);
    g_autoptr(SolidMesh) beside = broken_moved(two, vec3(35 * MM, 0, 0));
    g_autoptr(SolidMesh) turned = solid_mesh_flipped(beside);
    return broken_join(one, turned);
}

SolidMesh *
broken_sheet(void)
{
    const Vec3 corners[4] = {{0, 0, 0}, {40 * MM, 0, 0}, {40 * MM, 30 * MM, 0}, {0, 30 * MM, 0}};
    const guint32 faces[4][3] = {{0, 1, 2}, {0, 2, 3}, {0, 3, 1}, {1, 3, 2}};
    SolidMesh *m = solid_mesh_new(4, 4);
    memcpy(m->vertices, corners, sizeof corners);
    memcpy(m->triangles, faces, sizeof faces);
    return m;
}

SolidMesh *
broken_open(void)
{
    SolidMesh *m = check_mesh_box(30 * MM, 20 * MM, 10 * MM);
    m->n_triangles--;
    return m;
}

SolidMesh *
broken_doubled(void)
{
    g_autoptr(SolidMesh) box = check_mesh_box(30 * MM, 20 * MM, 10 * MM);
    SolidMesh *m = solid_mesh_new(box->n_vertices, box->n_triangles + 1);
    memcpy(m->vertices, box->vertices, box->n_vertices * sizeof(Vec3));
    memcpy(m->triangles, box->triangles, (gsize)box->n_triangles * sizeof *m->triangles);
    memcpy(m->triangles[box->n_triangles], box->triangles[4], sizeof *m->triangles);
    return m;
}

SolidMesh *
broken_edge(void)
{
    g_autoptr(SolidMesh) one = check_mesh_box(30 * MM, 20 * MM, 10 * MM);
    g_autoptr(SolidMesh) two = broken_moved(one, vec3(30 * MM, 20 * MM, 0));
    return broken_join(one, two);
}

SolidMesh *
broken_thin_cup(void)
{
    enum {
        SIDES = 48
    };
    const double profile[4][2] = {{15, 0}, {15, 20}, {14.95, 20}, {14.95, 2}};
    SolidMesh *m = solid_mesh_new(4 * SIDES + 2, 8 * SIDES);
    guint32 low = 4 * SIDES, high = low + 1;
    m->vertices[high] = vec3(0, 0, 2 * MM);
    for (guint32 s = 0; s < SIDES; s++) {
        double a = 2 * G_PI * s / SIDES;
        guint32 t = (s + 1) % SIDES, *to = m->triangles[8 * s];
        for (guint32 i = 0; i < 4; i++)
            m->vertices[i * SIDES + s] = vec3(profile[i][0] * MM * cos(a),
                                              profile[i][0] * MM * sin(a), profile[i][1] * MM);
        memcpy(to, (guint32[6]){low, t, s, high, 3 * SIDES + s, 3 * SIDES + t}, 6 * sizeof *to);
        for (guint32 i = 0; i < 3; i++) {
            guint32 a0 = i * SIDES + s, a1 = i * SIDES + t;
            memcpy(to + 6 + 6 * i, (guint32[6]){a0, a1, a1 + SIDES, a0, a1 + SIDES, a0 + SIDES},
                   6 * sizeof *to);
        }
    }
    return m;
}
