// SPDX-License-Identifier: GPL-3.0-or-later
// Changing the body on its grid. Fillets are a growing and a shrinking by the same radius, each by
// an exact distance, so that they keep their place within a share of a cell.
#include "part/shape.h"

#include "base/error.h"
#include "part/opening.h"
#include "part/planar.h"
#include "solid/edt.h"
#include "solid/net.h"

#define RIDGE 0.6 // slope of the distance below which two opposite faces are equally near
#define NOISE 0.1 // of a cell: no change

static double
find_slope(const SolidGrid *g, int i, int j, int k)
{
    gsize at = solid_grid_index(g, i, j, k), dj = (gsize)g->nx, dk = dj * (gsize)g->ny;
    double x = (double)(g->value[at + 1] - g->value[at - 1]);
    double y = (double)(g->value[at + dj] - g->value[at - dj]);
    double z = (double)(g->value[at + dk] - g->value[at - dk]);
    return sqrt(x * x + y * y + z * z) / (2 * g->cell);
}

// The middle of a wall between cells: with slopes of one on both sides of it, two cells on either
// side of it and the step between them say how deep it lies.
static double
find_depth(const SolidGrid *g, int i, int j, int k)
{
    gsize at = solid_grid_index(g, i, j, k), step[3] = {1, (gsize)g->nx, (gsize)g->nx * g->ny};
    double own = -(double)g->value[at], depth = own;
    for (int a = 0; a < 3; a++)
        for (int side = -1; side <= 1; side += 2) {
            double other = -(double)g->value[side > 0 ? at + step[a] : at - step[a]];
            double back = -(double)g->value[side > 0 ? at - step[a] : at + step[a]];
            // How steep it is along this line, from the side away from the middle.
            double slope = CLAMP((own - back) / g->cell, 0.0, 1.0);
            depth = fmax(depth, fmin(0.5 * (own + other + slope * g->cell), own + 0.5 * g->cell));
        }
    return depth;
}

// Marks the middles of walls thinner than wanted, with how much they lack on each side.
static gboolean
mark_ridges(const SolidGrid *g, double half, guint8 *ridge, float *lack)
{
    gboolean any = FALSE;
    for (int k = 1; k + 1 < g->nz; k++)
        for (int j = 1; j + 1 < g->ny; j++)
            for (int i = 1; i + 1 < g->nx; i++) {
                gsize at = solid_grid_index(g, i, j, k);
                if (g->value[at] > 0 || -(double)g->value[at] >= half ||
                    find_slope(g, i, j, k) > RIDGE)
                    continue;
                double depth = find_depth(g, i, j, k);
                if (depth >= half - NOISE * g->cell)
                    continue;
                ridge[at] = 1;
                lack[at] = (float)(half - depth);
                any = TRUE;
            }
    return any;
}

gboolean
shape_thicken(SolidGrid *g, double wall, Progress *progress, GError **error)
{
    gsize n = (gsize)g->nx * g->ny * g->nz, nx = (gsize)g->nx, ny = (gsize)g->ny;
    g_autofree guint8 *ridge = g_new0(guint8, n);
    g_autofree float *lack = g_new0(float, n);
    if (!mark_ridges(g, wall / 2, ridge, lack))
        return progress_check(progress, error);
    g_autofree guint32 *near = solid_edt_nearest(ridge, g, progress, error);
    if (!near)
        return FALSE;
    double reach = wall / 2 / g->cell + 2;
    for (gsize at = 0; at < n; at++) {
        gsize to = near[at];
        double x = (double)(at % nx) - (double)(to % nx);
        double y = (double)(at / nx % ny) - (double)(to / nx % ny);
        double z = (double)(at / (nx * ny)) - (double)(to / (nx * ny));
        if (x * x + y * y + z * z <= reach * reach)
            g->value[at] -= lack[to];
    }
    return progress_check(progress, error);
}

gboolean
shape_fillet(SolidGrid *g, double radius, Progress *progress, GError **error)
{
    gsize n = (gsize)g->nx * g->ny * g->nz;
    g_autoptr(SolidGrid) grown = solid_grid_new(g->nx, g->ny, g->nz, g->cell, g->origin);
    g_autofree guint8 *inside = g_new0(guint8, n);
    if (!grown)
        return base_error_set(error, BASE_ERROR_LIMIT, NULL, NULL, "the grid has too many cells",
                              "choose a coarser resolution");
    for (gsize at = 0; at < n; at++) {
        grown->value[at] = g->value[at] - (float)radius;
        inside[at] = grown->value[at] <= 0;
    }
    g_autoptr(SolidMesh) skin = solid_net(grown, NULL, progress, error);
    if (!skin)
        return FALSE;
    g_autoptr(SolidGrid) back = solid_grid_distance_as(skin, inside, g, radius + 2 * g->cell,
                                                       progress, error);
    if (!back)
        return FALSE;
    for (gsize at = 0; at < n; at++) {
        double filled = (double)back->value[at] + radius;
        if (filled < (double)g->value[at] - NOISE * g->cell)
            g->value[at] = (float)filled;
    }
    return progress_check(progress, error);
}

