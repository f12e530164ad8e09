// SPDX-License-Identifier: GPL-3.0-or-later
// Sweeping sections towards the parting. In the cope a layer's envelope is the union of its own
// section with the layer above, grown by the draft over one layer's height; in the drag the same
// from below. Distances make growing a subtraction, so the outline keeps its place within a cell.
#include "part/sweep.h"

#include <string.h>

#include "base/error.h"
#include "part/planar.h"

#define NEAR 0.3F  // of a cell; so near a wall carried on, a layer still belongs to it
#define STEEP 6.0F // cells out a layer; more is not one wall
#define EDGE 0.05F // difference of two walls' slopes that makes an edge between them

void
sweep_body_clear(SweepBody *body)
{
    int layers = body->rough ? body->rough->nz : 0;
    for (int way = 0; way < 2; way++) {
        for (int k = 0; body->reach[way] && k < layers; k++)
            g_free(body->reach[way][k]);
        g_clear_pointer(&body->reach[way], g_free);
    }
    g_clear_pointer(&body->rough, solid_grid_unref);
    g_clear_pointer(&body->section, solid_grid_unref);
}

void
sweep_envelope_clear(SweepEnvelope *envelope)
{
    g_clear_pointer(&envelope->layers, solid_grid_unref);
}

static SolidGrid *
make_like(const SolidGrid *g, GError **error)
{
    SolidGrid *out = solid_grid_new(g->nx, g->ny, g->nz, g->cell, g->origin);
    if (!out)
        base_error_set(error, BASE_ERROR_LIMIT, NULL, NULL, "the grid has too many cells",
                       "choose a coarser resolution");
    return out;
}

static gboolean
has_metal(const SolidGrid *g, int k)
{
    gsize n = (gsize)g->nx * g->ny, base = (gsize)k * n;
    for (gsize p = 0; p < n; p++)
        if (g->value[base + p] <= 0)
            return TRUE;
    return FALSE;
}

// How far (share of a cell) the metal of an end layer reaches on towards the empty layer beside it.
static double
find_reach(const SolidGrid *g, int k, int empty)
{
    gsize n = (gsize)g->nx * g->ny;
    double reach = 0;
    if (empty < 0 || empty >= g->nz)
        return 0;
    for (gsize p = 0; p < n; p++) {
        double in = g->value[(gsize)k * n + p], out = g->value[(gsize)empty * n + p];
        if (in <= 0)
            reach = fmax(reach, in / (in - out));
    }
    return reach;
}

// Faces that lie flat end between two layers. The section there counts, and the taper starts there,
// not at the layer before; so each cell learns how far the metal at its nearest place of the
// outline goes on, looked up a step into the metal, since right at the outline the distance is
// rounded.
static float *
find_reaches(const SolidGrid *g, int k, int beyond, const PlanarWork *work)
{
    gsize n = (gsize)g->nx * g->ny;
    const float *own = g->value + (gsize)k * n, *next = g->value + (gsize)beyond * n;
    gboolean any = FALSE;
    for (gsize p = 0; p < n && !any; p++)
        any = own[p] <= 0 && next[p] > 0;
    if (!any)
        return NULL;
    g_autofree float *reach = g_new0(float, n);
    any = FALSE;
    for (int j = 0; j < g->ny; j++)
        for (int i = 0; i < g->nx; i++) {
            gsize at = (gsize)j * g->nx + i;
            for (double steps = 1.5; steps > 0.5; steps /= 2) {
                int x, y;
                if (!planar_inward(work, i, j, own[at] <= 0, steps, &x, &y))
                    break;
                gsize in = (gsize)y * g->nx + x;
                if (own[in] > 0)
                    continue;
                if (next[in] > 0) {
                    reach[at] = (float)(g->cell * own[in] / ((double)own[in] - next[in]));
                    any = TRUE;
                }
                break;
            }
        }
    return any ? g_steal_pointer(&reach) : NULL;
}

static void
section_layer(SweepBody *body, int k, PlanarWork *work)
{
    const SolidGrid *g = body->rough;
    gsize n = (gsize)g->nx * g->ny;
    planar_distance(g->value + (gsize)k * n, g->nx, g->ny, g->cell, g->cell * (g->nx + g->ny),
                    body->section->value + (gsize)k * n, work);
    if (k + 1 < g->nz)
        body->reach[0][k] = find_reaches(g, k, k + 1, work);
    if (k > 0)
        body->reach[1][k] = find_reaches(g, k, k - 1, work);
}

