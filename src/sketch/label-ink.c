// SPDX-License-Identifier: GPL-3.0-or-later
// An outline is kept as edges in stretches of a few, each with its box, since an outline of
// hundreds of points passes by most places at a distance.
#include "sketch/label-ink.h"

#include <math.h>

#define STRETCH 16    // edges
#define FINENESS 1.75 // device units; points closer to the one before say nothing to a text

typedef struct {
    SolidPoint a, b;
} Edge;

typedef struct {
    SolidPoint min, max;
} Box;

typedef struct {
    Box box;
    guint first, end; // edges
} Stretch;

typedef struct {
    Box box;
    guint first, end; // stretches
    SceneRole role;
    gboolean filled, stroked;
    const char *part; // the scene's
} Outline;

struct LabelInk {
    GArray *edges, *stretches, *outlines;
};

LabelInk *
label_ink_new(void)
{
    LabelInk *ink = g_new(LabelInk, 1);
    ink->edges = g_array_new(FALSE, FALSE, sizeof(Edge));
    ink->stretches = g_array_new(FALSE, FALSE, sizeof(Stretch));
    ink->outlines = g_array_new(FALSE, FALSE, sizeof(Outline));
    return ink;
}

void
label_ink_free(LabelInk *ink)
{
    if (!ink)
        return;
    g_array_unref(ink->edges);
    g_array_unref(ink->stretches);
    g_array_unref(ink->outlines);
    g_free(ink);
}

static const Edge *
get_edge(const LabelInk *ink, guint i)
{
    return &g_array_index(ink->edges, Edge, i);
}

static const Stretch *
get_stretch(const LabelInk *ink, guint i)
{
    return &g_array_index(ink->stretches, Stretch, i);
}

static const Outline *
get_outline(const LabelInk *ink, guint i)
{
    return &g_array_index(ink->outlines, Outline, i);
}

static const Box no_box = {{INFINITY, INFINITY}, {-INFINITY, -INFINITY}};

static void
grow_box(Box *box, SolidPoint p)
{
    box->min = (SolidPoint){fmin(box->min.x, p.x), fmin(box->min.y, p.y)};
    box->max = (SolidPoint){fmax(box->max.x, p.x), fmax(box->max.y, p.y)};
}

static void
take_stretches(LabelInk *ink, Outline *outline, guint first_edge)
{
    outline->box = no_box;
    outline->first = ink->stretches->len;
    for (guint i = first_edge; i < ink->edges->len; i += STRETCH) {
        Stretch stretch = {no_box, i, MIN(i + STRETCH, ink->edges->len)};
        for (guint k = stretch.first; k < stretch.end; k++) {
            grow_box(&stretch.box, get_edge(ink, k)->a);
            grow_box(&stretch.box, get_edge(ink, k)->b);
        }
        grow_box(&outline->box, stretch.box.min);
        grow_box(&outline->box, stretch.box.max);
        g_array_append_val(ink->stretches, stretch);
    }
    outline->end = ink->stretches->len;
}

static void
take_run(LabelInk *ink, const BrushPath *path, guint first, guint end)
{
    Edge edge = {path->points[first], path->points[first]};
    for (guint i = first + 1; i < end; i++) {
        edge.b = path->points[i];
        if (i + 1 < end && hypot(edge.b.x - edge.a.x, edge.b.y - edge.a.y) < FINENESS)
            continue;
        g_array_append_val(ink->edges, edge);
        edge.a = edge.b;
    }
    edge.b = path->points[first];
    if (path->closed)
        g_array_append_val(ink->edges, edge);
}

void
label_ink_take(LabelInk *ink, const Scene *scene, const PaintView *view, const Shape *shape)
{
    g_auto(BrushPath) path = {0};
    if (!brush_path(scene, view, shape, &path))
        return;
    Outline outline = {.role = shape->role,
                       .filled = shape->filled,
                       .stroked = shape->stroked,
                       .part = shape->part};
    guint first_edge = ink->edges->len;
    for (guint run = 0; run < path.n_runs; run++)
        if (path.starts[run + 1] > path.starts[run])
            take_run(ink, &path, path.starts[run], path.starts[run + 1]);
    take_stretches(ink, &outline, first_edge);
    g_array_append_val(ink->outlines, outline);
}

