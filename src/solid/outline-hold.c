// SPDX-License-Identifier: GPL-3.0-or-later
// An outline pushed out to the points of a skin that lie outside of it. Each such point belongs to
// the side it is nearest to; a side with points is replaced by the convex chain over them, so that
// all of them lie inside and nothing that lay inside is lost. What then dents the outline between
// two points of the skin is left out.
#include <math.h>

#include "solid/outline.h"

#define OUTSIDE 2e-7 // m; nearer points are left where they are
#define DENT 0.125   // of the reach; the deepest that is left out

// Sides of an outline by the squares of a raster their boxes meet, as lists.
typedef struct {
    const SolidOutline *outline;
    guint *next, *previous; // point along its loop
    SolidPoint origin;
    double cell;
    int nu, nv;
    int *head;     // of each square: the first entry, or -1
    GArray *entry; // Entry
} Raster;

typedef struct {
    guint side; // by the point it begins at
    int next;
} Entry;

// A point of the outline that is being made.
typedef struct {
    SolidPoint at;
    gboolean skin; // one of the mesh
} Corner;

// A point outside, as its side sees it.
typedef struct {
    guint side;
    double along, out; // m
    SolidPoint at;
} Beyond;

static int
square_of(double x, double origin, double cell, int n)
{
    return (int)CLAMP(floor((x - origin) / cell), 0, n - 1);
}

static void
add_side(Raster *r, guint side)
{
    SolidPoint p = r->outline->points[side], q = r->outline->points[r->next[side]];
    int from_u = square_of(fmin(p.x, q.x), r->origin.x, r->cell, r->nu);
    int from_v = square_of(fmin(p.y, q.y), r->origin.y, r->cell, r->nv);
    int to_u = square_of(fmax(p.x, q.x), r->origin.x, r->cell, r->nu);
    int to_v = square_of(fmax(p.y, q.y), r->origin.y, r->cell, r->nv);
    for (int v = from_v; v <= to_v; v++)
        for (int u = from_u; u <= to_u; u++) {
            int *head = &r->head[(gsize)v * r->nu + u];
            Entry entry = {side, *head};
            *head = (int)r->entry->len;
            g_array_append_val(r->entry, entry);
        }
}

static void
make_raster(Raster *r, const SolidOutline *o, double cell)
{
    SolidPoint max;
    solid_outline_box(o, &r->origin, &max);
    r->outline = o;
    r->cell = cell;
    r->nu = (int)ceil((max.x - r->origin.x) / cell) + 1;
    r->nv = (int)ceil((max.y - r->origin.y) / cell) + 1;
    r->next = g_new(guint, o->n_points);
    r->previous = g_new(guint, o->n_points);
    for (guint loop = 0; loop < o->n_loops; loop++)
        for (guint i = o->starts[loop], end = o->starts[loop + 1]; i < end; i++) {
            r->next[i] = i + 1 < end ? i + 1 : o->starts[loop];
            r->previous[r->next[i]] = i;
        }
    gsize n = (gsize)r->nu * r->nv;
    r->head = g_new(int, n);
    for (gsize i = 0; i < n; i++)
        r->head[i] = -1;
    r->entry = g_array_new(FALSE, FALSE, sizeof(Entry));
    for (guint i = 0; i < o->n_points; i++)
        add_side(r, i);
}

static void
clear_raster(Raster *r)
{
    g_free(r->next);
    g_free(r->previous);
    g_free(r->head);
    g_array_unref(r->entry);
}

// A point along a side and out from it, to the right, where no metal is.
static Beyond
see(const Raster *r, guint side, SolidPoint p)
{
    SolidPoint a = r->outline->points[side], b = r->outline->points[r->next[side]];
    double dx = b.x - a.x, dy = b.y - a.y, length = hypot(dx, dy);
    if (!(length > 0))
        return (Beyond){side, 0, 0, p};
    return (Beyond){side, ((p.x - a.x) * dx + (p.y - a.y) * dy) / length,
                    ((p.x - a.x) * dy - (p.y - a.y) * dx) / length, p};
}

// A point that is nearest to a corner: outside where the corner is convex, and then of the side it
// stands out from more, so that points of the one side are apart from those of the other.
static Beyond
see_corner(const Raster *r, guint corner, SolidPoint p)
{
    Beyond before = see(r, r->previous[corner], p), after = see(r, corner, p);
    Beyond seen = before.out > after.out ? before : after;
    gboolean convex = see(r, r->previous[corner], r->outline->points[r->next[corner]]).out < 0;
    if (!convex)
        seen.out = 0;
    return seen;
}

