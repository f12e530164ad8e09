// SPDX-License-Identifier: GPL-3.0-or-later
// Taking the small overhangs out of a casting's surface that its cells leave. Inside part/ only.
#pragma once

#include "base/progress.h"
#include "solid/mesh.h"

G_BEGIN_DECLS

// An overhang up to this many cells may stay.
#define OVERHANG_LEAST 0.1

// Moves vertices of the walls of `mesh` (closed, outward, of cells of `cell` m, mould axes) out,
// where by more than OVERHANG_LEAST but less than a cell they lie behind metal that is further away
// from the parting (z, m) and the draft (its tangent) asks them not to. FALSE when stopped.
gboolean overhang_fill(SolidMesh *mesh, double parting, double tangent, double cell,
                       Progress *progress, GError **error);

G_END_DECLS
