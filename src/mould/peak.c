// SPDX-License-Identifier: GPL-3.0-or-later
// Cells are laid down from the highest on. A cell with no neighbour yet starts a top; a cell that
// joins two ends the lower one, whose rise is then known.
#include "mould/peak.h"

#include <math.h>

typedef struct {
    const double *value;
    int nx, ny;
    guint32 *order;  // cells, highest first
    guint32 *parent; // G_MAXUINT32: not laid down yet
    guint32 *top;    // of a root: its highest cell
    double *rise;    // of a top's cell; NAN if it is none
} Peaks;

static guint32
find_root(Peaks *p, guint32 cell)
{
    while (p->parent[cell] != cell)
        cell = p->parent[cell] = p->parent[p->parent[cell]];
    return cell;
}

static int
compare_cells(gconstpointer a, gconstpointer b, gpointer data)
{
    guint32 x = *(const guint32 *)a, y = *(const guint32 *)b;
    const double *value = data;
    if (value[x] != value[y])
        return value[x] > value[y] ? -1 : 1;
    return x < y ? -1 : x > y;
}

static void
join(Peaks *p, guint32 cell, guint32 other)
{
    guint32 a = find_root(p, cell), b = find_root(p, other);
    if (a == b)
        return;
    double *value = (double *)p->value;
    if (compare_cells(&p->top[a], &p->top[b], value) > 0) {
        guint32 swap = a;
        a = b;
        b = swap;
    }
    p->rise[p->top[b]] = p->value[p->top[b]] - p->value[cell];
    p->parent[b] = a;
}

static void
lay_down(Peaks *p, guint32 cell)
{
    int i = (int)(cell % (guint32)p->nx), j = (int)(cell / (guint32)p->nx);
    p->parent[cell] = p->top[cell] = cell;
    for (int dj = -1; dj <= 1; dj++)
        for (int di = -1; di <= 1; di++) {
            int x = i + di, y = j + dj;
            if (x < 0 || y < 0 || x >= p->nx || y >= p->ny || (di == 0 && dj == 0))
                continue;
            guint32 other = (guint32)(y * p->nx + x);
            if (p->parent[other] != G_MAXUINT32)
                join(p, cell, other);
        }
}

// The flat top about a cell: what is reached without going more than `flat` down, and of it the
// cell nearest the middle.
static guint32
find_middle(const Peaks *p, guint32 top, double flat, guint8 *seen)
{
    g_autoptr(GArray) found = g_array_new(FALSE, FALSE, sizeof(guint32));
    g_array_append_val(found, top);
    seen[top] = 1;
    double sum_x = 0, sum_y = 0;
    for (guint k = 0; k < found->len; k++) {
        guint32 cell = g_array_index(found, guint32, k);
        int i = (int)(cell % (guint32)p->nx), j = (int)(cell / (guint32)p->nx);
        sum_x += i;
        sum_y += j;
        for (int side = 0; side < 4; side++) {
            int x = i + (side == 0) - (side == 1), y = j + (side == 2) - (side == 3);
            if (x < 0 || y < 0 || x >= p->nx || y >= p->ny)
                continue;
            guint32 other = (guint32)(y * p->nx + x);
            if (seen[other] || !(p->value[other] >= p->value[top] - flat))
                continue;
            seen[other] = 1;
            g_array_append_val(found, other);
        }
    }
    double least = INFINITY, x = sum_x / found->len, y = sum_y / found->len;
    guint32 middle = top;
    for (guint k = 0; k < found->len; k++) {
        guint32 cell = g_array_index(found, guint32, k);
        double d = hypot(cell % (guint32)p->nx - x, cell / (guint32)p->nx - y);
        seen[cell] = 0;
        if (d < least || (d == least && cell < middle)) {
            least = d;
            middle = cell;
        }
    }
    return middle;
}

static GArray *
gather(const Peaks *p, guint n, double least, double flat)
{
    GArray *peaks = g_array_new(FALSE, FALSE, sizeof(MouldPeak));
    g_autofree guint8 *seen = g_new0(guint8, (gsize)p->nx * p->ny);
    for (guint k = 0; k < n; k++) {
        guint32 cell = p->order[k];
        if (!(p->rise[cell] >= least))
            continue;
        guint32 middle = find_middle(p, cell, flat, seen);
        MouldPeak peak = {(int)(middle % (guint32)p->nx), (int)(middle / (guint32)p->nx),
                          p->value[cell], p->rise[cell]};
        g_array_append_val(peaks, peak);
    }
    return peaks;
}

GArray *
mould_peaks(const double *value, int nx, int ny, double floor, double least, double flat)
{
    gsize total = (gsize)nx * ny;
    g_return_val_if_fail(nx > 0 && ny > 0 && total < G_MAXUINT32, NULL);
    g_autofree guint32 *order = g_new(guint32, total);
    g_autofree guint32 *parent = g_new(guint32, total);
    g_autofree guint32 *top = g_new(guint32, total);
    g_autofree double *rise = g_new(double, total);
    guint n = 0;
    for (gsize c = 0; c < total; c++) {
        parent[c] = G_MAXUINT32;
        rise[c] = NAN;
        if (!isnan(value[c]))
            order[n++] = (guint32)c;
    }
    Peaks p = {value, nx, ny, order, parent, top, rise};
    g_qsort_with_data(order, (int)n, sizeof *order, compare_cells, (gpointer)value);
    for (guint k = 0; k < n; k++)
        lay_down(&p, order[k]);
    for (guint k = 0; k < n; k++) // what is left standing in each part of the region
        if (isnan(rise[order[k]]))
            rise[order[k]] = value[order[k]] - floor;
    return gather(&p, n, least, flat);
}
