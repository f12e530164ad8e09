// SPDX-License-Identifier: GPL-3.0-or-later
// What may be asked of the rough casting beside allowance and draft: walls of a least thickness,
// rounded internal corners, small holes cast solid. Inside part/ only: each changes a grid in
// place, before it is handed on.
#pragma once

#include "solid/grid.h"

G_BEGIN_DECLS

// `body` is a distance, <= 0 in the metal; all lengths in m. FALSE with an error when stopped.

// Walls thinner than `wall` grow on both sides to it, within about half a cell.
gboolean shape_thicken(SolidGrid *body, double wall, Progress *progress, GError **error);

// Adds what a ball of this radius rolling outside cannot reach: rounds internal corners and fills
// gaps narrower than the ball.
gboolean shape_fillet(SolidGrid *body, double radius, Progress *progress, GError **error);

// Fills, layer by layer, openings with metal all round that are at most `diameter` wide: holes
// along z. Flush with the faces they open to.
gboolean shape_close_holes(SolidGrid *body, double diameter, Progress *progress, GError **error);

G_END_DECLS