// The nearest side within a square or so. FALSE inside.
static gboolean
find_side(const Raster *r, SolidPoint p, Beyond *found)
{
    int u = (int)floor((p.x - r->origin.x) / r->cell),
        v = (int)floor((p.y - r->origin.y) / r->cell);
    double least = INFINITY;
    for (int j = MAX(v - 1, 0); j <= MIN(v + 1, r->nv - 1); j++)
        for (int i = MAX(u - 1, 0); i <= MIN(u + 1, r->nu - 1); i++)
            for (int e = r->head[(gsize)j * r->nu + i]; e >= 0;) {
                const Entry *entry = &g_array_index(r->entry, Entry, e);
                SolidPoint a = r->outline->points[entry->side];
                SolidPoint b = r->outline->points[r->next[entry->side]];
                Beyond seen = see(r, entry->side, p);
                double length = hypot(b.x - a.x, b.y - a.y);
                double off = seen.along - CLAMP(seen.along, 0, length);
                double distance = hypot(off, seen.out);
                e = entry->next;
                if (distance > least || (distance == least && seen.out <= found->out))
                    continue;
                least = distance;
                *found = seen;
                if (off != 0)
                    *found = see_corner(r, off < 0 ? entry->side : r->next[entry->side], p);
            }
    return isfinite(least) && least > OUTSIDE && found->out > 0;
}

static int
compare_beyond(const void *a, const void *b)
{
    const Beyond *p = a, *q = b;
    if (p->side != q->side)
        return p->side < q->side ? -1 : 1;
    if (p->along != q->along)
        return p->along < q->along ? -1 : 1;
    return (p->out > q->out) - (p->out < q->out);
}

// Does the way from a over b to c turn out?
static gboolean
bends_out(const Beyond *a, const Beyond *b, const Beyond *c)
{
    return (b->along - a->along) * (c->out - a->out) - (b->out - a->out) * (c->along - a->along) >=
           0;
}

// The convex chain from a side's beginning over `n` points, sorted, to its end, without the ends.
static void
add_chain(const Raster *r, const Beyond *points, guint n, GArray *out)
{
    guint side = points[0].side;
    SolidPoint p = r->outline->points[side], q = r->outline->points[r->next[side]];
    g_autofree Beyond *chain = g_new(Beyond, n + 2);
    guint m = 0;
    Beyond first = {side, fmin(0, points[0].along), 0, p};
    Beyond last = {side, fmax(hypot(q.x - p.x, q.y - p.y), points[n - 1].along), 0, q};
    chain[m++] = first;
    for (guint i = 0; i <= n; i++) {
        const Beyond *next = i < n ? &points[i] : &last;
        while (m > 1 && bends_out(&chain[m - 2], &chain[m - 1], next))
            m--;
        chain[m++] = *next;
    }
    for (guint i = 1; i + 1 < m; i++) {
        Corner corner = {chain[i].at, TRUE};
        g_array_append_val(out, corner);
    }
}

// Does a point lie a little to the left of the way between two of the skin?
static gboolean
is_dent(const Corner *a, const Corner *b, const Corner *c, double reach)
{
    double dx = c->at.x - a->at.x, dy = c->at.y - a->at.y, length = hypot(dx, dy);
    double left = dx * (b->at.y - a->at.y) - dy * (b->at.x - a->at.x);
    return !b->skin && a->skin && c->skin && left >= 0 && left < DENT * reach * length;
}

static void
add_loop(const GArray *loop, double reach, GArray *points, GArray *starts)
{
    const Corner *c = (const Corner *)(gconstpointer)loop->data;
    guint n = loop->len;
    g_array_append_val(starts, points->len);
    for (guint i = 0; i < n; i++)
        if (!is_dent(&c[(i + n - 1) % n], &c[i], &c[(i + 1) % n], reach))
            g_array_append_val(points, c[i].at);
}

static GArray *
find_beyond(const Raster *r, const SolidMesh *mesh)
{
    GArray *all = g_array_new(FALSE, FALSE, sizeof(Beyond));
    for (guint32 i = 0; i < mesh->n_vertices; i++) {
        Beyond found = {0};
        if (find_side(r, (SolidPoint){mesh->vertices[i].x, mesh->vertices[i].y}, &found))
            g_array_append_val(all, found);
    }
    g_array_sort(all, compare_beyond);
    return all;
}

SolidOutline *
solid_outline_holding(const SolidOutline *o, const SolidMesh *mesh, double reach)
{
    g_return_val_if_fail(o != NULL && mesh != NULL && reach > 0, NULL);
    if (o->n_points == 0)
        return solid_outline_ref((SolidOutline *)o);
    Raster r;
    make_raster(&r, o, reach);
    g_autoptr(GArray) all = find_beyond(&r, mesh);
    const Beyond *beyond = (const Beyond *)(gconstpointer)all->data;
    GArray *points = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    GArray *starts = g_array_new(FALSE, FALSE, sizeof(guint));
    guint at = 0;
    for (guint k = 0; k < o->n_loops; k++) {
        g_autoptr(GArray) loop = g_array_new(FALSE, FALSE, sizeof(Corner));
        for (guint i = o->starts[k]; i < o->starts[k + 1]; i++) {
            guint n = 0;
            Corner corner = {o->points[i], FALSE};
            g_array_append_val(loop, corner);
            while (at + n < all->len && beyond[at + n].side == i)
                n++;
            if (n > 0)
                add_chain(&r, beyond + at, n, loop);
            at += n;
        }
        add_loop(loop, reach, points, starts);
    }
    clear_raster(&r);
    return solid_outline_take(points, starts);
}
