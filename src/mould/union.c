// SPDX-License-Identifier: GPL-3.0-or-later
// The sweep: edges enter and leave a list kept in order of x; edges that change places inside a
// strip cross there, and the strip is cut at the crossing.
#include "mould/union.h"

#include <math.h>

#define DISC_SIDES 180

typedef struct {
    double x1, y1, x2, y2; // y1 < y2
    guint shape;
} Edge;

struct MouldUnion {
    GArray *edges;  // Edge
    GArray *levels; // double, y of every corner
    guint n_shapes;
};

typedef struct {
    const Edge **edges; // in order of x in the last strip
    guint n;
    GArray *crossings; // double
    gint *inside;      // per shape: 1 while within it
    double area, moment_x, moment_y;
} Sweep;

MouldUnion *
mould_union_new(void)
{
    MouldUnion *u = g_new0(MouldUnion, 1);
    u->edges = g_array_new(FALSE, FALSE, sizeof(Edge));
    u->levels = g_array_new(FALSE, FALSE, sizeof(double));
    return u;
}

void
mould_union_free(MouldUnion *u)
{
    if (!u)
        return;
    g_array_unref(u->edges);
    g_array_unref(u->levels);
    g_free(u);
}

static void
add_edge(MouldUnion *u, SolidPoint a, SolidPoint b)
{
    g_array_append_val(u->levels, a.y);
    if (a.y == b.y)
        return;
    Edge e = a.y < b.y ? (Edge){a.x, a.y, b.x, b.y, u->n_shapes}
                       : (Edge){b.x, b.y, a.x, a.y, u->n_shapes};
    g_array_append_val(u->edges, e);
}

void
mould_union_add(MouldUnion *u, const SolidPoint *points, guint n)
{
    for (guint i = 0; i < n; i++)
        add_edge(u, points[i], points[(i + 1) % n]);
    u->n_shapes++;
}

void
mould_union_add_disc(MouldUnion *u, double x, double y, double diameter)
{
    if (!(diameter > 0) || !isfinite(x) || !isfinite(y))
        return;
    double step = 2 * G_PI / DISC_SIDES, radius = diameter / 2 * sqrt(step / sin(step));
    SolidPoint points[DISC_SIDES];
    for (int i = 0; i < DISC_SIDES; i++)
        points[i] = (SolidPoint){x + radius * cos(i * step), y + radius * sin(i * step)};
    mould_union_add(u, points, DISC_SIDES);
}

void
mould_union_add_channel(MouldUnion *u, const MouldChannel *c)
{
    double dx = c->x2 - c->x1, dy = c->y2 - c->y1, length = hypot(dx, dy);
    if (!(length > 0) || !(c->width > 0))
        return;
    double nx = -dy / length * c->width / 2, ny = dx / length * c->width / 2;
    const SolidPoint points[4] = {{c->x1 + nx, c->y1 + ny},
                                  {c->x1 - nx, c->y1 - ny},
                                  {c->x2 - nx, c->y2 - ny},
                                  {c->x2 + nx, c->y2 + ny}};
    mould_union_add(u, points, 4);
}

void
mould_union_add_outline(MouldUnion *u, const SolidOutline *outline, double scale,
                        const MouldCavity *cavity)
{
    double c = scale * cos(cavity->turn), s = scale * sin(cavity->turn);
    for (guint loop = 0; loop < outline->n_loops; loop++) {
        guint from = outline->starts[loop], to = outline->starts[loop + 1];
        for (guint i = from; i < to; i++) {
            SolidPoint p = outline->points[i], q = outline->points[i + 1 < to ? i + 1 : from];
            add_edge(u, (SolidPoint){cavity->x + c * p.x - s * p.y, cavity->y + s * p.x + c * p.y},
                     (SolidPoint){cavity->x + c * q.x - s * q.y, cavity->y + s * q.x + c * q.y});
        }
    }
    u->n_shapes++;
}

static double
x_at(const Edge *e, double y)
{
    return e->x1 + (e->x2 - e->x1) * ((y - e->y1) / (e->y2 - e->y1));
}

static int
compare_doubles(gconstpointer a, gconstpointer b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return x < y ? -1 : x > y;
}

static int
compare_starts(gconstpointer a, gconstpointer b)
{
    return compare_doubles(&((const Edge *)a)->y1, &((const Edge *)b)->y1);
}