// One layer being looked at.
typedef struct {
    const SolidGrid *grid;
    int k;
    const OpeningScan *scan;
} Layer;

// How far (share of a cell) the metal round an opening goes on towards the layer beside it: the
// plug ends where its rim does.
static double
find_rim(const Layer *l, int beside)
{
    const SolidGrid *g = l->grid;
    const GArray *cells = l->scan->cells;
    gsize n = (gsize)g->nx * g->ny;
    const float *own = g->value + (gsize)l->k * n, *next = g->value + (gsize)beside * n;
    double sum = 0;
    guint count = 0;
    for (guint c = 0; c < cells->len; c++) {
        guint32 at = g_array_index(cells, guint32, c);
        int i = (int)(at % (guint32)g->nx), j = (int)(at / (guint32)g->nx);
        for (int dj = -2; dj <= 2; dj++)
            for (int di = -2; di <= 2; di++) {
                if (i + di < 0 || j + dj < 0 || i + di >= g->nx || j + dj >= g->ny)
                    continue;
                gsize to = (gsize)(j + dj) * g->nx + (gsize)(i + di);
                if (own[to] <= 0 && next[to] > 0 &&
                    l->scan->section[to] < -(float)(0.5 * g->cell)) {
                    sum += (double)own[to] / ((double)own[to] - (double)next[to]);
                    count++;
                }
            }
    }
    return count > 0 ? CLAMP(sum / count, 0.02, 0.98) : 0.5;
}

// Fills the gathered opening: below and above, its plug ends with its rim. `plug` takes the values.
static void
plug_opening(const Layer *l, SolidGrid *plug)
{
    const SolidGrid *g = l->grid;
    const GArray *cells = l->scan->cells;
    gsize n = (gsize)g->nx * g->ny;
    double up = l->k + 1 < g->nz ? find_rim(l, l->k + 1) : 0.5;
    double down = l->k > 0 ? find_rim(l, l->k - 1) : 0.5;
    for (guint c = 0; c < cells->len; c++) {
        gsize at = g_array_index(cells, guint32, c), here = (gsize)l->k * n + at;
        double value = (double)g->value[here], above = l->k + 1 < g->nz ? g->value[here + n] : 1;
        double below = l->k > 0 ? g->value[here - n] : 1;
        double t = above > 0 && above >= below ? up : down;
        double next = fmax(fmax(above, below), 0.01 * g->cell);
        plug->value[here] = (float)(above > 0 || below > 0 ? -next * t / (1 - t) : -value);
    }
}

// `section` is room for one layer.
static void
close_layer(const SolidGrid *g, int k, double diameter, OpeningScan *scan, PlanarWork *work,
            float *section, SolidGrid *plug)
{
    gsize n = (gsize)g->nx * g->ny, at = 0;
    Layer layer = {g, k, scan};
    gboolean round;
    double width;
    planar_distance(g->value + (gsize)k * n, g->nx, g->ny, g->cell, g->cell * (g->nx + g->ny),
                    section, work);
    opening_begin(scan, section);
    while (opening_next(scan, &at, &round, &width))
        if (round && width <= diameter)
            plug_opening(&layer, plug);
}

gboolean
shape_close_holes(SolidGrid *g, double diameter, Progress *progress, GError **error)
{
    gsize n = (gsize)g->nx * g->ny;
    g_autoptr(SolidGrid) plug = solid_grid_new(g->nx, g->ny, g->nz, g->cell, g->origin);
    if (!plug)
        return base_error_set(error, BASE_ERROR_LIMIT, NULL, NULL, "the grid has too many cells",
                              "choose a coarser resolution");
#pragma omp parallel
    {
        g_autofree float *section = g_new(float, n);
        g_autoptr(PlanarWork) work = planar_work_new(g->nx, g->ny);
        OpeningScan scan;
        opening_scan_init(&scan, g->nx, g->ny, g->cell);
#pragma omp for schedule(dynamic)
        for (int k = 0; k < g->nz; k++)
            if (!progress_stopped(progress))
                close_layer(g, k, diameter, &scan, work, section, plug);
        opening_scan_clear(&scan);
    }
    for (gsize at = 0; at < n * (gsize)g->nz; at++)
        if (plug->value[at] < 0)
            g->value[at] = plug->value[at];
    return progress_check(progress, error);
}
