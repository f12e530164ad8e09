// SPDX-License-Identifier: GPL-3.0-or-later
// What a picture of a part needs whichever way it is looked at: its size, and a normal for every
// corner that is the mean over the faces meeting there without a sharp edge.
#include <string.h>

#include "sketch/shade-private.h"

#define SHARP 0.766 // cosine of 40 degrees: a steeper edge stays an edge
#define MOST_AROUND 64
#define MANY 120000 // triangles; of more a coarse model is made as well
#define ARROW 0.32  // length, of the part's half size

static ShadeNormal
to_normal(Vec3 v)
{
    return (ShadeNormal){(float)v.x, (float)v.y, (float)v.z};
}

static Vec3
cross_area(const SolidMesh *mesh, guint32 t)
{
    const guint32 *c = mesh->triangles[t];
    Vec3 a = mesh->vertices[c[0]];
    return vec3_cross(vec3_sub(mesh->vertices[c[1]], a), vec3_sub(mesh->vertices[c[2]], a));
}

// Triangles around each vertex: those of vertex v are around[start[v]] to around[start[v + 1]].
static guint32 *
list_around(const SolidMesh *mesh, guint32 *start)
{
    for (guint32 t = 0; t < mesh->n_triangles; t++)
        for (int k = 0; k < 3; k++)
            start[mesh->triangles[t][k] + 1]++;
    for (guint32 v = 0; v < mesh->n_vertices; v++)
        start[v + 1] += start[v];
    g_autofree guint32 *next = g_memdup2(start, sizeof(guint32) * (mesh->n_vertices + 1));
    guint32 *around = g_new(guint32, 3 * (gsize)mesh->n_triangles + 1);
    for (guint32 t = 0; t < mesh->n_triangles; t++)
        for (int k = 0; k < 3; k++)
            around[next[mesh->triangles[t][k]]++] = t;
    return around;
}

static float
dot(ShadeNormal a, ShadeNormal b)
{
    return a.x * b.x + a.y * b.y + a.z * b.z;
}

// The hub of a large fan keeps its own face's normal: the mean over it says little.
static ShadeNormal
smooth_corner(const ShadeModel *m, guint32 t, const guint32 *around, guint32 n)
{
    if (n > MOST_AROUND)
        return m->facets[t];
    Vec3 sum = vec3(0, 0, 0);
    for (guint32 i = 0; i < n; i++)
        if (dot(m->facets[around[i]], m->facets[t]) > (float)SHARP)
            sum = vec3_add(sum, cross_area(m->mesh, around[i]));
    return vec3_length(sum) > 0 ? to_normal(vec3_unit(sum)) : m->facets[t];
}

static void
find_normals(ShadeModel *m)
{
    const SolidMesh *mesh = m->mesh;
    m->facets = g_new(ShadeNormal, (gsize)mesh->n_triangles + 1);
    m->corners = g_new(ShadeNormal, 3 * (gsize)mesh->n_triangles + 1);
    for (guint32 t = 0; t < mesh->n_triangles; t++)
        m->facets[t] = to_normal(vec3_unit(cross_area(mesh, t)));
    g_autofree guint32 *start = g_new0(guint32, (gsize)mesh->n_vertices + 1);
    g_autofree guint32 *around = list_around(mesh, start);
    for (guint32 t = 0; t < mesh->n_triangles; t++)
        for (int k = 0; k < 3; k++) {
            guint32 v = mesh->triangles[t][k];
            m->corners[3 * (gsize)t + k] = smooth_corner(m, t, around + start[v],
                                                         start[v + 1] - start[v]);
        }
}

