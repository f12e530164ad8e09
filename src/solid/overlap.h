// SPDX-License-Identifier: GPL-3.0-or-later
// What a closed mesh holds more than once: shells that overlap, a skin that crosses itself.
#pragma once

#include "base/progress.h"
#include "solid/mesh.h"

G_BEGIN_DECLS

typedef struct {
    double metal;   // m3 within any skin, each place once
    double doubled; // m3 within more than one, counted once less than the skins about it
    double inward;  // m3 within skin that faces inwards and lies in no other: no hollow, yet not
                    // metal by its faces
    double excess;  // m3 by which the sum of signed tetrahedra is more than `metal`
} SolidOverlap;

// Along some 65,000 lines each of x, y and z, by counting skins as solid_grid_inside() does. For a
// mesh whose skins do not cross, doubled, inward and excess are exactly 0; else they are good to
// about a hundredth of themselves. FALSE with an error when stopped.
gboolean solid_overlap(const SolidMesh *mesh, SolidOverlap *overlap, Progress *progress,
                       GError **error);

G_END_DECLS
