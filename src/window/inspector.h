// SPDX-License-Identifier: GPL-3.0-or-later
// The inputs and figures of the chosen step, and the cautions that belong with it.
#pragma once

#include <gtk/gtk.h>

#include "plan/desk.h"

G_BEGIN_DECLS

#define FW_TYPE_INSPECTOR (fw_inspector_get_type())
G_DECLARE_FINAL_TYPE(FwInspector, fw_inspector, FW, INSPECTOR, GtkBox)

void fw_inspector_set_desk(FwInspector *inspector, Desk *desk);
void fw_inspector_show_step(FwInspector *inspector, const char *step_id);
// "inputs", "figures", or on the step "pattern" also "pieces".
void fw_inspector_show_page(FwInspector *inspector, const char *page);
// Moves the focus to the first thing on the page shown.
void fw_inspector_focus_page(FwInspector *inspector);
gboolean fw_inspector_is_settled(FwInspector *inspector); // its pictures are drawn
// Begins a search of the inputs or figures shown.
void fw_inspector_find(FwInspector *inspector);
// Shows the row of a field, which must be on the step shown, and gives it the focus.
void fw_inspector_focus_field(FwInspector *inspector, const char *path);
// Signal: "figure-chosen" (const char *figure_id, GtkWidget *row).

G_END_DECLS
