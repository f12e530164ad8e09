// SPDX-License-Identifier: GPL-3.0-or-later
// Triangles are joined across the edges they share; the halves of an edge are brought together by
// counting on the lower vertex and sorting by the higher one.
#include "part/area.h"

#include <stdlib.h>

#include "solid/spread.h"

#define SHARP 0.766 // cosine of 40 degrees: across a steeper edge another side begins
#define ONE_WAY 0.5 // mean normal longer than this: it is one face
#define NO_WAY 1e-6 // mean normal shorter than this says nothing

typedef struct {
    guint32 higher, triangle;
} Half;

typedef struct {
    const SolidMesh *mesh;
    guint8 *state;    // per triangle: 0 none, 1 low, 2 hidden
    Vec3 *normals;    // per triangle
    double *sizes;    // per triangle, m2
    guint32 *parents; // per triangle: towards the first of its group
} Joiner;

static guint32
find_root(guint32 *parents, guint32 t)
{
    while (parents[t] != t) {
        parents[t] = parents[parents[t]];
        t = parents[t];
    }
    return t;
}

static void
join(Joiner *j, guint32 a, guint32 b)
{
    if (j->state[a] != j->state[b] || vec3_dot(j->normals[a], j->normals[b]) < SHARP)
        return;
    guint32 x = find_root(j->parents, a), y = find_root(j->parents, b);
    j->parents[MAX(x, y)] = MIN(x, y);
}

static int
compare_halves(const void *a, const void *b)
{
    const Half *x = a, *y = b;
    if (x->higher != y->higher)
        return x->higher < y->higher ? -1 : 1;
    return x->triangle < y->triangle ? -1 : x->triangle > y->triangle;
}

// Halves of the edges between triangles of some state; those with lower vertex v are halves[start[v
// ]] to halves[start[v + 1]].
static Half *
list_halves(const Joiner *j, gsize *start)
{
    const SolidMesh *mesh = j->mesh;
    for (guint32 t = 0; t < mesh->n_triangles; t++)
        for (int k = 0; k < 3 && j->state[t]; k++)
            start[MIN(mesh->triangles[t][k], mesh->triangles[t][(k + 1) % 3]) + 1]++;
    for (guint32 v = 0; v < mesh->n_vertices; v++)
        start[v + 1] += start[v];
    g_autofree gsize *next = g_memdup2(start, sizeof(gsize) * ((gsize)mesh->n_vertices + 1));
    Half *halves = g_new(Half, start[mesh->n_vertices] + 1);
    for (guint32 t = 0; t < mesh->n_triangles; t++)
        for (int k = 0; k < 3 && j->state[t]; k++) {
            guint32 a = mesh->triangles[t][k], b = mesh->triangles[t][(k + 1) % 3];
            halves[next[MIN(a, b)]++] = (Half){MAX(a, b), t};
        }
    return halves;
}

static void
join_all(Joiner *j)
{
    g_autofree gsize *start = g_new0(gsize, (gsize)j->mesh->n_vertices + 1);
    g_autofree Half *halves = list_halves(j, start);
    for (guint32 v = 0; v < j->mesh->n_vertices; v++) {
        Half *own = halves + start[v];
        gsize n = start[v + 1] - start[v];
        qsort(own, n, sizeof *own, compare_halves);
        for (gsize i = 0; i + 1 < n; i++)
            if (own[i].higher == own[i + 1].higher)
                join(j, own[i].triangle, own[i + 1].triangle);
    }
}

// The sums while they grow: middle, normal and draft are still times the area.
static void
add_triangle(const Joiner *j, guint32 t, double draft, Area *a)
{
    const guint32 *c = j->mesh->triangles[t];
    Vec3 corners = vec3_add(j->mesh->vertices[c[0]],
                            vec3_add(j->mesh->vertices[c[1]], j->mesh->vertices[c[2]]));
    a->hidden = j->state[t] == 2;
    a->area += j->sizes[t];
    a->middle = vec3_add(a->middle, vec3_scale(corners, j->sizes[t] / 3));
    a->normal = vec3_add(a->normal, vec3_scale(j->normals[t], j->sizes[t]));
    a->draft += j->sizes[t] * draft;
    a->least = a->n == 0 ? draft : fmin(a->least, draft);
    a->n++;
}

