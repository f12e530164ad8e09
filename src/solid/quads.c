// SPDX-License-Identifier: GPL-3.0-or-later
// Drawing a net onto its surface, and its mesh.
#include "solid/quads.h"

#include <string.h>

#define FIT_ROUNDS 3

// How far the middle of one misses its crossing, along the normal.
static Vec3
find_miss(const Vec3 *v, const SolidQuad *quad)
{
    const guint32 *c = quad->corner;
    Vec3 middle = vec3_scale(vec3_add(vec3_add(v[c[0]], v[c[1]]), vec3_add(v[c[2]], v[c[3]])),
                             0.25);
    Vec3 normal = vec3_unit(vec3_cross(vec3_sub(v[c[2]], v[c[0]]), vec3_sub(v[c[3]], v[c[1]])));
    return vec3_scale(normal, vec3_dot(normal, vec3_sub(quad->crossing, middle)));
}

void
solid_quads_fit(Vec3 *v, const guint8 *walls, guint n, const SolidQuad *quads, guint n_quads)
{
    g_autofree Vec3 *sum = g_new(Vec3, (gsize)n + 1);
    g_autofree guint8 *count = g_new(guint8, (gsize)n + 1);
    for (int round = 0; round < FIT_ROUNDS; round++) {
        memset(sum, 0, n * sizeof *sum);
        memset(count, 0, n);
        for (guint q = 0; q < n_quads; q++) {
            const guint32 *c = quads[q].corner;
            if (quads[q].flat)
                continue;
            Vec3 miss = find_miss(v, &quads[q]);
            for (int e = 0; e < 4; e++) {
                sum[c[e]] = vec3_add(sum[c[e]], miss);
                count[c[e]]++;
            }
        }
        for (guint i = 0; i < n; i++) {
            if (count[i] == 0)
                continue;
            Vec3 move = vec3_scale(sum[i], 1.0 / count[i]);
            guint8 wall = walls ? walls[i] : 0;
            v[i].x += wall & 1 ? 0 : move.x;
            v[i].y += wall & 2 ? 0 : move.y;
            v[i].z += wall & 4 ? 0 : move.z;
        }
    }
}

SolidMesh *
solid_quads_mesh(const Vec3 *vertices, guint n, const SolidQuad *quads, guint n_quads)
{
    SolidMesh *mesh = solid_mesh_new(n, 2 * n_quads);
    if (n > 0)
        memcpy(mesh->vertices, vertices, n * sizeof(Vec3));
    for (guint q = 0; q < n_quads; q++) {
        const guint32 *c = quads[q].corner;
        Vec3 one = vec3_sub(vertices[c[0]], vertices[c[2]]);
        Vec3 two = vec3_sub(vertices[c[1]], vertices[c[3]]);
        int s = vec3_dot(one, one) <= vec3_dot(two, two) ? 0 : 1;
        guint32 pair[2][3] = {{c[s], c[s + 1], c[s + 2]}, {c[s], c[s + 2], c[(s + 3) % 4]}};
        memcpy(mesh->triangles[2 * q], pair, sizeof pair);
    }
    return mesh;
}
