// SPDX-License-Identifier: GPL-3.0-or-later
// How far metal has to flow inside a casting from where a riser joins it.
#pragma once

#include "solid/grid.h"

G_BEGIN_DECLS

// Longest way, m, of the shortest ways through metal from `start` (the nearest metal to it) to
// every cell whose value in `map` (feed/modulus-map.h: not above 0 without metal) is at least
// `least`. By steps to the 26 cells round each, so up to 8 % too long across the grain. *farthest
// (may be NULL) says where it ends. 0 when no cell is that heavy; negative when stopped, with an
// error.
double feed_distance(const SolidGrid *map, Vec3 start, double least, Vec3 *farthest,
                     Progress *progress, GError **error);

G_END_DECLS
