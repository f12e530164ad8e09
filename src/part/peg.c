// SPDX-License-Identifier: GPL-3.0-or-later
// Pegs, layer by layer outwards from the parting. A hole of the casting narrows towards the
// parting, so a peg's free end is where it first shows; every layer learns how high what lies in it
// has grown. A layer of a hole that is cast solid has no sand, and what comes after it begins anew.
#include "part/peg.h"

#include <string.h>

#include "part/opening.h"

#define LAYERS 3
#define AS_IT_IS (-1.0)
#define CURE_SHARE 16 // of a cell: how finely a cure is looked for

typedef struct {
    const PegSand *sand;
    double solid; // rough holes up to this wide, m, are metal; or AS_IT_IS
    OpeningScan scan, rough;
    float *before, *here; // height of the peg in each cell, m; 0 where there is none
    float *width;         // of the rough hole round each cell, m; INFINITY where it is open
    Peg most;
    double widest; // rough hole seen, m
} Walk;

static void
walk_begin(Walk *w, const PegSand *sand)
{
    const SolidGrid *g = sand->layers;
    gsize n = (gsize)g->nx * g->ny;
    *w = (Walk){.sand = sand};
    w->before = g_new(float, n);
    w->here = g_new(float, n);
    w->width = g_new(float, n);
    opening_scan_init(&w->scan, g->nx, g->ny, g->cell);
    opening_scan_init(&w->rough, g->nx, g->ny, g->cell);
}

static void
walk_clear(Walk *w)
{
    opening_scan_clear(&w->scan);
    opening_scan_clear(&w->rough);
    g_free(w->before);
    g_free(w->here);
    g_free(w->width);
}

// How wide the holes of a layer are without draft.
static void
measure_rough(Walk *w, int k)
{
    const SolidGrid *g = w->sand->rough;
    gsize at = 0;
    gboolean round;
    double width;
    memset(w->width, 0, (gsize)g->nx * g->ny * sizeof *w->width);
    opening_begin(&w->rough, g->value + (gsize)k * g->nx * g->ny);
    while (opening_next(&w->rough, &at, &round, &width)) {
        const GArray *cells = w->rough.cells;
        for (guint c = 0; c < cells->len; c++)
            w->width[g_array_index(cells, guint32, c)] = round ? (float)width : INFINITY;
        if (round)
            w->widest = fmax(w->widest, width);
    }
}

static void
judge_opening(Walk *w, int k, double step, double width)
{
    const SolidGrid *g = w->sand->layers;
    const GArray *cells = w->scan.cells;
    double height = 0, x = 0, y = 0, rough = 0;
    for (guint c = 0; c < cells->len; c++) {
        guint32 at = g_array_index(cells, guint32, c);
        height = fmax(height, (double)w->before[at]);
        rough = fmax(rough, (double)w->width[at]);
        x += at % (guint32)g->nx;
        y += at / (guint32)g->nx;
    }
    if (rough <= w->solid)
        return; // what comes after it begins anew
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
    const SolidGrid *g = w->sand->layers;
    gsize n = (gsize)g->nx * g->ny, at = 0;
    gboolean round;
    double width;
    memset(w->here, 0, n * sizeof *w->here);
    if (w->solid >= 0)
        measure_rough(w, k);
    opening_begin(&w->scan, g->value + (gsize)k * n);
    while (opening_next(&w->scan, &at, &round, &width))
        if (round)
            judge_opening(w, k, step, width);
    float *swap = w->before;
    w->before = w->here;
    w->here = swap;
}

// Both halves, from the parting outwards, with rough holes up to `solid` as metal.
static void
walk_sand(Walk *w, double solid, const Progress *progress)
{
    const SolidGrid *g = w->sand->layers;
    int below = w->sand->below;
    w->solid = solid;
    w->most = (Peg){0};
    for (int way = 1; way >= -1; way -= 2) {
        int first = way > 0 ? below + 1 : below;
        memset(w->before, 0, (gsize)g->nx * g->ny * sizeof *w->before);
        for (int k = first; k >= 0 && k < g->nz && !progress_stopped(progress); k += way) {
            double end = way * (g->origin.z + k * g->cell - w->sand->parting) + 0.5 * g->cell;
            walk_layer(w, k, k == first ? fmax(end, 0) : g->cell);
        }
    }
}

void
peg_find(const PegSand *sand, Peg *peg, Progress *progress)
{
    Walk w;
    walk_begin(&w, sand);
    walk_sand(&w, AS_IT_IS, progress);
    walk_clear(&w);
    *peg = w.most;
}

static gboolean
is_slender(const Walk *w, double most)
{
    return w->most.height > most * w->most.width;
}

double
peg_cure(const PegSand *sand, double most, Progress *progress)
{
    Walk w;
    walk_begin(&w, sand);
    walk_sand(&w, AS_IT_IS, progress);
    double low = 0, high = 0;
    if (is_slender(&w, most)) {
        walk_sand(&w, 0, progress);
        high = w.widest;
        walk_sand(&w, high, progress);
        if (is_slender(&w, most))
            low = high = INFINITY;
    }
    while (high - low > sand->layers->cell / CURE_SHARE && !progress_stopped(progress)) {
        double middle = 0.5 * (low + high);
        walk_sand(&w, middle, progress);
        if (is_slender(&w, most))
            low = middle;
        else
            high = middle;
    }
    walk_clear(&w);
    return high;
}
