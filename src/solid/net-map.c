// SPDX-License-Identifier: GPL-3.0-or-later
// The field is read once; all that follows looks at bits. A cube's first vertex is numbered by its
// place among the active ones, row by row; second ones, which are rare, come after all first ones.
#include "solid/net-map.h"

#include <stdlib.h>

#include "base/large.h"
#include "solid/four.h"

typedef struct {
    gsize cube;
    guint32 vertex;
} Extra;

static guint64
read_word(const float *value, int n)
{
    guint64 word = 0;
    int i = 0;
    for (; i + 4 <= n; i += 4)
        word |= (guint64)four_at_most(four_load(value + i), four_all(0)) << i;
    for (; i < n; i++)
        word |= (guint64)(value[i] <= 0) << i;
    return word;
}

static void
read_signs(const SolidGrid *g, NetMap *map)
{
#pragma omp parallel for schedule(static)
    for (int k = 0; k < g->nz; k++)
        for (int j = 0; j < g->ny; j++)
            for (gsize w = 0; w < map->words; w++)
                map->in[net_map_row(map, j, k) + w] = read_word(
                    g->value + solid_grid_index(g, 0, j, k) + 64 * w, MIN(64, g->nx - 64 * (int)w));
}

int
net_map_corners(const NetMap *map, int i, int j, int k)
{
    int corners = 0;
    for (int c = 0; c < 8; c++)
        corners |= net_map_in(map, i + (c & 1), j + (c >> 1 & 1), k + (c >> 2)) << c;
    return corners;
}

static gboolean
has_cube(const NetMap *map, int i, int j, int k)
{
    return i >= 0 && j >= 0 && k >= 0 && i + 1 < map->nx && j + 1 < map->ny && k + 1 < map->nz;
}

// Where both cubes at a face would join its two lines, the net would have two pieces between the
// same two vertices: there it is the outside that stays apart.
NetPatch
net_map_patch(const NetMap *map, int i, int j, int k)
{
    int corners = net_map_corners(map, i, j, k), turned = 0;
    int doubtful = map->patches.joined[corners];
    for (int face = 0; face < 6; face++) {
        int way = face & 1 ? 1 : -1, at[3] = {i, j, k};
        at[face / 2] += way;
        if (!(doubtful >> face & 1) || !has_cube(map, at[0], at[1], at[2]))
            continue;
        int other = net_map_corners(map, at[0], at[1], at[2]);
        if (map->patches.joined[other] >> (face ^ 1) & 1)
            turned |= 1 << face;
    }
    return turned ? net_patch(corners, turned) : map->patches.patch[corners];
}

// The corners of the cube at a bit of a word, of the four rows round it.
static int
pick_corners(const guint64 *const row[4], gsize w, gsize next, int bit)
{
    int corners = 0;
    for (int r = 0; r < 4; r++) {
        guint64 two = row[r][w] >> bit | (bit == 63 ? row[r][next] << 1 : 0);
        corners |= (int)(two & 3) << 2 * r;
    }
    return corners;
}

// Cubes of one row that have corners both in and out.
static void
mark_row(NetMap *map, int j, int k)
{
    const guint64 *row[4] = {map->in + net_map_row(map, j, k), map->in + net_map_row(map, j + 1, k),
                             map->in + net_map_row(map, j, k + 1),
                             map->in + net_map_row(map, j + 1, k + 1)};
    gsize at = net_map_row(map, j, k);
    for (gsize w = 0; w < map->words; w++) {
        gsize next = MIN(w + 1, map->words - 1);
        guint64 any = row[0][w] | row[1][w] | row[2][w] | row[3][w];
        guint64 all = row[0][w] & row[1][w] & row[2][w] & row[3][w];
        guint64 any_next = row[0][next] | row[1][next] | row[2][next] | row[3][next];
        guint64 all_next = row[0][next] & row[1][next] & row[2][next] & row[3][next];
        guint64 active = (any | any >> 1 | any_next << 63) & ~(all & (all >> 1 | all_next << 63));
        int cubes = map->nx - 1 - 64 * (int)w;
        if (cubes < 64)
            active &= cubes > 0 ? (G_GUINT64_CONSTANT(1) << cubes) - 1 : 0;
        map->active[at + w] = active;
        for (guint64 left = active; left; left &= left - 1) {
            int i = 64 * (int)w + __builtin_ctzll(left);
            int corners = pick_corners(row, w, next, i % 64);
            if ((map->patches.patch[corners].n > 1 || map->patches.joined[corners]) &&
                net_map_patch(map, i, j, k).n > 1)
                map->many[at + w] |= left & -left;
        }
    }
}

static void
number_vertices(NetMap *map)
{
    gsize n = (gsize)map->nz * map->ny * map->words;
    for (gsize at = 0; at < n; at++) {
        map->first[at] = map->n;
        if (map->active[at])
            map->n += (guint32)__builtin_popcountll(map->active[at]);
    }
    for (gsize at = 0; at < n; at++)
        for (guint64 left = map->many[at]; left; left &= left - 1) {
            gsize row = at / map->words;
            int i = 64 * (int)(at % map->words) + __builtin_ctzll(left);
            int j = (int)(row % (gsize)map->ny), k = (int)(row / (gsize)map->ny);
            Extra extra = {row * (gsize)map->nx + (gsize)i, map->n};
            g_array_append_val(map->extra, extra);
            map->n += (guint32)net_map_patch(map, i, j, k).n - 1;
        }
}

NetMap *
net_map_new(const SolidGrid *field)
{
    NetMap *map = g_new0(NetMap, 1);
    map->nx = field->nx;
    map->ny = field->ny;
    map->nz = field->nz;
    map->words = ((gsize)field->nx + 63) / 64;
    gsize n = map->words * field->ny * field->nz;
    map->in = large_new(n * sizeof *map->in);
    map->active = large_new0(n * sizeof *map->active);
    map->many = g_new0(guint64, n);
    map->first = g_new(guint32, n);
    map->extra = g_array_new(FALSE, FALSE, sizeof(Extra));
    net_patches_init(&map->patches);
    read_signs(field, map);
#pragma omp parallel for schedule(dynamic, 4)
    for (int k = 0; k < map->nz - 1; k++)
        for (int j = 0; j + 1 < map->ny; j++)
            mark_row(map, j, k);
    number_vertices(map);
    return map;
}

void
net_map_free(NetMap *map)
{
    if (!map)
        return;
    g_free(map->in);
    g_free(map->active);
    g_free(map->many);
    g_free(map->first);
    g_array_unref(map->extra);
    g_free(map);
}

static int
compare_extras(const void *a, const void *b)
{
    const Extra *x = a, *y = b;
    return x->cube < y->cube ? -1 : x->cube > y->cube;
}

guint32
net_map_vertex(const NetMap *map, int i, int j, int k, int p)
{
    gsize at = net_map_row(map, j, k) + i / 64;
    if (p == 0) {
        guint64 before = map->active[at] & ((G_GUINT64_CONSTANT(1) << i % 64) - 1);
        return map->first[at] + (guint32)__builtin_popcountll(before);
    }
    Extra look = {((gsize)k * map->ny + j) * map->nx + i, 0};
    const Extra *found = bsearch(&look, map->extra->data, map->extra->len, sizeof look,
                                 compare_extras);
    return found->vertex + (guint32)p - 1;
}