static int
compare_areas(const void *a, const void *b)
{
    const Area *x = *(const Area *const *)a, *y = *(const Area *const *)b;
    if (x->area != y->area)
        return x->area > y->area ? -1 : 1;
    return x < y ? -1 : x > y;
}

// One area for each group, in the order of their first triangles; `of` is filled alike.
static Area *
sum_groups(const Joiner *j, const FaceDraft *faces, guint32 *of, guint *n)
{
    guint32 triangles = j->mesh->n_triangles;
    *n = 0;
    for (guint32 t = 0; t < triangles; t++)
        of[t] = j->state[t] && j->parents[t] == t ? (*n)++ : AREA_NONE;
    Area *areas = g_new0(Area, *n + 1);
    for (guint32 t = 0; t < triangles; t++)
        if (j->state[t]) {
            of[t] = of[find_root(j->parents, t)];
            add_triangle(j, t, (double)faces->draft[t], &areas[of[t]]);
        }
    return areas;
}

// Whether what goes all round looks towards its middle or away from it.
static void
find_forms(const Joiner *j, AreaList *list)
{
    g_autofree double *bulge = g_new0(double, list->n + 1);
    for (guint32 t = 0; t < list->n_triangles; t++) {
        guint32 of = list->of[t];
        if (of == AREA_NONE)
            continue;
        Vec3 corner = j->mesh->vertices[j->mesh->triangles[t][0]];
        bulge[of] += j->sizes[t] *
                     vec3_dot(j->normals[t], vec3_sub(corner, list->areas[of].middle));
    }
    for (guint i = 0; i < list->n; i++) {
        Area *a = &list->areas[i];
        double length = vec3_length(a->normal) / a->area;
        a->form = length > ONE_WAY ? AREA_FACE : bulge[i] < 0 ? AREA_HOLE : AREA_ROUND;
        a->normal = length > NO_WAY ? vec3_unit(a->normal) : vec3(0, 0, 0);
    }
}

static AreaList *
sort_areas(Area *areas, guint n, guint32 *of, guint32 n_triangles)
{
    AreaList *list = g_atomic_rc_box_new0(AreaList);
    g_autofree Area **order = g_new(Area *, n + 1);
    g_autofree guint32 *place = g_new(guint32, n + 1);
    for (guint i = 0; i < n; i++)
        order[i] = &areas[i];
    qsort(order, n, sizeof *order, compare_areas);
    list->n = n;
    list->areas = g_new0(Area, n + 1);
    list->n_triangles = n_triangles;
    list->of = of;
    for (guint i = 0; i < n; i++) {
        Area a = *order[i];
        a.middle = vec3_scale(a.middle, 1 / a.area);
        a.draft /= a.area;
        list->areas[i] = a;
        place[order[i] - areas] = i;
    }
    for (guint32 t = 0; t < n_triangles; t++)
        if (of[t] != AREA_NONE)
            of[t] = place[of[t]];
    return list;
}

AreaList *
area_list_new(const SolidMesh *mesh, const FaceDraft *faces)
{
    g_return_val_if_fail(faces->n == mesh->n_triangles, NULL);
    gsize n = (gsize)mesh->n_triangles + 1;
    g_autofree guint8 *state = g_new0(guint8, n);
    g_autofree Vec3 *normals = g_new(Vec3, n);
    g_autofree double *sizes = g_new(double, n);
    g_autofree guint32 *parents = g_new(guint32, n);
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        normals[t] = solid_normal(mesh, t, &sizes[t]);
        state[t] = !(sizes[t] > 0) ? 0 : faces->hidden[t] ? 2 : faces->low[t] ? 1 : 0;
        parents[t] = t;
    }
    Joiner j = {mesh, state, normals, sizes, parents};
    join_all(&j);
    guint count;
    guint32 *of = g_new(guint32, n);
    g_autofree Area *areas = sum_groups(&j, faces, of, &count);
    AreaList *list = sort_areas(areas, count, of, mesh->n_triangles);
    find_forms(&j, list);
    return list;
}

AreaList *
area_list_ref(const AreaList *list)
{
    return g_atomic_rc_box_acquire((AreaList *)list);
}

static void
clear_list(gpointer data)
{
    AreaList *list = data;
    g_free(list->areas);
    g_free(list->of);
}

void
area_list_unref(const AreaList *list)
{
    if (list)
        g_atomic_rc_box_release_full((AreaList *)list, clear_list);
}
