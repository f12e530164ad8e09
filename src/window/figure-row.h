// SPDX-License-Identifier: GPL-3.0-or-later
// One figure of the inspector: label, value, state. A button: pressing it explains the figure.
#pragma once

#include <gtk/gtk.h>

#include "plan/plan.h"

G_BEGIN_DECLS

#define FW_TYPE_FIGURE_ROW (fw_figure_row_get_type())
G_DECLARE_FINAL_TYPE(FwFigureRow, fw_figure_row, FW, FIGURE_ROW, GtkButton)

GtkWidget *fw_figure_row_new(const char *figure_id);
const char *fw_figure_row_get_id(FwFigureRow *row);
// Takes the figure from the plan; `stale` dims it. NULL plan or no such figure: a dash.
void fw_figure_row_update(FwFigureRow *row, const Plan *plan, gboolean stale);

// "fw-holds-symbolic" and so on: our own icon for a state. Static.
const char *fw_state_icon(FigureState state);
// CSS class for a state: "holds", "close", "fails", "unknown", or NULL.
const char *fw_state_class(FigureState state);

G_END_DECLS
