// SPDX-License-Identifier: GPL-3.0-or-later
// Signed distance within one layer of cells, from where the layer's values change sign.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// Room to work in, for one thread at a time.
typedef struct PlanarWork PlanarWork;

PlanarWork *planar_work_new(int nx, int ny);
void planar_work_free(PlanarWork *work); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(PlanarWork, planar_work_free)

// Distance (m, negative where value <= 0) of each of nx * ny cell middles, `cell` apart, to the
// line where `value` (linear between neighbours) is zero: exact to the line's straight pieces, but
// for rare cells where three of them are almost equally far. A layer without a line is `far` all
// over, with its sign. `out` may be `value`.
void planar_distance(const float *value, int nx, int ny, double cell, double far, float *out,
                     PlanarWork *work);

// After planar_distance: the cell that lies `steps` cells into the metal from the place of the line
// nearest to cell (i,j), which is itself in the metal or not. FALSE when there is none.
gboolean planar_inward(const PlanarWork *work, int i, int j, gboolean inside, double steps, int *x,
                       int *y);

G_END_DECLS
