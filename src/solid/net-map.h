// SPDX-License-Identifier: GPL-3.0-or-later
// Which cells of a grid are in a region, a bit each, and which vertex of the net belongs to which
// cube. Inside solid/ only. Cube (i,j,k) has the cell middles (i..i+1, j..j+1, k..k+1) as corners.
#pragma once

#include "solid/grid.h"
#include "solid/net-patch.h"

G_BEGIN_DECLS

typedef struct {
    int nx, ny, nz;
    gsize words;     // of 64 cells, to a row
    guint64 *in;     // [ (k*ny + j)*words + i/64 ], value <= 0
    guint64 *active; // cubes the surface runs through
    guint64 *many;   // those with more than one vertex
    guint32 *first;  // [ word ] vertices before it
    guint32 n;       // vertices
    GArray *extra;   // of the cubes with many: where the second and later vertices are
    NetPatches patches;
} NetMap;

// Of value <= 0.
NetMap *net_map_new(const SolidGrid *field);
void net_map_free(NetMap *map);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(NetMap, net_map_free)

static inline gsize
net_map_row(const NetMap *map, int j, int k)
{
    return ((gsize)k * map->ny + j) * map->words;
}

static inline int
net_map_in(const NetMap *map, int i, int j, int k)
{
    return (int)(map->in[net_map_row(map, j, k) + i / 64] >> i % 64 & 1);
}

// The corners of a cube in the region, as a byte.
int net_map_corners(const NetMap *map, int i, int j, int k);

// The pieces of surface in a cube.
NetPatch net_map_patch(const NetMap *map, int i, int j, int k);

// Number of a cube's vertex for piece p.
guint32 net_map_vertex(const NetMap *map, int i, int j, int k, int p);

// The number of vertices a cube has, at the index of its first; for one that has any.
static inline gboolean
net_map_many(const NetMap *map, int i, int j, int k)
{
    return map->many[net_map_row(map, j, k) + i / 64] >> i % 64 & 1;
}

G_END_DECLS
