// SPDX-License-Identifier: GPL-3.0-or-later
// Shortest ways through metal, the nearest cell first (Dijkstra 1959).
#include "feed/distance.h"

#include <math.h>

#define OFTEN 20000 // cells between two looks at the stop flag

typedef struct {
    float way; // cells
    guint cell;
} Step;

static gboolean
is_before(const Step *a, const Step *b)
{
    return a->way < b->way || (a->way == b->way && a->cell < b->cell);
}

static void
push(GArray *heap, Step step)
{
    guint i = heap->len;
    g_array_append_val(heap, step);
    Step *h = (Step *)(gpointer)heap->data;
    while (i > 0 && is_before(&step, &h[(i - 1) / 2])) {
        h[i] = h[(i - 1) / 2];
        i = (i - 1) / 2;
    }
    h[i] = step;
}

static Step
pop(GArray *heap)
{
    Step *h = (Step *)(gpointer)heap->data, first = h[0], last = h[heap->len - 1];
    guint n = heap->len - 1, i = 0;
    g_array_set_size(heap, n);
    while (2 * i + 1 < n) {
        guint child = 2 * i + 1;
        if (child + 1 < n && is_before(&h[child + 1], &h[child]))
            child++;
        if (!is_before(&h[child], &last))
            break;
        h[i] = h[child];
        i = child;
    }
    if (n > 0)
        h[i] = last;
    return first;
}

static void
cell_at(const SolidGrid *map, guint cell, int at[3])
{
    at[0] = cell % map->nx;
    at[1] = cell / map->nx % map->ny;
    at[2] = cell / (map->nx * map->ny);
}

static Vec3
place_of(const SolidGrid *map, guint cell)
{
    int at[3];
    cell_at(map, cell, at);
    return vec3_add(map->origin, vec3(at[0] * map->cell, at[1] * map->cell, at[2] * map->cell));
}

static guint
nearest_metal(const SolidGrid *map, Vec3 start, guint n)
{
    guint best = G_MAXUINT;
    double least = INFINITY;
    for (guint c = 0; c < n; c++) {
        double d = map->value[c] > 0 ? vec3_length(vec3_sub(place_of(map, c), start)) : INFINITY;
        if (d < least) {
            least = d;
            best = c;
        }
    }
    return best;
}

static void
step_on(const SolidGrid *map, const Step *here, float *way, GArray *heap)
{
    int at[3];
    cell_at(map, here->cell, at);
    for (int s = 0; s < 27; s++) {
        int d[3] = {s % 3 - 1, s / 3 % 3 - 1, s / 9 - 1};
        int x = at[0] + d[0], y = at[1] + d[1], z = at[2] + d[2];
        if (s == 13 || x < 0 || y < 0 || z < 0 || x >= map->nx || y >= map->ny || z >= map->nz)
            continue;
        guint next = (guint)solid_grid_index(map, x, y, z);
        float longer = here->way + sqrtf((float)(d[0] * d[0] + d[1] * d[1] + d[2] * d[2]));
        if (!(map->value[next] > 0) || !(longer < way[next]))
            continue;
        way[next] = longer;
        push(heap, (Step){longer, next});
    }
}

double
feed_distance(const SolidGrid *map, Vec3 start, double least, Vec3 *farthest, Progress *progress,
              GError **error)
{
    g_return_val_if_fail(map != NULL, 0);
    guint n = (guint)map->nx * map->ny * map->nz, first = nearest_metal(map, start, n), seen = 0;
    if (first == G_MAXUINT)
        return 0;
    g_autofree float *way = g_new(float, n);
    for (guint c = 0; c < n; c++)
        way[c] = G_MAXFLOAT;
    g_autoptr(GArray) heap = g_array_new(FALSE, FALSE, sizeof(Step));
    double longest = 0;
    way[first] = 0;
    push(heap, (Step){0, first});
    while (heap->len > 0) {
        if (seen++ % OFTEN == 0 && !progress_check(progress, error))
            return -1;
        Step here = pop(heap);
        if (here.way > way[here.cell])
            continue;
        double length = here.way * map->cell;
        if (length > longest && map->value[here.cell] >= least) {
            longest = length;
            if (farthest)
                *farthest = place_of(map, here.cell);
        }
        step_on(map, &here, way, heap);
    }
    return longest;
}
