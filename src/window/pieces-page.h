// SPDX-License-Identifier: GPL-3.0-or-later
// The page of the pieces to print: the chosen one shaded, the list, the sums, and the command that
// writes them.
#pragma once

#include <gtk/gtk.h>

#include "plan/plan.h"

G_BEGIN_DECLS

#define FW_TYPE_PIECES_PAGE (fw_pieces_page_get_type())
G_DECLARE_FINAL_TYPE(FwPiecesPage, fw_pieces_page, FW, PIECES_PAGE, GtkBox)

// Signal: "figure-chosen" (const char *figure_id, GtkWidget *row).
// NULL plan or one without pieces: the page says why; `busy` that they are on their way.
void fw_pieces_page_show(FwPiecesPage *page, const Plan *plan, gboolean busy);
void fw_pieces_page_choose(FwPiecesPage *page, const char *name); // of a piece
gboolean fw_pieces_page_is_settled(FwPiecesPage *page);           // the picture is drawn

G_END_DECLS
