// SPDX-License-Identifier: GPL-3.0-or-later
// The thinnest wall of a closed mesh.
#pragma once

#include "base/progress.h"
#include "solid/mesh.h"

G_BEGIN_DECLS

// Least way (m) straight in from one face to another that looks away from it (within 30 degrees),
// over about 8000 places spread evenly on the faces. The mesh must
// be closed and face outwards. NAN when there is no such pair; NAN with an error when stopped.
double wall_thinnest(const SolidMesh *mesh, Progress *progress, GError **error);

G_END_DECLS
