// SPDX-License-Identifier: GPL-3.0-or-later
// Spreading places over faces.
#include "solid/spread.h"

Vec3
solid_normal(const SolidMesh *mesh, guint32 t, double *area)
{
    const guint32 *c = mesh->triangles[t];
    Vec3 a = mesh->vertices[c[0]], b = mesh->vertices[c[1]], d = mesh->vertices[c[2]];
    Vec3 n = vec3_cross(vec3_sub(b, a), vec3_sub(d, a));
    if (area)
        *area = 0.5 * vec3_length(n);
    return vec3_unit(n);
}

// The middles of the m*m like triangles a triangle is cut into.
static void
add_places(const SolidMesh *mesh, guint32 t, int m, GArray *places)
{
    const guint32 *c = mesh->triangles[t];
    Vec3 a = mesh->vertices[c[0]];
    Vec3 u = vec3_scale(vec3_sub(mesh->vertices[c[1]], a), 1.0 / m);
    Vec3 v = vec3_scale(vec3_sub(mesh->vertices[c[2]], a), 1.0 / m);
    double area;
    Vec3 normal = solid_normal(mesh, t, &area);
    if (!(area > 0))
        return;
    for (int i = 0; i < m; i++)
        for (int j = 0; i + j < m; j++)
            for (int half = 0; half < (i + j + 1 < m ? 2 : 1); half++) {
                double x = i + (1 + half) / 3.0, y = j + (1 + half) / 3.0;
                Vec3 at = vec3_add(a, vec3_add(vec3_scale(u, x), vec3_scale(v, y)));
                SolidPlace place = {at, normal};
                g_array_append_val(places, place);
            }
}

GArray *
solid_spread(const SolidMesh *mesh, guint wanted_places)
{
    GArray *places = g_array_new(FALSE, FALSE, sizeof(SolidPlace));
    double total = 0, area;
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        solid_normal(mesh, t, &area);
        total += area;
    }
    guint32 stride = MAX(1, mesh->n_triangles / MAX(1, wanted_places));
    for (guint32 t = 0; t < mesh->n_triangles; t += stride) {
        solid_normal(mesh, t, &area);
        double wanted = total > 0 && stride == 1 ? wanted_places / 2.0 * area / total : 1;
        add_places(mesh, t, (int)CLAMP(ceil(sqrt(wanted)), 1.0, 40.0), places);
    }
    return places;
}
