// SPDX-License-Identifier: GPL-3.0-or-later
// Seeing to it that a casting's surface holds every vertex of the part with its allowance. Inside
// part/ only.
#pragma once

#include "base/progress.h"
#include "solid/mesh.h"

G_BEGIN_DECLS

// Moves vertices of `casting` (closed, outward, of cells of `cell` m) outwards where a vertex of
// `part` lies less than `allowance` (m) deep in it, until it lacks less than HOLD_MISS of a cell.
// What lacks more than a cell is left as it is: that is not a matter of the cells. FALSE with an
// error when stopped.
gboolean hold_vertices(SolidMesh *casting, const SolidMesh *part, double allowance, double cell,
                       Progress *progress, GError **error);

#define HOLD_MISS 0.02

G_END_DECLS
