// SPDX-License-Identifier: GPL-3.0-or-later
// A closed mesh over the surface of a region given on a grid.
#pragma once

#include "solid/grid.h"

G_BEGIN_DECLS

// Where between layer k (share 0) and k + 1 (share 1) the surface lies, for two cells one above the
// other of which one is in the metal.
typedef double (*SolidNetRise)(gconstpointer data, gsize lower, gsize upper, int k);

// The surface of the region value <= 0: one vertex for each cube of eight cell middles the surface
// runs through, near the mean of the surface's crossings with the cube's edges, and one
// quadrilateral for each pair of neighbours the surface parts. Crossings are linear along x and y,
// and along z too unless `rise` says where. Region cells in the outermost layers are not closed
// off: leave a margin. Triangles face out of the region. NULL with an error when stopped.
SolidMesh *solid_net(const SolidGrid *field, SolidNetRise rise, gconstpointer data,
                     Progress *progress, GError **error);

G_END_DECLS
