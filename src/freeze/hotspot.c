// SPDX-License-Identifier: GPL-3.0-or-later
// Hot spots by flooding from the last to the first: cells join pools in the order in which they
// froze, latest first, and where two pools meet the younger one's story ends.
#include "freeze/hotspot.h"

#include <math.h>
#include <stdlib.h>

typedef struct {
    double time;
    gsize cell;
} Entry;

static int
compare_entries(gconstpointer a, gconstpointer b)
{
    const Entry *x = a, *y = b;
    if (x->time != y->time)
        return x->time > y->time ? -1 : 1;
    return x->cell < y->cell ? -1 : x->cell > y->cell;
}

static int
compare_spots(gconstpointer a, gconstpointer b)
{
    const FreezeSpot *x = a, *y = b;
    Entry ex = {x->time, x->cell}, ey = {y->time, y->cell};
    return compare_entries(&ex, &ey);
}

static guint32
find_root(guint32 *parent, guint32 i)
{
    while (parent[i] != i) {
        parent[i] = parent[parent[i]];
        i = parent[i];
    }
    return i;
}

// Neighbours of a cell by face; how many.
static int
neighbours_of(gsize c, int nx, int ny, int nz, gsize out[6])
{
    int i = c % nx, j = c / nx % ny, k = c / ((gsize)nx * ny), n = 0;
    gsize row = nx, layer = (gsize)nx * ny;
    if (i > 0)
        out[n++] = c - 1;
    if (i + 1 < nx)
        out[n++] = c + 1;
    if (j > 0)
        out[n++] = c - row;
    if (j + 1 < ny)
        out[n++] = c + row;
    if (k > 0)
        out[n++] = c - layer;
    if (k + 1 < nz)
        out[n++] = c + layer;
    return n;
}

GArray *
freeze_hot_spots(const double *time, int nx, int ny, int nz, double share)
{
    gsize n = (gsize)nx * ny * nz;
    GArray *spots = g_array_new(FALSE, FALSE, sizeof(FreezeSpot));
    g_return_val_if_fail(time != NULL && n < G_MAXUINT32, spots);
    g_autofree Entry *order = g_new(Entry, MAX(n, 1));
    gsize metal = 0;
    for (gsize c = 0; c < n; c++)
        if (!isnan(time[c]))
            order[metal++] = (Entry){time[c], c};
    if (metal == 0)
        return spots;
    qsort(order, metal, sizeof *order, compare_entries);
    // A pool's root is its latest cell, since roots are only ever kept by the later one.
    g_autofree guint32 *parent = g_new(guint32, n);
    g_autofree guint8 *seen = g_malloc0(n);
    for (gsize m = 0; m < metal; m++) {
        gsize c = order[m].cell, near[6];
        parent[c] = (guint32)c;
        seen[c] = 1;
        int count = neighbours_of(c, nx, ny, nz, near);
        for (int i = 0; i < count; i++) {
            if (!seen[near[i]])
                continue;
            guint32 a = find_root(parent, (guint32)c), b = find_root(parent, (guint32)near[i]);
            if (a == b)
                continue;
            Entry ea = {time[a], a}, eb = {time[b], b};
            if (compare_entries(&ea, &eb) > 0) {
                guint32 later = b;
                b = a;
                a = later;
            }
            parent[b] = a;
            FreezeSpot spot = {b, time[b], order[m].time};
            if (time[b] - order[m].time >= share * order[0].time && time[b] > order[m].time)
                g_array_append_val(spots, spot);
        }
    }
    // Each pool that met no later one: the last of all, and separate pieces.
    for (gsize m = 0; m < metal; m++)
        if (parent[order[m].cell] == order[m].cell) {
            FreezeSpot spot = {order[m].cell, order[m].time, 0};
            g_array_append_val(spots, spot);
        }
    g_array_sort(spots, compare_spots);
    return spots;
}
