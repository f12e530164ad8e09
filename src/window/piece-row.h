// SPDX-License-Identifier: GPL-3.0-or-later
// A row of the list of pieces to print: name, how many, what it is, size and filament.
#pragma once

#include <gtk/gtk.h>

#include "board/board.h"

G_BEGIN_DECLS

GtkWidget *fw_piece_row_new(const BoardPiece *piece, const UnitSet *units); // a GtkListBoxRow
const char *fw_piece_row_get_name(GtkWidget *row);

G_END_DECLS
