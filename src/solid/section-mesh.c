// SPDX-License-Identifier: GPL-3.0-or-later
// Where a plane cuts a mesh. A vertex in the plane counts as above it, so every triangle that is
// cut is cut through exactly two edges; the cut runs from the edge that goes down to the edge that
// goes up (as the triangle is walked), which keeps the metal on the left.
#include "solid/outline.h"

#include <stdlib.h>

typedef struct {
    guint64 from, to; // edges: lower vertex in the upper half, higher vertex in the lower
    guint32 order;    // of the triangle
    gboolean used;
} Cut;

static double
get_axis(Vec3 v, int axis)
{
    return axis == 0 ? v.x : axis == 1 ? v.y : v.z;
}

static guint64
make_key(guint32 a, guint32 b)
{
    return (guint64)MIN(a, b) << 32 | MAX(a, b);
}

static int
compare_cuts(const void *a, const void *b)
{
    const Cut *p = a, *q = b;
    if (p->from != q->from)
        return p->from < q->from ? -1 : 1;
    return p->order < q->order ? -1 : p->order > q->order;
}

static GArray *
find_cuts(const SolidMesh *mesh, int axis, double at)
{
    GArray *cuts = g_array_new(FALSE, FALSE, sizeof(Cut));
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        const guint32 *v = mesh->triangles[t];
        gboolean up[3];
        for (int c = 0; c < 3; c++)
            up[c] = get_axis(mesh->vertices[v[c]], axis) >= at;
        if (up[0] == up[1] && up[1] == up[2])
            continue;
        Cut cut = {.order = t};
        for (int c = 0; c < 3; c++) {
            int d = (c + 1) % 3;
            if (up[c] && !up[d])
                cut.from = make_key(v[c], v[d]);
            else if (!up[c] && up[d])
                cut.to = make_key(v[c], v[d]);
        }
        if (axis == 1) { // (x,z) is seen from -y
            guint64 swap = cut.from;
            cut.from = cut.to;
            cut.to = swap;
        }
        g_array_append_val(cuts, cut);
    }
    if (cuts->len > 0)
        qsort(cuts->data, cuts->len, sizeof(Cut), compare_cuts);
    return cuts;
}

static SolidPoint
find_point(const SolidMesh *mesh, guint64 key, int axis, double at)
{
    Vec3 a = mesh->vertices[key >> 32], b = mesh->vertices[key & 0xffffffffu];
    double u = get_axis(a, axis), v = get_axis(b, axis);
    Vec3 p = vec3_add(a, vec3_scale(vec3_sub(b, a), (at - u) / (v - u)));
    return axis == 0   ? (SolidPoint){p.y, p.z}
           : axis == 1 ? (SolidPoint){p.x, p.z}
                       : (SolidPoint){p.x, p.y};
}

// The first unused cut that starts at an edge, or NULL.
static Cut *
find_next(GArray *cuts, guint64 from)
{
    guint low = 0, high = cuts->len;
    while (low < high) {
        guint middle = low + (high - low) / 2;
        if (g_array_index(cuts, Cut, middle).from < from)
            low = middle + 1;
        else
            high = middle;
    }
    for (; low < cuts->len && g_array_index(cuts, Cut, low).from == from; low++)
        if (!g_array_index(cuts, Cut, low).used)
            return &g_array_index(cuts, Cut, low);
    return NULL;
}

SolidOutline *
solid_section_mesh(const SolidMesh *mesh, int axis, double at)
{
    g_return_val_if_fail(axis >= 0 && axis <= 2, NULL);
    g_autoptr(GArray) cuts = find_cuts(mesh, axis, at);
    GArray *points = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    GArray *starts = g_array_new(FALSE, FALSE, sizeof(guint));
    for (guint i = 0; i < cuts->len; i++) {
        Cut *cut = &g_array_index(cuts, Cut, i);
        guint first = points->len;
        guint64 home = cut->from;
        gboolean closed = FALSE;
        while (cut && !cut->used) {
            SolidPoint p = find_point(mesh, cut->from, axis, at);
            cut->used = TRUE;
            g_array_append_val(points, p);
            closed = cut->to == home;
            cut = closed ? NULL : find_next(cuts, cut->to);
        }
        if (closed && points->len - first >= 3)
            g_array_append_val(starts, first);
        else // an open mesh leaves chains without an end; they bound nothing
            g_array_set_size(points, first);
    }
    return solid_outline_take(points, starts);
}
