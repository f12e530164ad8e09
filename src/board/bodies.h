// SPDX-License-Identifier: GPL-3.0-or-later
// The bodies of a piece that do not hang together: two bosses over the parting whose flange lies
// under it, a riser whose neck is all in the drag. Each is printed and set on the board by itself.
// Inside board/ only.
#pragma once

#include "solid/grid.h"

G_BEGIN_DECLS

#define BOARD_MOST_BODIES 24

typedef struct BoardBodies BoardBodies;

// The bodies of a mended field, which has to outlive them. Crumbs of less than three cells a side
// do not count: they can neither be printed nor rammed.
BoardBodies *board_bodies_new(SolidGrid *field);
void board_bodies_free(BoardBodies *bodies); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(BoardBodies, board_bodies_free)

// How many; 1 also for more than BOARD_MOST_BODIES, which stay together.
guint board_bodies_count(const BoardBodies *bodies);
// Body `i`, in the order of where they first come from y's and then x's low end at the foot, so
// that coarse and fine cells agree on it. The field itself, unchanged, where there is one. Unref.
SolidGrid *board_bodies_get(const BoardBodies *bodies, guint i);

G_END_DECLS
