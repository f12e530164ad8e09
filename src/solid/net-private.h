// SPDX-License-Identifier: GPL-3.0-or-later
// What the parts of the net share: laying it (net.c), sharpening it (net-sharp.c) and cutting it
// into triangles (net-cut.c). Inside solid/ only.
#pragma once

#include "solid/net-corner.h"
#include "solid/net-map.h"
#include "solid/net.h"

G_BEGIN_DECLS

// One piece of the net and the crossing it was made for. Lengths are in cells here, from the middle
// of the first one; single precision holds a ten-thousandth of a cell on the largest grid.
typedef struct {
    guint32 corner[4];
    float crossing[3];
} NetQuad;

// Does a vertex stand on an edge or corner?
enum {
    FAST_NOT,
    FAST_WITHIN,  // in its cube
    FAST_OUTSIDE, // beside its cube
};

// What is to be added to a vertex, or what it is the mean of.
typedef struct {
    float sum[3];
    guint32 count;
} NetShift;

typedef struct {
    const SolidGrid *g;
    SolidNetForm form;
    NetMap *map;
    Vec3 *vertices;     // cells until the net is done
    NetShift *shifts;   // one a vertex
    NetCorner *corners; // one a vertex, NULL unless sharp
    guint8 *fast;       // one a vertex, NULL unless sharp: Fast
    NetQuad *quads;
    gsize *first; // [ k ] quads before layer k
    Progress *progress;
} Net;

// Edges along each axis, of 64 of a row's cells, that the surface crosses and that have four cubes.
static inline guint64
net_find_crossed(const NetMap *map, int j, int k, gsize w, guint64 crossed[3])
{
    const guint64 *row = map->in + net_map_row(map, j, k);
    guint64 next = w + 1 < map->words ? row[w + 1] << 63 : 0, valid = ~G_GUINT64_CONSTANT(0);
    int cells = map->nx - 1 - 64 * (int)w;
    if (cells < 64)
        valid = cells > 0 ? (G_GUINT64_CONSTANT(1) << cells) - 1 : 0;
    guint64 inner = w > 0 ? valid : valid & ~G_GUINT64_CONSTANT(1);
    crossed[0] = j > 0 && k > 0 ? (row[w] ^ (row[w] >> 1 | next)) & valid : 0;
    crossed[1] = k > 0 ? (row[w] ^ map->in[net_map_row(map, j + 1, k) + w]) & inner : 0;
    crossed[2] = j > 0 ? (row[w] ^ map->in[net_map_row(map, j, k + 1) + w]) & inner : 0;
    return crossed[0] | crossed[1] | crossed[2];
}

static inline Vec3
net_find_crossing(const NetQuad *quad)
{
    return vec3((double)quad->crossing[0], (double)quad->crossing[1], (double)quad->crossing[2]);
}

// Runs a layer's work for all layers. A layer's quadrilaterals touch only its own vertices and
// those of the layer before, so that every other layer may run at a time.
void net_run_layers(Net *net, void (*run)(Net *net, int k));

// Moves the vertices about edges and corners to where the planes about them meet.
void net_sharpen(Net *net);

// Two triangles a quadrilateral. A sharp net is looked through for folds first.
void net_cut(Net *net, SolidMesh *mesh);

G_END_DECLS
