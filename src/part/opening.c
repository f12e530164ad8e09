// SPDX-License-Identifier: GPL-3.0-or-later
// Walking over the places of a layer where there is no metal, one connected place after another.
#include "part/opening.h"

#include <math.h>
#include <string.h>

void
opening_scan_init(OpeningScan *scan, int nx, int ny, double cell)
{
    *scan = (OpeningScan){.nx = nx, .ny = ny, .cell = cell};
    scan->seen = g_new0(guint8, (gsize)nx * ny);
    scan->stack = g_array_new(FALSE, FALSE, sizeof(guint32));
    scan->cells = g_array_new(FALSE, FALSE, sizeof(guint32));
}

void
opening_scan_clear(OpeningScan *scan)
{
    g_clear_pointer(&scan->seen, g_free);
    g_clear_pointer(&scan->stack, g_array_unref);
    g_clear_pointer(&scan->cells, g_array_unref);
}

void
opening_begin(OpeningScan *scan, const float *section)
{
    scan->section = section;
    memset(scan->seen, 0, (gsize)scan->nx * scan->ny);
}

static void
push_cell(OpeningScan *s, int i, int j, gboolean *open)
{
    if (i < 0 || j < 0 || i >= s->nx || j >= s->ny) {
        *open = TRUE;
        return;
    }
    guint32 at = (guint32)j * (guint32)s->nx + (guint32)i;
    if (s->seen[at] || s->section[at] <= 0)
        return;
    s->seen[at] = 1;
    g_array_append_val(s->stack, at);
}

static void
gather_opening(OpeningScan *s, guint32 start, gboolean *round, double *width)
{
    gboolean open = FALSE;
    double deepest = 0, area = 0;
    guint32 nx = (guint32)s->nx;
    g_array_set_size(s->cells, 0);
    push_cell(s, (int)(start % nx), (int)(start / nx), &open);
    while (s->stack->len > 0) {
        guint32 at = g_array_index(s->stack, guint32, s->stack->len - 1);
        int i = (int)(at % nx), j = (int)(at / nx);
        g_array_set_size(s->stack, s->stack->len - 1);
        g_array_append_val(s->cells, at);
        deepest = fmax(deepest, (double)s->section[at]);
        area += fmin(1, 0.5 + (double)s->section[at] / s->cell);
        push_cell(s, i - 1, j, &open);
        push_cell(s, i + 1, j, &open);
        push_cell(s, i, j - 1, &open);
        push_cell(s, i, j + 1, &open);
    }
    // The middle lies between cells; of a round opening the area tells the width better.
    double disc = 2 * s->cell * sqrt(area / G_PI), widest = 2 * deepest + 0.5 * s->cell;
    *width = disc >= 2 * deepest && disc <= 2 * deepest + 1.6 * s->cell ? disc : widest;
    *round = !open;
}

gboolean
opening_next(OpeningScan *s, gsize *at, gboolean *round, double *width)
{
    gsize n = (gsize)s->nx * s->ny;
    while (*at < n && (s->seen[*at] || s->section[*at] <= 0))
        ++*at;
    if (*at >= n)
        return FALSE;
    gather_opening(s, (guint32)*at, round, width);
    return TRUE;
}
