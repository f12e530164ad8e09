// SPDX-License-Identifier: GPL-3.0-or-later
// Outlines of a plane of values: each square between four cell middles is crossed by none, one or
// two straight pieces, and pieces are followed from square to square with the metal on the left.
#include "solid/outline.h"

typedef struct {
    int nu, nv;      // values, with a border of one outside value all round
    double *value;   // below zero in the metal
    double u0, v0;   // of value (0,0), m
    double cell;     // m
    guint8 *visited; // per edge along u: bit 0 along u, bit 1 along v
} Plane;

static Plane
make_plane(int nu, int nv, double u0, double v0, double cell)
{
    Plane p = {nu + 2, nv + 2, NULL, u0 - cell, v0 - cell, cell, NULL};
    gsize n = (gsize)p.nu * p.nv;
    p.value = g_new(double, n);
    p.visited = g_new0(guint8, n);
    for (gsize i = 0; i < n; i++)
        p.value[i] = INFINITY;
    return p;
}

static void
plane_clear(Plane *p)
{
    g_free(p->value);
    g_free(p->visited);
}

// Values that touch the border must not be infinite where an edge is crossed: outside is one cell
// away.
static void
close_border(Plane *p)
{
    for (int v = 0; v < p->nv; v++)
        for (int u = 0; u < p->nu; u++)
            if (u == 0 || v == 0 || u == p->nu - 1 || v == p->nv - 1)
                p->value[(gsize)v * p->nu + u] = p->cell;
}

static double
get_value(const Plane *p, int u, int v)
{
    return p->value[(gsize)v * p->nu + u];
}

// An edge starts at (u,v) and runs one step along u (way 0) or along v (way 1).
typedef struct {
    int u, v, way;
} Edge;

static SolidPoint
find_crossing(const Plane *p, Edge e)
{
    double a = get_value(p, e.u, e.v), b = get_value(p, e.u + !e.way, e.v + e.way);
    double t = a / (a - b);
    return (SolidPoint){p->u0 + (e.u + (e.way ? 0 : t)) * p->cell,
                        p->v0 + (e.v + (e.way ? t : 0)) * p->cell};
}

static gboolean
is_crossed(const Plane *p, Edge e)
{
    return (get_value(p, e.u, e.v) < 0) != (get_value(p, e.u + !e.way, e.v + e.way) < 0);
}

// The side of a square (its lower corner at u,v): 0 bottom, 1 right, 2 top, 3 left.
static Edge
find_side(int u, int v, int side)
{
    return side == 0   ? (Edge){u, v, 0}
           : side == 1 ? (Edge){u + 1, v, 1}
           : side == 2 ? (Edge){u, v + 1, 0}
                       : (Edge){u, v, 1};
}

// Having come into the square through `side`, the side to leave by. Walking the sides
// anticlockwise, a path enters where out turns to in and leaves where in turns to out; of two
// paths, whether the metal joins across decides, by the middle value.
static int
find_exit(const Plane *p, int u, int v, int side)
{
    int crossed = 0;
    for (int s = 0; s < 4; s++)
        crossed += is_crossed(p, find_side(u, v, s));
    if (crossed == 2) {
        for (int s = 1; s < 4; s++)
            if (is_crossed(p, find_side(u, v, (side + s) % 4)))
                return (side + s) % 4;
    }
    double middle = get_value(p, u, v) + get_value(p, u + 1, v) + get_value(p, u, v + 1) +
                    get_value(p, u + 1, v + 1);
    // The metal corner of the entered side lies on its left-hand end: metal on the left.
    return middle < 0 ? (side + 1) % 4 : (side + 3) % 4;
}

// Walks with the metal on the left. A way along +v through an edge along u has its left at u, and
// a way along +u through an edge along v has its left at v + 1.
static void
trace_loop(Plane *p, Edge start, GArray *points)
{
    Edge e = start;
    gboolean forward = e.way == 0 ? get_value(p, e.u, e.v) < 0 : get_value(p, e.u, e.v + 1) < 0;
    do {
        SolidPoint at = find_crossing(p, e);
        g_array_append_val(points, at);
        p->visited[(gsize)e.v * p->nu + e.u] |= (guint8)(1 << e.way);
        int u = e.way == 1 && !forward ? e.u - 1 : e.u, v = e.way == 0 && !forward ? e.v - 1 : e.v;
        int side = e.way == 0 ? (forward ? 0 : 2) : (forward ? 3 : 1);
        int out = find_exit(p, u, v, side);
        e = find_side(u, v, out);
        forward = out == 1 || out == 2;
    } while (e.u != start.u || e.v != start.v || e.way != start.way);
}

static SolidOutline *
trace_plane(Plane *p)
{
    GArray *points = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    GArray *starts = g_array_new(FALSE, FALSE, sizeof(guint));
    close_border(p);
    for (int v = 0; v < p->nv; v++)
        for (int u = 0; u + 1 < p->nu; u++) {
            Edge e = {u, v, 0};
            if ((p->visited[(gsize)v * p->nu + u] & 1) || !is_crossed(p, e))
                continue;
            guint first = points->len;
            trace_loop(p, e, points);
            g_array_append_val(starts, first);
        }
    return solid_outline_take(points, starts);
}

SolidOutline *
solid_section_grid(const SolidGrid *g, int axis, double at, double level)
{
    g_return_val_if_fail(axis >= 0 && axis <= 2, NULL);
    int n[3] = {g->nx, g->ny, g->nz};
    double origin[3] = {g->origin.x, g->origin.y, g->origin.z};
    gsize step[3] = {1, (gsize)g->nx, (gsize)g->nx * g->ny};
    int a = axis == 0 ? 1 : 0, b = axis == 2 ? 1 : 2;
    double place = (at - origin[axis]) / g->cell;
    Plane p = make_plane(n[a], n[b], origin[a], origin[b], g->cell);
    if (place >= 0 && place <= n[axis] - 1) {
        int low = MIN((int)place, MAX(n[axis] - 2, 0));
        double share = place - low;
        gsize up = n[axis] > 1 ? step[axis] : 0;
        for (int v = 0; v < n[b]; v++)
            for (int u = 0; u < n[a]; u++) {
                const float *q = g->value + (gsize)low * step[axis] + (gsize)u * step[a] +
                                 (gsize)v * step[b];
                p.value[(gsize)(v + 1) * p.nu + u + 1] = (1 - share) * q[0] + share * q[up] - level;
            }
    }
    SolidOutline *outline = trace_plane(&p);
    plane_clear(&p);
    return outline;
}

SolidOutline *
solid_section_shadow(const SolidGrid *g, double level)
{
    Plane p = make_plane(g->nx, g->ny, g->origin.x, g->origin.y, g->cell);
    for (int k = 0; k < g->nz; k++)
        for (int j = 0; j < g->ny; j++)
            for (int i = 0; i < g->nx; i++) {
                double *least = &p.value[(gsize)(j + 1) * p.nu + i + 1];
                *least = fmin(*least, g->value[solid_grid_index(g, i, j, k)] - level);
            }
    SolidOutline *outline = trace_plane(&p);
    plane_clear(&p);
    return outline;
}
