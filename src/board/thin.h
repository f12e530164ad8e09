// SPDX-License-Identifier: GPL-3.0-or-later
// Fewer triangles where a skin is flat. Inside board/ only.
#pragma once

#include "solid/mesh.h"

G_BEGIN_DECLS

// The same closed skin with fewer triangles: no vertex kept has moved, and none taken away lay
// further than `tolerance` (m) from the faces that were there before. A triangle marked in
// `upright` (one for each) goes on looking up or sideways, never down. NULL with an error when
// stopped.
SolidMesh *board_thin(const SolidMesh *mesh, const guint8 *upright, double tolerance,
                      Progress *progress, GError **error);

G_END_DECLS
