// SPDX-License-Identifier: GPL-3.0-or-later
// The heaviest section of a casting, as the largest ball that has room in it.
#pragma once

#include "solid/grid.h"

G_BEGIN_DECLS

// Radius, m, of the largest ball inside the region value < 0, to about a cell. Uses
// only the signs near the surface, so any signed field will do. `where` may be NULL. Negative when
// stopped, with an error; 0 for an empty grid.
double feed_inscribed_radius(const SolidGrid *casting, Vec3 *where, Progress *progress,
                             GError **error);

G_END_DECLS
