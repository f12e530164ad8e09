// SPDX-License-Identifier: GPL-3.0-or-later
// The bodies of a piece that do not hang together: two bosses over the parting whose flange lies
// under it, a riser whose neck is all in the drag. Each is printed and set on the board by itself.
// Inside board/ only.
#pragma once

#include "solid/grid.h"

G_BEGIN_DECLS

#define BOARD_MOST_BODIES 24

// SolidGrids, the largest body first; with one body, or more than BOARD_MOST_BODIES, `field` alone,
// unchanged. Crumbs of less than three cells a side are left out: they can neither be printed nor
// rammed. The field must have been mended.
GPtrArray *board_bodies(SolidGrid *field);

G_END_DECLS
