// SPDX-License-Identifier: GPL-3.0-or-later
// From where an area is seen best: rays from places on it, along a few dozen ways to the eye.
#include "part/area.h"
#include "solid/bvh.h"
#include "solid/spread.h"

#define WAYS 64
#define PLACES 32
#define GOLDEN 2.399963229728653 // rad, the golden angle
#define LIKING 0.08              // how much of the area a liked way is worth

typedef struct {
    Vec3 at, normal;
} Place;

// About PLACES triangles of each area, evenly by their order; `count` says how many.
static Place *
choose_places(const SolidMesh *mesh, const AreaList *list, guint n, double least, guint *count)
{
    Place *places = g_new0(Place, (gsize)n * PLACES + 1);
    g_autofree guint32 *seen = g_new0(guint32, (gsize)n + 1);
    for (guint32 t = 0; t < list->n_triangles; t++) {
        guint32 of = list->of[t];
        if (of >= n)
            continue;
        guint32 step = (list->areas[of].n + PLACES - 1) / PLACES;
        if (seen[of]++ % step != 0 || count[of] >= PLACES)
            continue;
        const guint32 *c = mesh->triangles[t];
        Vec3 sum = vec3_add(mesh->vertices[c[0]],
                            vec3_add(mesh->vertices[c[1]], mesh->vertices[c[2]]));
        Place *p = &places[(gsize)of * PLACES + count[of]++];
        p->normal = solid_normal(mesh, t, NULL);
        p->at = vec3_add(vec3_scale(sum, 1.0 / 3), vec3_scale(p->normal, least));
    }
    return places;
}

static Vec3
find_look(const SolidBvh *bvh, const Place *places, guint count, Vec3 liked)
{
    Vec3 best = liked;
    double most = -INFINITY;
    for (int i = 0; i <= WAYS; i++) {
        double z = 1 - (i + 0.5) * 2 / WAYS, r = sqrt(fmax(0, 1 - z * z));
        Vec3 way = i < WAYS ? vec3(r * cos(i * GOLDEN), r * sin(i * GOLDEN), z) : liked;
        double seen = LIKING * count * vec3_dot(way, liked);
        for (guint k = 0; k < count; k++) {
            double facing = vec3_dot(places[k].normal, way);
            if (facing > 0.02 &&
                solid_bvh_ray(bvh, places[k].at, way, 0).triangle == SOLID_NO_TRIANGLE)
                seen += facing;
        }
        if (seen > most) {
            most = seen;
            best = way;
        }
    }
    return best;
}

gboolean
area_looks(const SolidMesh *mesh, const AreaList *list, guint n, Vec3 liked, Vec3 *looks,
           Progress *progress, GError **error)
{
    g_return_val_if_fail(n <= list->n, FALSE);
    double size = 0;
    for (guint32 i = 0; i < mesh->n_vertices; i++)
        size = fmax(size, vec3_length(vec3_sub(mesh->vertices[i], mesh->vertices[0])));
    g_autoptr(SolidBvh) bvh = solid_bvh_new(mesh);
    g_autofree guint *count = g_new0(guint, (gsize)n + 1);
    g_autofree Place *places = choose_places(mesh, list, n, 1e-6 * size, count);
    g_autofree Vec3 *found = g_new(Vec3, (gsize)n + 1);
#pragma omp parallel for schedule(dynamic, 1)
    for (guint i = 0; i < n; i++)
        if (!progress_stopped(progress))
            found[i] = find_look(bvh, places + (gsize)i * PLACES, count[i], liked);
    if (!progress_check(progress, error))
        return FALSE;
    for (guint i = 0; i < n; i++)
        looks[i] = found[i];
    return TRUE;
}