static gboolean
box_meets(const Box *box, SolidPoint min, SolidPoint max)
{
    return box->min.x <= max.x && box->max.x >= min.x && box->min.y <= max.y && box->max.y >= min.y;
}

// Even-odd, by the edges to the right of the point.
static gboolean
contains(const LabelInk *ink, const Outline *outline, SolidPoint p)
{
    gboolean inside = FALSE;
    if (!box_meets(&outline->box, p, p))
        return FALSE;
    for (guint i = outline->first; i < outline->end; i++) {
        const Stretch *s = get_stretch(ink, i);
        if (s->box.min.y > p.y || s->box.max.y < p.y || s->box.max.x < p.x)
            continue;
        for (guint k = s->first; k < s->end; k++) {
            const Edge *e = get_edge(ink, k);
            if ((e->a.y > p.y) != (e->b.y > p.y) &&
                p.x < (e->b.x - e->a.x) * (p.y - e->a.y) / (e->b.y - e->a.y) + e->a.x)
                inside = !inside;
        }
    }
    return inside;
}

// The filled outline on top at a point, of those from `first` on.
static const Outline *
find_top(const LabelInk *ink, guint first, SolidPoint p)
{
    for (guint i = ink->outlines->len; i-- > first;) {
        const Outline *o = get_outline(ink, i);
        if (o->filled && contains(ink, o, p))
            return o;
    }
    return NULL;
}

SceneRole
label_ink_at(const LabelInk *ink, SolidPoint p, const char **part)
{
    const Outline *top = find_top(ink, 0, p);
    *part = top ? top->part : NULL;
    return top ? top->role : ROLE_PAPER;
}

gboolean
label_ink_has(const LabelInk *ink, SolidPoint p, SceneRole role)
{
    for (guint i = 0; i < ink->outlines->len; i++) {
        const Outline *o = get_outline(ink, i);
        if (o->role == role && o->filled && contains(ink, o, p))
            return TRUE;
    }
    return FALSE;
}

gboolean
label_ink_covered(const LabelInk *ink, guint i, SolidPoint p)
{
    return find_top(ink, i + 1, p) != NULL;
}

SceneRole
label_ink_role(const LabelInk *ink, guint i)
{
    return get_outline(ink, i)->role;
}

gboolean
label_ink_extent(const LabelInk *ink, const char *part, SolidPoint *min, SolidPoint *max)
{
    Box box = no_box;
    for (guint i = 0; i < ink->outlines->len; i++) {
        const Outline *o = get_outline(ink, i);
        if (o->filled && g_strcmp0(o->part, part) == 0) {
            grow_box(&box, o->box.min);
            grow_box(&box, o->box.max);
        }
    }
    *min = box.min;
    *max = box.max;
    return min->x <= max->x;
}

double
label_ink_sum(const LabelInk *ink, SolidPoint min, SolidPoint max, double most, LabelEdgeCost cost,
              gconstpointer data)
{
    double sum = 0.0;
    for (guint i = 0; i < ink->outlines->len && sum <= most; i++) {
        const Outline *o = get_outline(ink, i);
        if (!o->stroked || !box_meets(&o->box, min, max))
            continue;
        for (guint k = o->first; k < o->end; k++) {
            const Stretch *s = get_stretch(ink, k);
            for (guint n = s->first; box_meets(&s->box, min, max) && n < s->end; n++) {
                const Edge *e = get_edge(ink, n);
                if (fmin(e->a.x, e->b.x) <= max.x && fmax(e->a.x, e->b.x) >= min.x &&
                    fmin(e->a.y, e->b.y) <= max.y && fmax(e->a.y, e->b.y) >= min.y)
                    sum += cost(ink, i, e->a, e->b, data);
            }
        }
    }
    return sum;
}
