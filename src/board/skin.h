// SPDX-License-Identifier: GPL-3.0-or-later
// The closed skin of a printed piece given on a grid. Where the piece reaches the grid's side it is
// cut flat, half a cell beyond the outermost cell middles, with sharp edges: the foot that lies on
// the board, and the faces of a piece cut to the printer's bed.
#pragma once

#include "board/draw.h"
#include "solid/grid.h"

G_BEGIN_DECLS

// Takes away what would make an edge of the skin meet four faces: fills the cell that is nearest to
// metal already. With `drawn` every cell below a filled one is filled too. Changes the grid.
void board_skin_mend(SolidGrid *field, gboolean drawn);

// Closed mesh over value <= 0, facing out, in the grid's axes; m. The field must have been mended.
// With `draws` it is made to draw upwards to the last triangle, but for `holes`, and has fewer
// triangles where it is flat. NULL with an error
// when stopped.
SolidMesh *board_skin(const SolidGrid *field, gboolean draws, const BoardHole *holes, guint n_holes,
                      Progress *progress, GError **error);

G_END_DECLS