static void
find_size(ShadeModel *m)
{
    const SolidMesh *mesh = m->mesh;
    Vec3 low = vec3(INFINITY, INFINITY, INFINITY), high = vec3_scale(low, -1);
    for (guint32 i = 0; i < mesh->n_vertices; i++) {
        Vec3 v = mesh->vertices[i];
        low = vec3(fmin(low.x, v.x), fmin(low.y, v.y), fmin(low.z, v.z));
        high = vec3(fmax(high.x, v.x), fmax(high.y, v.y), fmax(high.z, v.z));
    }
    if (mesh->n_vertices == 0)
        low = high = vec3(0, 0, 0);
    m->low = low;
    m->high = high;
    m->middle = vec3_scale(vec3_add(low, high), 0.5);
    for (guint32 i = 0; i < mesh->n_vertices; i++) {
        Vec3 d = vec3_sub(mesh->vertices[i], m->middle);
        m->round = fmax(m->round, hypot(d.x, d.y));
        m->whole = fmax(m->whole, vec3_length(d));
    }
    Vec3 foot, tip;
    shade_arrow(m, &foot, &tip);
    if (!isnan(m->parting))
        m->whole = fmax(m->whole, tip.z - m->middle.z);
}

void
shade_arrow(const ShadeModel *m, Vec3 *foot, Vec3 *tip)
{
    double size = vec3_length(vec3_sub(m->high, m->low)) / 2;
    *foot = vec3(m->middle.x, m->middle.y, m->high.z + 0.1 * size);
    *tip = vec3(m->middle.x, m->middle.y, foot->z + ARROW * size);
}

static ShadeModel *
make_model(const SolidMesh *mesh, const guint8 *classes, const guint32 *areas, double parting)
{
    ShadeModel *m = g_atomic_rc_box_new0(ShadeModel);
    gsize n = mesh->n_triangles;
    m->mesh = solid_mesh_ref(mesh);
    m->classes = g_new0(guint8, n + 1);
    if (classes && n > 0)
        memcpy(m->classes, classes, n);
    if (areas && n > 0)
        m->areas = g_memdup2(areas, n * sizeof *areas);
    m->parting = parting;
    find_size(m);
    find_normals(m);
    return m;
}

// Of the same size, so that nothing jumps when one takes the other's place.
static ShadeModel *
make_coarse(const ShadeModel *m)
{
    g_autofree guint32 *from = NULL;
    g_autoptr(SolidMesh) mesh = shade_coarse(m->mesh, m->low, m->high, &from);
    ShadeModel *coarse = make_model(mesh, NULL, NULL, m->parting);
    coarse->areas = m->areas ? g_new(guint32, (gsize)mesh->n_triangles + 1) : NULL;
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        coarse->classes[t] = m->classes[from[t]];
        if (coarse->areas)
            coarse->areas[t] = m->areas[from[t]];
    }
    coarse->middle = m->middle;
    coarse->low = m->low;
    coarse->high = m->high;
    coarse->round = m->round;
    coarse->whole = m->whole;
    return coarse;
}

ShadeModel *
shade_model_new_areas(const SolidMesh *mesh, const guint8 *classes, const guint32 *areas,
                      double parting)
{
    ShadeModel *m = make_model(mesh, classes, areas, parting);
    if (mesh->n_triangles > MANY)
        m->coarse = make_coarse(m);
    return m;
}

ShadeModel *
shade_model_new(const SolidMesh *mesh, const guint8 *classes, double parting)
{
    return shade_model_new_areas(mesh, classes, NULL, parting);
}

guint8 *
shade_classes(const FaceDraft *f)
{
    guint8 *classes = g_new0(guint8, (gsize)f->n + 1);
    for (guint32 t = 0; t < f->n; t++)
        classes[t] = f->hidden[t] ? SHADE_HIDDEN : f->low[t] ? SHADE_LOW : SHADE_DRAWS;
    return classes;
}

ShadeModel *
shade_model_ref(const ShadeModel *model)
{
    return g_atomic_rc_box_acquire((ShadeModel *)model);
}

static void
clear_model(gpointer data)
{
    ShadeModel *m = data;
    solid_mesh_unref(m->mesh);
    g_free(m->classes);
    g_free(m->areas);
    shade_model_unref(m->coarse);
    g_free(m->facets);
    g_free(m->corners);
}

void
shade_model_unref(const ShadeModel *model)
{
    if (model)
        g_atomic_rc_box_release_full((ShadeModel *)model, clear_model);
}
