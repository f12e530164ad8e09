// SPDX-License-Identifier: GPL-3.0-or-later
// Volume curves of cavities.
#include "mould/level.h"

// Heights closer than this share of the whole count as one, and hold no metal of their own.
#define SAME 1e-9

static MouldLevel *
new_level(guint most)
{
    MouldLevel *level = g_new0(MouldLevel, 1);
    level->z = g_new0(double, most);
    level->v = g_new0(double, most);
    return level;
}

void
mould_level_free(MouldLevel *level)
{
    if (!level)
        return;
    g_free(level->z);
    g_free(level->v);
    g_free(level);
}

MouldLevel *
mould_level_prism(double plan, double bottom, double top)
{
    MouldLevel *level = new_level(2);
    level->n = 2;
    level->z[0] = bottom;
    level->z[1] = top;
    level->v[1] = plan * (top - bottom);
    return level;
}

// Cells of a layer that lie inside, those at the surface in part.
static double
count_layer(const SolidGrid *g, int k)
{
    const float *value = &g->value[solid_grid_index(g, 0, 0, k)];
    float half = (float)g->cell / 2, scale = 1 / (float)g->cell;
    double sum = 0;
    for (int i = 0; i < g->nx * g->ny; i++)
        if (value[i] < half)
            sum += value[i] <= -half ? 1 : 0.5f - value[i] * scale;
    return sum;
}

// Appends a height unless nothing lies between it and the last.
static void
append(MouldLevel *level, double z, double v, double span, double all)
{
    if (level->n > 0) {
        double last_z = level->z[level->n - 1], last_v = level->v[level->n - 1];
        if (v - last_v <= SAME * all)
            return;
        z = MAX(z, last_z + SAME * span);
    }
    level->z[level->n] = z;
    level->v[level->n++] = v;
}

MouldLevel *
mould_level_grid(const SolidGrid *grid, double scale, double bottom, double top, double volume)
{
    g_autofree double *layers = g_new0(double, grid->nz + 1);
    double all = 0, sum = 0;
    int first = -1;
    for (int k = 0; k < grid->nz; k++) {
        layers[k] = count_layer(grid, k);
        all += layers[k];
        if (first < 0 && layers[k] > 0)
            first = k;
    }
    if (first < 0 || !(top > bottom) || !(volume > 0))
        return NULL;
    g_autoptr(MouldLevel) level = new_level((guint)grid->nz + 1);
    append(level, bottom, 0, top - bottom, volume);
    for (int k = first; k < grid->nz; k++) {
        sum += layers[k];
        double z = scale * (grid->origin.z + (k + 0.5) * grid->cell);
        append(level, CLAMP(z, bottom, top), volume * sum / all, top - bottom, volume);
    }
    level->z[level->n - 1] = MAX(top, level->z[level->n - 1]);
    level->v[level->n - 1] = volume;
    return level->n >= 2 ? g_steal_pointer(&level) : NULL;
}

MouldLevel *
mould_level_with_post(const MouldLevel *level, double area, double bottom, double top)
{
    MouldLevel *sum = new_level(level->n + 2);
    double all = mould_level_volume(level) + area * (top - bottom);
    double low = MIN(bottom, level->z[0]), high = MAX(top, level->z[level->n - 1]);
    const double ends[2] = {bottom, top};
    guint i = 0, e = 0;
    while (i < level->n || e < 2) {
        double z = e == 2 || (i < level->n && level->z[i] <= ends[e]) ? level->z[i++] : ends[e++];
        double v = mould_level_below(level, z) + area * (CLAMP(z, bottom, top) - bottom);
        append(sum, z, v, high - low, all);
    }
    // Where both begin at once, or the last height held nothing of its own.
    sum->v[sum->n - 1] = all;
    return sum;
}

double
mould_level_volume(const MouldLevel *level)
{
    return level->v[level->n - 1];
}

// Straight between the two of `from` that enclose `at`; the ends outside.
static double
interpolate(const double *from, const double *to, guint n, double at)
{
    guint low = 0, high = n - 1;
    if (at <= from[0])
        return to[0];
    if (at >= from[high])
        return to[high];
    while (high - low > 1) {
        guint middle = (low + high) / 2;
        if (from[middle] <= at)
            low = middle;
        else
            high = middle;
    }
    return to[low] + (to[high] - to[low]) * (at - from[low]) / (from[high] - from[low]);
}

double
mould_level_height(const MouldLevel *level, double volume)
{
    return interpolate(level->v, level->z, level->n, volume);
}

double
mould_level_below(const MouldLevel *level, double height)
{
    return interpolate(level->z, level->v, level->n, height);
}
