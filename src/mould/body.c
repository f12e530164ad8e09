// SPDX-License-Identifier: GPL-3.0-or-later
// Making bodies, and keeping the last few.
#include "mould/body.h"

#include <math.h>
#include <string.h>

#include "mould/body-tree.h"
#include "mould/stance.h"
#include "solid/net.h"

#define MOST_CELLS 500000.0
#define LEAST_MARGIN 0.04 // m, wider than the sand usually asked for
#define VOLUME_STEPS 128

static void
clear_body(gpointer data)
{
    MouldBody *body = data;
    solid_mesh_unref(body->mesh);
    solid_bvh_free(body->bvh);
    solid_grid_unref(body->field);
    if (body->shadow)
        solid_outline_unref(body->shadow);
    g_free(body->points);
    g_free(body->balls);
    g_free(body->below);
}

MouldBody *
mould_body_ref(const MouldBody *body)
{
    return g_atomic_rc_box_acquire((gpointer)body);
}

void
mould_body_unref(const MouldBody *body)
{
    if (body)
        g_atomic_rc_box_release_full((gpointer)body, clear_body);
}

static void
find_box(MouldBody *b)
{
    b->min = vec3(INFINITY, INFINITY, INFINITY);
    b->max = vec3(-INFINITY, -INFINITY, -INFINITY);
    for (guint i = 0; i < b->mesh->n_vertices; i++) {
        Vec3 p = b->mesh->vertices[i];
        b->min = vec3(fmin(b->min.x, p.x), fmin(b->min.y, p.y), fmin(b->min.z, p.z));
        b->max = vec3(fmax(b->max.x, p.x), fmax(b->max.y, p.y), fmax(b->max.z, p.z));
    }
}

// The step that keeps the field within its cells.
static double
field_cell(const MouldBody *b, double cell)
{
    double x = b->max.x - b->min.x + 2 * b->margin, y = b->max.y - b->min.y + 2 * b->margin;
    double z = b->max.z - b->min.z + 2 * b->margin;
    return fmax(cell, cbrt(x * y * z / MOST_CELLS));
}

// Part of a triangle that lies below z, as a polygon of up to four corners.
static int
cut_below(const Vec3 t[3], double z, Vec3 out[4])
{
    int n = 0;
    for (int i = 0; i < 3; i++) {
        Vec3 a = t[i], b = t[(i + 1) % 3];
        if (a.z <= z)
            out[n++] = a;
        if ((a.z <= z) != (b.z <= z))
            out[n++] = vec3_add(a, vec3_scale(vec3_sub(b, a), (z - a.z) / (b.z - a.z)));
    }
    return n;
}

// Integral of x over the polygon's shadow on the plane x = 0, with the sign of its turn.
static double
integrate_x(const Vec3 *p, int n)
{
    double sum = 0;
    for (int i = 1; i + 1 < n; i++) {
        Vec3 a = vec3_sub(p[i], p[0]), b = vec3_sub(p[i + 1], p[0]);
        double area = 0.5 * (a.y * b.z - a.z * b.y);
        sum += area * (p[0].x + p[i].x + p[i + 1].x) / 3;
    }
    return sum;
}

// Volume below a height is the integral of x n_x over the skin below it (Gauss): the lid's normal
// has no x.
static void
add_volume(MouldBody *b)
{
    guint n = b->n_steps = VOLUME_STEPS;
    double step = (b->max.z - b->min.z) / n;
    b->below = g_new0(double, n + 1);
    g_autofree double *from_here = g_new0(double, n + 2); // whole triangles, counted from a step on
    for (guint t = 0; t < b->mesh->n_triangles && step > 0; t++) {
        const guint32 *c = b->mesh->triangles[t];
        Vec3 v[3] = {b->mesh->vertices[c[0]], b->mesh->vertices[c[1]], b->mesh->vertices[c[2]]};
        double low = fmin(v[0].z, fmin(v[1].z, v[2].z)), high = fmax(v[0].z, fmax(v[1].z, v[2].z));
        guint first = (guint)CLAMP(ceil((low - b->min.z) / step), 0, n);
        guint last = (guint)CLAMP(ceil((high - b->min.z) / step), 0, n);
        for (guint k = first; k < last; k++) {
            Vec3 part[4];
            b->below[k] += integrate_x(part, cut_below(v, b->min.z + k * step, part));
        }
        from_here[last] += integrate_x(v, 3);
    }
    double sum = 0;
    for (guint k = 0; k <= n; k++) {
        sum += from_here[k];
        b->below[k] += sum;
    }
}

