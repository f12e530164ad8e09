// SPDX-License-Identifier: GPL-3.0-or-later
// A box of cubic cells holding one float at each cell middle: a signed distance in metres, negative
// in the metal. Reference-counted, never changed once handed on.
#pragma once

#include <glib.h>

#include "base/progress.h"
#include "solid/mesh.h"
#include "solid/vec.h"

G_BEGIN_DECLS

#define SOLID_MAX_CELLS (512ull * 512ull * 512ull)

typedef struct {
    int nx, ny, nz;
    double cell;  // edge, m
    Vec3 origin;  // middle of cell 0,0,0; m
    float *value; // [ (k*ny + j)*nx + i ]
} SolidGrid;

SolidGrid *solid_grid_new(int nx, int ny, int nz, double cell, Vec3 origin); // NULL over the limit
SolidGrid *solid_grid_ref(const SolidGrid *grid);
void solid_grid_unref(const SolidGrid *grid);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(SolidGrid, solid_grid_unref)

static inline gsize
solid_grid_index(const SolidGrid *g, int i, int j, int k)
{
    return ((gsize)k * g->ny + j) * g->nx + i;
}

// Trilinear value at a point; outside the box the nearest edge value plus the distance to the box.
double solid_grid_sample(const SolidGrid *grid, Vec3 point);

// Volume of the region value < level, m3, with sub-cell accuracy (linear within cells).
double solid_grid_volume(const SolidGrid *grid, double level);
// Surface of the same region, m2.
double solid_grid_area(const SolidGrid *grid, double level);

// Which cell middles are inside a closed mesh, by counting skins along columns with one tie rule
// per shared edge; 1 inside, 0 outside. Shells that overlap count once. The box of `shape` decides
// where. Free with g_free.
guint8 *solid_grid_inside(const SolidMesh *mesh, const SolidGrid *shape, Progress *progress,
                          GError **error);

// Signed distance of a closed mesh at every cell middle, exact (point to triangle) within `band` of
// the surface and at least `band` in size, with the right sign, elsewhere.
SolidGrid *solid_grid_distance(const SolidMesh *mesh, double cell, double margin, double band,
                               Progress *progress, GError **error);

// The same in the cells of `shape`, with the sign given: inside != 0 is in the metal. Also for
// meshes that lie well inside the box but are not closed.
SolidGrid *solid_grid_distance_as(const SolidMesh *mesh, const guint8 *inside,
                                  const SolidGrid *shape, double band, Progress *progress,
                                  GError **error);

// Exact Euclidean distance (m) from every cell to the nearest cell with inside != 0; separable
// lower envelopes, same bytes for any number of threads. G_MAXFLOAT everywhere if there is none.
SolidGrid *solid_grid_edt(const guint8 *inside, const SolidGrid *shape, Progress *progress,
                          GError **error);

G_END_DECLS
