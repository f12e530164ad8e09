// SPDX-License-Identifier: GPL-3.0-or-later
// Where the surface crosses an edge between two cell middles of a grid, and its normal there. A
// distance bends where two walls meet, so only the side that is not bent is asked.
#include "solid/net.h"
#include "solid/share.h"

#define SAME 0.1 // of a cell a cell, difference of two slopes of one wall

// What lies about a crossed edge.
typedef struct {
    gsize in, out; // the cells in the region and outside
    ShareLine line;
    int sign; // 1: `out` is the later one along the axis
} Crossing;

static Crossing
look_at(const SolidGrid *g, int i, int j, int k, int axis)
{
    const int n[3] = {g->nx, g->ny, g->nz}, at[3] = {i, j, k};
    const gsize step[3] = {1, (gsize)g->nx, (gsize)g->nx * g->ny};
    gsize a = solid_grid_index(g, i, j, k), b = a + step[axis];
    int before = at[axis], after = n[axis] - 1 - before;
    gssize way = (gssize)step[axis];
    if (g->value[a] <= 0)
        return (Crossing){a, b, solid_share_line(g->value + a, way, before, after, g->cell), 1};
    return (Crossing){b, a, solid_share_line(g->value + b, -way, after - 1, before + 1, g->cell),
                      -1};
}

double
solid_net_share(const SolidGrid *g, int i, int j, int k, int axis)
{
    Crossing c = look_at(g, i, j, k, axis);
    ShareSide side;
    double share = solid_share(&c.line, &side);
    return c.sign > 0 ? share : 1 - share;
}

// The difference over one cell on one side of a cell, outwards by `way` steps of the grid, and how
// much it bends further on.
static double
find_side(const float *at, gssize way, int room, double *bend)
{
    *bend = INFINITY;
    if (room < 1)
        return NAN;
    double one = (double)at[way] - at[0];
    if (room > 1)
        *bend = fabs((double)at[2 * way] - at[way] - one);
    return one;
}

// The slope along one axis at a cell, the `at`-th of n: of the side that goes on straight where the
// two differ, since the distance bends on the other. Adds what that side bends to *bent.
static double
find_slope(const SolidGrid *g, gsize cell, int at, int n, gsize step, double *bent)
{
    double bend_low, bend_high;
    double low = -find_side(g->value + cell, -(gssize)step, at, &bend_low);
    double high = find_side(g->value + cell, (gssize)step, n - 1 - at, &bend_high);
    *bent += fmin(bend_low, bend_high);
    if (isnan(low) || isnan(high))
        return isnan(low) ? high : low;
    if (fabs(low - high) < SAME * g->cell)
        return 0.5 * (low + high);
    return bend_low < bend_high ? low : high;
}

// The slopes at the cell in the region or at the one outside; how much they bend nearby.
static double
find_slopes(const SolidGrid *g, const Crossing *c, int i, int j, int k, int axis, gboolean within,
            double slope[3])
{
    const int n[3] = {g->nx, g->ny, g->nz};
    const gsize step[3] = {1, (gsize)g->nx, (gsize)g->nx * g->ny};
    int at[3] = {i, j, k};
    gsize cell = within ? c->in : c->out;
    double bent = 0;
    at[axis] += within == (c->sign < 0);
    for (int v = 0; v < 3; v++)
        if (v != axis)
            slope[v] = find_slope(g, cell, at[v], n[v], step[v], &bent);
    return bent;
}

Vec3
solid_net_normal(const SolidGrid *g, int i, int j, int k, int axis)
{
    Crossing c = look_at(g, i, j, k, axis);
    ShareSide side;
    solid_share(&c.line, &side);
    const double *d = c.line.d;
    double of_in[3], of_out[3];
    double bent_in = find_slopes(g, &c, i, j, k, axis, TRUE, of_in);
    double bent_out = find_slopes(g, &c, i, j, k, axis, FALSE, of_out);
    gboolean within = side == SHARE_IN || (side == SHARE_EVEN && bent_in < bent_out);
    double *slope = within ? of_in : of_out;
    double along = within ? d[2] - d[1] : d[4] - d[3];
    slope[axis] = c.sign * (isnan(along) ? d[3] - d[2] : along);
    Vec3 normal = vec3(slope[0], slope[1], slope[2]);
    double length = vec3_length(normal);
    return length > 0 && isfinite(length) ? vec3_scale(normal, 1 / length) : vec3(0, 0, 0);
}

Vec3
solid_net_slope(const SolidGrid *g, int i, int j, int k)
{
    double bent = 0;
    gsize cell = solid_grid_index(g, i, j, k);
    return vec3(find_slope(g, cell, i, g->nx, 1, &bent),
                find_slope(g, cell, j, g->ny, (gsize)g->nx, &bent),
                find_slope(g, cell, k, g->nz, (gsize)g->nx * g->ny, &bent));
}
