// SPDX-License-Identifier: GPL-3.0-or-later
// Exact Euclidean distance transform, one axis after another. Along a line each cell offers a
// parabola (its squared distance so far plus the squared way along the line) and the lowest of them
// wins; the lower envelope of n parabolas of one shape takes O(n).
#include "solid/edt.h"

typedef struct {
    int n;          // cells on a line
    gint64 *height; // squared distance over the axes done
    int *winner;    // positions of the parabolas of the envelope
    gint64 *from;   // first place where each of them is lowest
    guint32 *line;  // nearest cells, read before written
} Line;

static void
line_init(Line *line, int n)
{
    line->n = n;
    line->height = g_new(gint64, n);
    line->winner = g_new(int, n);
    line->from = g_new(gint64, n);
    line->line = g_new(guint32, n);
}

static void
line_clear(Line *line)
{
    g_free(line->height);
    g_free(line->winner);
    g_free(line->from);
    g_free(line->line);
}

// First place at which the parabola at q is lower than the one at p < q.
static gint64
find_takeover(const Line *line, gint64 p, gint64 q)
{
    gint64 rise = q * q + line->height[q] - p * p - line->height[p], run = 2 * (q - p);
    gint64 whole = rise / run;
    if (rise % run != 0 && rise < 0)
        whole--;
    return whole + 1;
}

// Replaces each cell's nearest by the best offered along the line.
static void
run_line(Line *line, guint32 *near, gsize stride)
{
    int top = -1;
    for (int q = 0; q < line->n; q++) {
        line->line[q] = near[(gsize)q * stride];
        if (line->line[q] == SOLID_NO_CELL)
            continue;
        gint64 start = 0;
        while (top >= 0) {
            start = find_takeover(line, line->winner[top], q);
            if (start > line->from[top])
                break;
            top--;
        }
        if (top < 0)
            start = 0;
        if (start >= line->n)
            continue;
        line->winner[++top] = q;
        line->from[top] = start;
    }
    for (int q = line->n - 1; q >= 0 && top >= 0; q--) {
        near[(gsize)q * stride] = line->line[line->winner[top]];
        if (line->from[top] == q)
            top--;
    }
}

static void
run_x(const guint8 *set, const SolidGrid *g, guint32 *near)
{
#pragma omp parallel for schedule(static)
    for (int k = 0; k < g->nz; k++)
        for (int j = 0; j < g->ny; j++) {
            gsize row = solid_grid_index(g, 0, j, k);
            guint32 last = SOLID_NO_CELL;
            for (int i = 0; i < g->nx; i++) {
                if (set[row + i])
                    last = (guint32)(row + i);
                near[row + i] = last;
            }
            last = SOLID_NO_CELL;
            for (int i = g->nx - 1; i >= 0; i--) {
                if (set[row + i])
                    last = (guint32)(row + i);
                if (last == SOLID_NO_CELL)
                    continue;
                guint32 left = near[row + i];
                if (left == SOLID_NO_CELL || last - (row + i) < row + i - left)
                    near[row + i] = last;
            }
        }
}

static void
run_y(const SolidGrid *g, guint32 *near, Progress *progress)
{
#pragma omp parallel for schedule(static)
    for (int k = 0; k < g->nz; k++) {
        Line line;
        line_init(&line, g->ny);
        for (int i = 0; i < g->nx && !progress_stopped(progress); i++) {
            for (int j = 0; j < g->ny; j++) {
                gint64 x = near[solid_grid_index(g, i, j, k)] % (guint32)g->nx;
                line.height[j] = (x - i) * (x - i);
            }
            run_line(&line, near + solid_grid_index(g, i, 0, k), (gsize)g->nx);
        }
        line_clear(&line);
    }
}

static void
run_z(const SolidGrid *g, guint32 *near, Progress *progress)
{
#pragma omp parallel for schedule(static)
    for (int j = 0; j < g->ny; j++) {
        Line line;
        line_init(&line, g->nz);
        for (int i = 0; i < g->nx && !progress_stopped(progress); i++) {
            for (int k = 0; k < g->nz; k++) {
                guint32 at = near[solid_grid_index(g, i, j, k)];
                gint64 x = at % (guint32)g->nx, y = at / (guint32)g->nx % (guint32)g->ny;
                line.height[k] = (x - i) * (x - i) + (y - j) * (y - j);
            }
            run_line(&line, near + solid_grid_index(g, i, j, 0), (gsize)g->nx * g->ny);
        }
        line_clear(&line);
    }
}

guint32 *
solid_edt_nearest(const guint8 *set, const SolidGrid *g, Progress *progress, GError **error)
{
    g_autofree guint32 *near = g_new(guint32, (gsize)g->nx * g->ny * g->nz);
    run_x(set, g, near);
    run_y(g, near, progress);
    run_z(g, near, progress);
    if (!progress_check(progress, error))
        return NULL;
    return g_steal_pointer(&near);
}
