// SPDX-License-Identifier: GPL-3.0-or-later
// Wall thickness by looking straight in from places on the skin to the skin on the other side. Near
// a corner one looks at a face that stands across, which says nothing about a wall, so only faces
// that look the other way count.
#include "part/wall.h"

#include "solid/bvh.h"
#include "solid/spread.h"

#define PLACES 8000
#define OPPOSITE -0.866 // cosine between the two faces' normals: 150 degrees

static double
look_across(const SolidMesh *mesh, const SolidBvh *bvh, const SolidPlace *place, double least)
{
    SolidNearest other = solid_bvh_ray(bvh, place->at, vec3_scale(place->normal, -1), least);
    if (other.triangle == SOLID_NO_TRIANGLE)
        return NAN;
    Vec3 normal = solid_normal(mesh, other.triangle, NULL);
    return vec3_dot(normal, place->normal) <= OPPOSITE ? other.distance : NAN;
}

double
wall_thinnest(const SolidMesh *mesh, Progress *progress, GError **error)
{
    g_autoptr(SolidBvh) bvh = solid_bvh_new(mesh);
    g_autoptr(GArray) places = solid_spread(mesh, PLACES);
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
                      : look_across(mesh, bvh, &g_array_index(places, SolidPlace, i), least_way);
    if (!progress_check(progress, error))
        return NAN;
    double least = NAN;
    for (guint i = 0; i < places->len; i++)
        if (!isnan(wall[i]) && !(wall[i] >= least))
            least = wall[i];
    return least;
}
