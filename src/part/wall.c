// SPDX-License-Identifier: GPL-3.0-or-later
// Wall thickness by shrinking balls. At a place on the skin a ball that touches it from inside is
// made smaller until nothing else of the skin lies in it; it then touches a second place. Balls in
// the corner between two neighbouring faces shrink to nothing and say nothing about a wall, so only
// second places whose face looks the other way count.
#include "part/wall.h"

#include "solid/bvh.h"

#define PLACES 8000
#define OPPOSITE -0.866 // cosine between the two faces' normals: 150 degrees

typedef struct {
    Vec3 at, normal;
    guint32 triangle;
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
                Place place = {at, normal, t};
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

// In a round bar the ball touches everywhere at once and which place it met last is chance, so a
// face that looks away counts if it was met while the ball was within 3 % of its last size.
static double
shrink_ball(const SolidMesh *mesh, const SolidBvh *bvh, const Place *place, double radius)
{
    double r = radius, across = INFINITY, area;
    guint32 hint = place->triangle;
    for (int round = 0; round < 50; round++) {
        Vec3 middle = vec3_sub(place->at, vec3_scale(place->normal, r));
        SolidNearest near = solid_bvh_nearest(bvh, middle, hint);
        Vec3 way = vec3_sub(place->at, near.point);
        double along = vec3_dot(way, place->normal), next = vec3_dot(way, way) / (2 * along);
        if (near.distance >= r * (1 - 1e-6) || !(along > 0) || !(next < r * (1 - 1e-9)))
            break;
        hint = near.triangle;
        r = next;
        if (vec3_dot(find_normal(mesh, hint, &area), place->normal) <= OPPOSITE)
            across = r;
    }
    return across <= 1.03 * r ? 2 * r : NAN;
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
    double radius = vec3_length(vec3_sub(high, low));
#pragma omp parallel for schedule(dynamic, 64)
    for (guint i = 0; i < places->len; i++)
        wall[i] = progress_stopped(progress)
                      ? NAN
                      : shrink_ball(mesh, bvh, &g_array_index(places, Place, i), radius);
    if (!progress_check(progress, error))
        return NAN;
    double least = NAN;
    for (guint i = 0; i < places->len; i++)
        if (!isnan(wall[i]) && !(wall[i] >= least))
            least = wall[i];
    return least;
}
