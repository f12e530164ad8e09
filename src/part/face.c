// SPDX-License-Identifier: GPL-3.0-or-later
// Draft per triangle from its normal; hidden or not by looking along the pull. A large triangle may
// be hidden in part: it is looked at from several places, and the share that is hidden counts.
#include "part/face.h"

#include "solid/spread.h"

#define FLAT 1e-3  // rad; leaning over by less than this is a wall straight along the pull
#define SLACK 2e-3 // of the part's size; so near the parting a face lies on the side it looks to
#define EVEN 1e-4  // rad; wanted draft is met to within this

void
face_draft_clear(FaceDraft *faces)
{
    g_clear_pointer(&faces->draft, g_free);
    g_clear_pointer(&faces->hidden, g_free);
    g_clear_pointer(&faces->low, g_free);
}

// Does the part stand between this place and the open? A wall straight along the pull sees itself;
// the look starts a little off the face.
static gboolean
is_blocked(const SolidBvh *bvh, Vec3 at, Vec3 normal, Vec3 way, double least)
{
    Vec3 from = vec3_add(at, vec3_scale(normal, least));
    return solid_bvh_ray(bvh, from, way, 0).triangle != SOLID_NO_TRIANGLE;
}

typedef struct {
    const SolidMesh *mesh;
    const SolidBvh *bvh;
    Vec3 pull;
    double parting, wanted, least, slack; // m, rad, m, m
} Look;

// Which way the sand at a place must leave: 1 along the pull, -1 against it.
static int
find_side(const Look *l, Vec3 at, Vec3 normal)
{
    double over = vec3_dot(at, l->pull) - l->parting;
    if (fabs(over) <= l->slack)
        over = vec3_dot(normal, l->pull);
    return over >= 0 ? 1 : -1;
}

// Share of a triangle that is hidden, from the middles of the m*m it is cut into.
static double
find_hidden(const Look *l, guint32 t, Vec3 normal, double area, double patch)
{
    const guint32 *c = l->mesh->triangles[t];
    Vec3 a = l->mesh->vertices[c[0]];
    int m = (int)CLAMP(ceil(sqrt(area / patch)), 1.0, 8.0), hidden = 0;
    Vec3 u = vec3_scale(vec3_sub(l->mesh->vertices[c[1]], a), 1.0 / m);
    Vec3 v = vec3_scale(vec3_sub(l->mesh->vertices[c[2]], a), 1.0 / m);
    for (int i = 0; i < m; i++)
        for (int j = 0; i + j < m; j++)
            for (int half = 0; half < (i + j + 1 < m ? 2 : 1); half++) {
                double x = i + (1 + half) / 3.0, y = j + (1 + half) / 3.0;
                Vec3 at = vec3_add(a, vec3_add(vec3_scale(u, x), vec3_scale(v, y)));
                Vec3 way = vec3_scale(l->pull, find_side(l, at, normal));
                double slope = vec3_dot(normal, way);
                hidden += slope < -FLAT || is_blocked(l->bvh, at, normal, way, l->least);
            }
    return (double)hidden / (m * m);
}

static void
look_at(const Look *l, guint32 t, double patch, FaceDraft *f, double *hidden_area, double *low_area)
{
    const guint32 *c = l->mesh->triangles[t];
    double area;
    Vec3 normal = solid_normal(l->mesh, t, &area);
    Vec3 middle = vec3_add(l->mesh->vertices[c[0]],
                           vec3_add(l->mesh->vertices[c[1]], l->mesh->vertices[c[2]]));
    int side = find_side(l, vec3_scale(middle, 1.0 / 3), normal);
    double slope = CLAMP(side * vec3_dot(normal, l->pull), -1.0, 1.0);
    double share = area > 0 ? find_hidden(l, t, normal, area, patch) : 0;
    f->draft[t] = (float)asin(slope);
    f->hidden[t] = share >= 0.5;
    f->low[t] = !f->hidden[t] && asin(slope) < l->wanted - EVEN;
    *hidden_area = share * area;
    *low_area = f->low[t] ? (1 - share) * area : 0;
}

gboolean
face_draft(const SolidMesh *mesh, const SolidBvh *bvh, Vec3 pull, double parting, double wanted,
           FaceDraft *faces, Progress *progress, GError **error)
{
    g_autoptr(SolidBvh) own = bvh ? NULL : solid_bvh_new(mesh);
    Vec3 low = vec3(INFINITY, INFINITY, INFINITY), high = vec3_scale(low, -1);
    for (guint32 i = 0; i < mesh->n_vertices; i++) {
        Vec3 v = mesh->vertices[i];
        low = vec3(fmin(low.x, v.x), fmin(low.y, v.y), fmin(low.z, v.z));
        high = vec3(fmax(high.x, v.x), fmax(high.y, v.y), fmax(high.z, v.z));
    }
    double size = mesh->n_vertices > 0 ? vec3_length(vec3_sub(high, low)) : 0, all = 0, area;
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        solid_normal(mesh, t, &area);
        all += area;
    }
    Look look = {mesh,   bvh ? bvh : own, vec3_unit(pull), parting,
                 wanted, 1e-6 * size,     SLACK * size};
    FaceDraft f = {.n = mesh->n_triangles};
    f.draft = g_new0(float, f.n + 1);
    f.hidden = g_new0(guint8, f.n + 1);
    f.low = g_new0(guint8, f.n + 1);
    g_autofree double *areas = g_new0(double, 2 * (gsize)f.n + 1);
#pragma omp parallel for schedule(dynamic, 256)
    for (guint32 t = 0; t < f.n; t++)
        if (!progress_stopped(progress))
            look_at(&look, t, all / 4000, &f, &areas[2 * (gsize)t], &areas[2 * (gsize)t + 1]);
    for (guint32 t = 0; t < f.n; t++) {
        f.hidden_area += areas[2 * (gsize)t];
        f.low_area += areas[2 * (gsize)t + 1];
    }
    if (!progress_check(progress, error)) {
        face_draft_clear(&f);
        return FALSE;
    }
    *faces = f;
    return TRUE;
}