gboolean
sweep_sections(SweepBody *body, Progress *progress, GError **error)
{
    const SolidGrid *g = body->rough;
    body->section = make_like(g, error);
    if (!body->section)
        return FALSE;
    for (int way = 0; way < 2; way++)
        body->reach[way] = g_new0(float *, g->nz);
#pragma omp parallel
    {
        g_autoptr(PlanarWork) work = planar_work_new(g->nx, g->ny);
#pragma omp for schedule(dynamic)
        for (int k = 0; k < g->nz; k++)
            if (!progress_stopped(progress))
                section_layer(body, k, work);
    }
    body->first = 0;
    body->last = g->nz - 1;
    while (body->first <= body->last && !has_metal(g, body->first))
        body->first++;
    while (body->last >= body->first && !has_metal(g, body->last))
        body->last--;
    if (body->first <= body->last) {
        double low = body->first - find_reach(g, body->first, body->first - 1);
        double high = body->last + find_reach(g, body->last, body->last + 1);
        body->low = g->origin.z + low * g->cell;
        body->high = g->origin.z + high * g->cell;
    }
    return progress_check(progress, error);
}

// Where two walls, d = low + below x and d = high + above (x - 1), meet between x = 0 and 1: its d
// less its taper down to x = 0. INFINITY when they do not, or make no edge.
static float
meet_walls(float low, float below, float high, float above, float step, float cell)
{
    if (!(above - below > EDGE * cell) || fabsf(below) > STEEP * cell ||
        fabsf(above) > STEEP * cell)
        return INFINITY;
    float x = (high - above - low) / (below - above);
    return x > 0 && x < 1 ? low + below * x - step * x : INFINITY;
}

// How far out an edge between this layer (d[2] of six) and the next reaches that neither cuts: the
// walls below and above it, carried on, meet there. Less its taper down to this layer; INFINITY if
// there is none. The layers next to the edge, whose cells may be nearer to the other wall, only
// speak when those beyond them do not fit.
static float
find_edge(const float d[6], float step, float cell)
{
    float below = d[1] - d[0], above = d[5] - d[4];
    float low = d[1] + below, high = d[4] - above;
    if (fabsf(d[2] - low) < NEAR * cell && fabsf(d[3] - high) < NEAR * cell)
        return meet_walls(low, below, high, above, step, cell);
    return meet_walls(d[2], d[2] - d[1], d[3], d[4] - d[3], step, cell);
}

// The rows of the layers two before to three beyond a layer; FALSE at the ends of the grid.
static gboolean
find_rows(const SolidGrid *g, int way, int j, int k, const float *rows[6])
{
    int sign = way == 0 ? 1 : -1, first = k - 2 * sign, last = k + 3 * sign;
    if (MIN(first, last) < 0 || MAX(first, last) >= g->nz)
        return FALSE;
    for (int r = 0; r < 6; r++)
        rows[r] = g->value + solid_grid_index(g, 0, j, first + r * sign);
    return TRUE;
}

// One row of one layer of the envelope, from the row of the layer beyond it (NULL at the end).
// Where the metal ends between this layer and the next, its last section is the layer's own,
// carried on as the wall leans. `out` may be `beyond`.
static void
sweep_row(const SweepBody *body, double tangent, int way, int j, int k, const float *beyond,
          float *out)
{
    const SolidGrid *g = body->section;
    const float *own = g->value + solid_grid_index(g, 0, j, k);
    const float *reach = body->reach[way][k];
    float step = (float)(g->cell * tangent), taper = (float)tangent, cell = (float)g->cell;
    int back = way == 0 ? k - 1 : k + 1;
    if (back < 0 || back >= g->nz)
        back = k;
    const float *before = g->value + solid_grid_index(g, 0, j, back);
    const float *rows[6];
    gboolean within = find_rows(g, way, j, k, rows);
    if (reach)
        reach += (gsize)j * g->nx;
    for (int i = 0; i < g->nx; i++) {
        float d = own[i], edge = INFINITY;
        if (within)
            edge = find_edge(
                (float[6]){rows[0][i], rows[1][i], rows[2][i], rows[3][i], rows[4][i], rows[5][i]},
                step, cell);
        if (edge < INFINITY) {
            d = fminf(d, edge);
        } else if (reach && reach[i] > 0) {
            float lean = own[i] - before[i]; // of the wall over one layer
            lean = fabsf(lean) < 2 * cell ? lean / cell : 0;
            d = fminf(d, d + (lean - taper) * reach[i]);
        }
        out[i] = beyond ? MIN(d, beyond[i] - step) : d;
    }
}

