// SPDX-License-Identifier: GPL-3.0-or-later
// Loose pins that are drawn up through the cope: cones printed with their wide end on the bed, that
// stand on their narrow end.
#pragma once

#include "board/pieces.h"

G_BEGIN_DECLS

typedef struct {
    const char *name;
    BoardKind kind;
    double wide, narrow, height; // m, radii
    double stands;               // m above the parting
    gboolean foot_hole;          // a hole for a dowel in its wide end too
} BoardCone;

// Is an end of this radius, m, wide enough for a dowel's hole?
gboolean board_cone_takes_dowel(const BoardWork *work, double radius);

// The cone at each of `n` places, turned over there, with a dowel's hole in its narrow end if it
// takes one.
gboolean board_add_cone(BoardWork *work, const BoardCone *cone, const BoardPlace *places, guint n,
                        GError **error);

G_END_DECLS