// Puts the list in order of x at `y`. With `crossings`, each pair that changes places between `low`
// and `y` is noted with where it crosses; the list is nearly in order, so this is quick.
static void
sort_edges(Sweep *sweep, double low, double y, gboolean note)
{
    for (guint i = 1; i < sweep->n; i++) {
        const Edge *e = sweep->edges[i];
        double x = x_at(e, y);
        guint k = i;
        for (; k > 0 && x_at(sweep->edges[k - 1], y) > x; k--) {
            const Edge *other = sweep->edges[k - 1];
            if (note) {
                double before = x_at(e, low) - x_at(other, low), after = x_at(other, y) - x;
                double at = low + (y - low) * (before / (before + after));
                if (before > 0 && at > low && at < y)
                    g_array_append_val(sweep->crossings, at);
            }
            sweep->edges[k] = other;
        }
        sweep->edges[k] = e;
    }
}

// Adds length and moments of what is covered at height y, with weight w.
static void
add_line(Sweep *sweep, double y, double w)
{
    sort_edges(sweep, y, y, FALSE);
    int depth = 0;
    double start = 0;
    for (guint i = 0; i < sweep->n; i++) {
        const Edge *e = sweep->edges[i];
        int before = depth;
        sweep->inside[e->shape] ^= 1;
        depth += sweep->inside[e->shape] ? 1 : -1;
        double x = x_at(e, y);
        if (before == 0) {
            start = x;
        } else if (depth == 0) {
            sweep->area += w * (x - start);
            sweep->moment_x += w * (x * x - start * start) / 2;
            sweep->moment_y += w * y * (x - start);
        }
    }
}

// Between two heights without a corner or crossing all is at most quadratic in y: two points do.
static void
add_strip(Sweep *sweep, double low, double high)
{
    double middle = (low + high) / 2, half = (high - low) / 2;
    add_line(sweep, middle - half / sqrt(3), half);
    add_line(sweep, middle + half / sqrt(3), half);
}

static void
add_strips(Sweep *sweep, double low, double high)
{
    // Just inside, so that edges that meet in a corner at either end are in their order.
    double little = 1e-9 * (high - low);
    g_array_set_size(sweep->crossings, 0);
    sort_edges(sweep, low, low + little, FALSE);
    sort_edges(sweep, low + little, high - little, TRUE);
    g_array_sort(sweep->crossings, compare_doubles);
    for (guint i = 0; i < sweep->crossings->len; i++) {
        double at = g_array_index(sweep->crossings, double, i);
        if (at > low)
            add_strip(sweep, low, at);
        low = MAX(low, at);
    }
    add_strip(sweep, low, high);
}

MouldUnionArea
mould_union_measure(const MouldUnion *u)
{
    guint n = u->edges->len, next = 0;
    g_autoptr(GArray) sorted = g_array_sized_new(FALSE, FALSE, sizeof(Edge), n);
    g_autoptr(GArray) levels = g_array_sized_new(FALSE, FALSE, sizeof(double), u->levels->len);
    g_array_append_vals(sorted, u->edges->data, n);
    g_array_append_vals(levels, u->levels->data, u->levels->len);
    g_array_sort(sorted, compare_starts);
    g_array_sort(levels, compare_doubles);
    g_autofree const Edge **list = g_new(const Edge *, n + 1);
    g_autofree gint *inside = g_new0(gint, u->n_shapes + 1);
    g_autoptr(GArray) crossings = g_array_new(FALSE, FALSE, sizeof(double));
    Sweep sweep = {list, 0, crossings, inside, 0, 0, 0};
    for (guint i = 0; i + 1 < levels->len; i++) {
        double low = g_array_index(levels, double, i), high = g_array_index(levels, double, i + 1);
        if (!(high > low))
            continue;
        guint kept = 0;
        for (guint k = 0; k < sweep.n; k++)
            if (list[k]->y2 > low)
                list[kept++] = list[k];
        sweep.n = kept;
        for (; next < n && g_array_index(sorted, Edge, next).y1 <= low; next++)
            list[sweep.n++] = &g_array_index(sorted, Edge, next);
        add_strips(&sweep, low, high);
    }
    double area = sweep.area;
    return (MouldUnionArea){area, area > 0
                                      ? (SolidPoint){sweep.moment_x / area, sweep.moment_y / area}
                                      : (SolidPoint){NAN, NAN}};
}