// Share of a cell within the line at distance d from its middle.
static double
fill_share(double d, double cell)
{
    return CLAMP(0.5 - d / cell, 0.0, 1.0);
}

// Area (m2) of every layer's envelope swept all the way from one end. Rows are summed on their own
// and then in their order.
static double *
sweep_areas(const SweepBody *body, double tangent, gboolean from_top, Progress *progress)
{
    const SolidGrid *g = body->section;
    g_autofree double *rows = g_new0(double, (gsize)g->nz * g->ny);
    double *areas = g_new0(double, g->nz);
#pragma omp parallel for schedule(static)
    for (int j = 0; j < g->ny; j++) {
        g_autofree float *run = g_new(float, g->nx);
        for (int s = 0; s < g->nz && !progress_stopped(progress); s++) {
            int k = from_top ? g->nz - 1 - s : s;
            double sum = 0;
            sweep_row(body, tangent, !from_top, j, k, s > 0 ? run : NULL, run);
            for (int i = 0; i < g->nx; i++)
                sum += fill_share(run[i], g->cell);
            rows[(gsize)k * g->ny + j] = sum;
        }
    }
    for (int k = 0; k < g->nz; k++)
        for (int j = 0; j < g->ny; j++)
            areas[k] += rows[(gsize)k * g->ny + j] * g->cell * g->cell;
    return areas;
}

// Where a parabola through the costs below, at and above a height is least, in layers.
static double
refine_least(double below, double at, double above)
{
    double bend = below - 2 * at + above;
    return bend > 0 ? CLAMP(0.5 * (below - above) / bend, -0.5, 0.5) : 0;
}

double
sweep_best_parting(const SweepBody *body, double tangent, double highest, Progress *progress)
{
    const SolidGrid *g = body->section;
    g_autofree double *cope = sweep_areas(body, tangent, TRUE, progress);
    g_autofree double *drag = sweep_areas(body, tangent, FALSE, progress);
    // cost[k]: area sum when layers up to k are in the drag.
    int n = body->last - body->first + 2;
    g_autofree double *cost = g_new0(double, n);
    for (int c = 0; c < n; c++)
        for (int k = body->first; k <= body->last; k++)
            cost[c] += k < body->first + c ? drag[k] : cope[k];
    double middle = 0.5 * (body->low + body->high), best_z = body->low;
    int best = -1;
    for (int c = 0; c < n; c++) {
        double z = CLAMP(g->origin.z + (body->first + c - 0.5) * g->cell, body->low, body->high);
        if (c > 0 && z > highest)
            break;
        double equal = best < 0 ? 0 : 1e-6 * cost[best];
        if (best < 0 || cost[c] < cost[best] - equal ||
            (cost[c] < cost[best] + equal && fabs(z - middle) < fabs(best_z - middle))) {
            best = c;
            best_z = z;
        }
    }
    if (best > 0 && best < n - 1)
        best_z += g->cell * refine_least(cost[best - 1], cost[best], cost[best + 1]);
    return CLAMP(best_z, body->low, MIN(highest, body->high));
}

gboolean
sweep_envelope(const SweepBody *body, double tangent, double parting, SweepEnvelope *envelope,
               Progress *progress, GError **error)
{
    const SolidGrid *g = body->section;
    SolidGrid *out = make_like(g, error);
    if (!out)
        return FALSE;
    double place = floor((parting - g->origin.z) / g->cell);
    int below = (int)CLAMP(place, -1.0, (double)(g->nz - 1));
    gsize layer = (gsize)g->nx * g->ny;
#pragma omp parallel for schedule(static)
    for (int j = 0; j < g->ny; j++) {
        float *row = out->value + (gsize)j * g->nx;
        for (int k = g->nz - 1; k > below && !progress_stopped(progress); k--)
            sweep_row(body, tangent, 0, j, k, k < g->nz - 1 ? row + (k + 1) * layer : NULL,
                      row + k * layer);
        for (int k = 0; k <= below && !progress_stopped(progress); k++)
            sweep_row(body, tangent, 1, j, k, k > 0 ? row + (k - 1) * layer : NULL,
                      row + k * layer);
    }
    *envelope = (SweepEnvelope){body, out, tangent, parting, below};
    if (progress_check(progress, error))
        return TRUE;
    sweep_envelope_clear(envelope);
    return FALSE;
}
