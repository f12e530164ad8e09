// SPDX-License-Identifier: GPL-3.0-or-later
// Pegs, layer by layer outwards from the parting. A hole of the casting narrows towards the
// parting, so a peg's free end is where it first shows; every layer learns how high what lies in it
// has grown.
#include "part/peg.h"

#include <string.h>

#include "part/opening.h"

#define LAYERS 3

typedef struct {
    const SolidGrid *g;
    OpeningScan scan;
    float *before, *here; // height of the peg in each cell, m; 0 where there is none
    Peg most;
} Walk;

static void
judge_opening(Walk *w, int k, double step, double width)
{
    const SolidGrid *g = w->g;
    const GArray *cells = w->scan.cells;
    double height = 0, x = 0, y = 0;
    for (guint c = 0; c < cells->len; c++) {
        guint32 at = g_array_index(cells, guint32, c);
        height = fmax(height, (double)w->before[at]);
        x += at % (guint32)g->nx;
        y += at / (guint32)g->nx;
    }
    height += step;
    for (guint c = 0; c < cells->len; c++)
        w->here[g_array_index(cells, guint32, c)] = (float)height;
    if (height < (LAYERS - 0.5) * g->cell ||
        (w->most.width > 0 && height * w->most.width <= w->most.height * width))
        return;
    w->most = (Peg){height, width,
                    vec3(g->origin.x + g->cell * x / cells->len,
                         g->origin.y + g->cell * y / cells->len, g->origin.z + g->cell * k)};
}

static void
walk_layer(Walk *w, int k, double step)
{
    gsize n = (gsize)w->g->nx * w->g->ny, at = 0;
    gboolean round;
    double width;
    memset(w->here, 0, n * sizeof *w->here);
    opening_begin(&w->scan, w->g->value + (gsize)k * n);
    while (opening_next(&w->scan, &at, &round, &width))
        if (round)
            judge_opening(w, k, step, width);
    float *swap = w->before;
    w->before = w->here;
    w->here = swap;
}

void
peg_find(const SolidGrid *g, double parting, int below, Peg *peg, Progress *progress)
{
    gsize n = (gsize)g->nx * g->ny;
    g_autofree float *one = g_new(float, n), *two = g_new(float, n);
    Walk w = {.g = g, .before = one, .here = two};
    opening_scan_init(&w.scan, g->nx, g->ny, g->cell);
    for (int way = 1; way >= -1; way -= 2) {
        int first = way > 0 ? below + 1 : below;
        memset(w.before, 0, n * sizeof *w.before);
        for (int k = first; k >= 0 && k < g->nz && !progress_stopped(progress); k += way) {
            double end = way * (g->origin.z + k * g->cell - parting) + 0.5 * g->cell;
            walk_layer(&w, k, k == first ? fmax(end, 0) : g->cell);
        }
    }
    opening_scan_clear(&w.scan);
    *peg = w.most;
}
