// SPDX-License-Identifier: GPL-3.0-or-later
// A closed mesh over the surface of a region given on a grid.
#pragma once

#include "solid/grid.h"

G_BEGIN_DECLS

// Where between the layers of cells (i,j,k) (share 0) and (i,j,k + 1) (share 1), of which one is in
// the metal, the surface lies.
typedef double (*SolidNetRise)(gconstpointer data, int i, int j, int k);

// The outward unit normal of the surface between cell (i,j,k) and the next one along `axis`, of
// which one is in the metal; zero where it is not known.
typedef Vec3 (*SolidNetLean)(gconstpointer data, int i, int j, int k, int axis);

// How a net is laid. All of it may be left 0.
typedef struct {
    gboolean sharp;    // edges and corners as sharp as the cells tell, not bevelled
    SolidNetRise rise; // for layers that each are planar; NULL: as along x and y
    SolidNetLean lean; // of a sharp net; NULL: by the field's own slopes
    gconstpointer data;
} SolidNetForm;

// The surface of the region value <= 0: one vertex for each cube of eight cell middles the surface
// runs through, near the mean of the surface's crossings with the cube's edges, and one
// quadrilateral for each pair of neighbours the surface parts. Crossings are linear; in a sharp net
// they heed that distances bend where walls meet, and a vertex at an edge stands where the walls
// about it meet, which may lie up to half a cell outside its cube. Region cells in the outermost
// layers are not closed off: leave a margin. Triangles face out of the region. `form` may be NULL.
// NULL with an error when stopped.
SolidMesh *solid_net(const SolidGrid *field, const SolidNetForm *form, Progress *progress,
                     GError **error);

// The share of the way from cell (i,j,k) to the next one along `axis` at which the surface crosses,
// as a sharp net has it, and its outward unit normal there, zero when there is none, from
// differences on the side where the distance is not bent. One of the two is in the region.
double solid_net_share(const SolidGrid *field, int i, int j, int k, int axis);
Vec3 solid_net_normal(const SolidGrid *field, int i, int j, int k, int axis);

// How much the field grows over one cell along each axis at a cell, where it bends by the side that
// goes on straight.
Vec3 solid_net_slope(const SolidGrid *field, int i, int j, int k);

G_END_DECLS