double
mould_body_volume_below(const MouldBody *b, double z)
{
    g_return_val_if_fail(b != NULL, NAN);
    double high = b->max.z - b->min.z;
    double at = high > 0 ? CLAMP((z - b->min.z) / high, 0, 1) * b->n_steps : 0;
    guint k = MIN((guint)at, b->n_steps - 1);
    return b->below[k] + (at - k) * (b->below[k + 1] - b->below[k]);
}

MouldBody *
mould_body_new(const SolidMesh *mesh, const SolidOutline *shadow, double cell, Progress *progress,
               GError **error)
{
    g_return_val_if_fail(mesh != NULL && mesh->n_triangles > 0 && cell > 0, NULL);
    g_autoptr(MouldBody) b = g_atomic_rc_box_new0(MouldBody);
    b->mesh = solid_mesh_ref(mesh);
    b->shadow = shadow ? solid_outline_ref(shadow) : NULL;
    find_box(b);
    b->margin = fmax(LEAST_MARGIN, 0.3 * fmax(b->max.x - b->min.x, b->max.y - b->min.y));
    cell = field_cell(b, cell);
    b->field = solid_grid_distance(mesh, cell, b->margin, 2 * cell, progress, error);
    if (!b->field || !progress_check(progress, error))
        return NULL;
    b->bvh = solid_bvh_new(mesh);
    b->points = mould_body_points(mesh, cell, &b->n_points);
    b->balls = mould_body_tree(b->points, b->n_points, &b->n_balls);
    add_volume(b);
    return progress_check(progress, error) ? g_steal_pointer(&b) : NULL;
}

static SolidMesh *
grown_mesh(const SolidMesh *mesh, double growth)
{
    const double scale[9] = {growth, 0, 0, 0, growth, 0, 0, 0, growth};
    return solid_mesh_transformed(mesh, scale, vec3(0, 0, 0));
}

#define KEPT 4
typedef struct {
    SolidMesh *mesh; // held, so that its address stays its own
    double growth;
    MouldBody *body;
} Kept;

static GMutex lock;
static Kept kept[KEPT]; // newest first

static MouldBody *
find_kept(const SolidMesh *mesh, double growth)
{
    MouldBody *found = NULL;
    g_mutex_lock(&lock);
    for (int i = 0; i < KEPT && !found; i++)
        if (kept[i].mesh == mesh && kept[i].growth == growth)
            found = mould_body_ref(kept[i].body);
    g_mutex_unlock(&lock);
    return found;
}

static void
keep(const SolidMesh *mesh, double growth, const MouldBody *body)
{
    g_mutex_lock(&lock);
    Kept oldest = kept[KEPT - 1];
    memmove(kept + 1, kept, (KEPT - 1) * sizeof *kept);
    kept[0] = (Kept){solid_mesh_ref(mesh), growth, mould_body_ref(body)};
    g_mutex_unlock(&lock);
    if (oldest.mesh)
        solid_mesh_unref(oldest.mesh);
    mould_body_unref(oldest.body);
}

MouldBody *
mould_body_of(const PatternResult *pattern, double growth, Progress *progress, GError **error)
{
    g_return_val_if_fail(pattern != NULL && growth > 0, NULL);
    const SolidOutline *outline = pattern->shadow && pattern->shadow->n_points > 0
                                      ? pattern->shadow
                                      : pattern->parting_outline;
    if (!outline || outline->n_points == 0)
        return NULL;
    MouldBody *found = pattern->mesh ? find_kept(pattern->mesh, growth) : NULL;
    if (found)
        return found;
    g_autoptr(SolidMesh) skin = NULL;
    if (pattern->mesh)
        skin = solid_mesh_ref(pattern->mesh);
    else if (pattern->casting)
        skin = solid_net(pattern->casting, NULL, progress, error);
    if (!skin || skin->n_triangles == 0)
        return NULL;
    g_autoptr(SolidMesh) mesh = grown_mesh(skin, growth);
    g_autoptr(SolidOutline) shadow = mould_stance_scaled(outline, growth);
    double cell = pattern->casting ? pattern->casting->cell * growth : 1e-3;
    MouldBody *body = mould_body_new(mesh, shadow, cell, progress, error);
    if (body && pattern->mesh)
        keep(pattern->mesh, growth, body);
    return body;
}
