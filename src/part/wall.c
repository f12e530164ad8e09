// SPDX-License-Identifier: GPL-3.0-or-later
// Wall thickness by looking straight in from places on the skin to the skin on the other side. Near
// a corner one looks at a face that stands across, which says nothing about a wall, so only faces
// that look the other way count.
#include "part/wall.h"

#include "solid/bvh.h"

#define PLACES 8000
#define OPPOSITE -0.866 // cosine between the two faces' normals: 150 degrees

typedef struct {
    Vec3 at, normal;
} Place;

static Vec3
find_normal(const SolidMesh *mesh, guint32 t, double *area)
{
    const guint32 *c = mesh->triangles[t];
    Vec3 a = mesh->vertices[c[0]], b = mesh->vertices[c[1]], d = mesh->vertices[c[2]];
    Vec3 n = vec3_cross(vec3_sub(b, a), vec3_sub(d, a));
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
    Vec3 normal = find_normal(mesh, t, &area);
    if (!(area > 0))
        return;
    for (int i = 0; i < m; i++)
        for (int j = 0; i + j < m; j++)
            for (int half = 0; half < (i + j + 1 < m ? 2 : 1); half++) {
                double x = i + (1 + half) / 3.0, y = j + (1 + half) / 3.0;
                Vec3 at = vec3_add(a, vec3_add(vec3_scale(u, x), vec3_scale(v, y)));
                Place place = {at, normal};
                g_array_append_val(places, place);
            }
}

static GArray *
spread_places(const SolidMesh *mesh)
{
    GArray *places = g_array_new(FALSE, FALSE, sizeof(Place));
    double total = 0, area;
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        find_normal(mesh, t, &area);
        total += area;
    }
    guint32 stride = MAX(1, mesh->n_triangles / PLACES);
    for (guint32 t = 0; t < mesh->n_triangles; t += stride) {
        find_normal(mesh, t, &area);
        double wanted = total > 0 && stride == 1 ? PLACES / 2 * area / total : 1;
        add_places(mesh, t, (int)CLAMP(ceil(sqrt(wanted)), 1.0, 40.0), places);
    }
    return places;
}

static double
look_across(const SolidMesh *mesh, const SolidBvh *bvh, const Place *place, double least)
{
    double area;
    SolidNearest other = solid_bvh_ray(bvh, place->at, vec3_scale(place->normal, -1), least);
    if (other.triangle == SOLID_NO_TRIANGLE)
        return NAN;
    Vec3 normal = find_normal(mesh, other.triangle, &area);
    return vec3_dot(normal, place->normal) <= OPPOSITE ? other.distance : NAN;
}

double
wall_thinnest(const SolidMesh *mesh, Progress *progress, GError **error)
{
    g_autoptr(SolidBvh) bvh = solid_bvh_new(mesh);
    g_autoptr(GArray) places = spread_places(mesh);
    g_autofree double *wall = g_new(double, places->len + 1);
    Vec3 low = vec3(INFINITY, INFINITY, INFINITY), high = vec3_scale(low, -1);
    for (guint32 i = 0; i < mesh->n_vertices; i++) {
        Vec3 v = mesh->vertices[i];
        low = vec3(fmin(low.x, v.x), fmin(low.y, v.y), fmin(low.z, v.z));
        high = vec3(fmax(high.x, v.x), fmax(high.y, v.y), fmax(high.z, v.z));
    }
    double least_way = 1e-9 * vec3_length(vec3_sub(high, low));
#pragma omp parallel for schedule(dynamic, 64)
    for (guint i = 0; i < places->len; i++)
        wall[i] = progress_stopped(progress)
                      ? NAN
                      : look_across(mesh, bvh, &g_array_index(places, Place, i), least_way);
    if (!progress_check(progress, error))
        return NAN;
    double least = NAN;
    for (guint i = 0; i < places->len; i++)
        if (!isnan(wall[i]) && !(wall[i] >= least))
            least = wall[i];
    return least;
}
