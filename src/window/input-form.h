// SPDX-License-Identifier: GPL-3.0-or-later
// The form of a step: its inputs in groups by topic, to be searched by words.
#pragma once

#include <gtk/gtk.h>

#include "plan/desk.h"

G_BEGIN_DECLS

#define FW_TYPE_INPUT_FORM (fw_input_form_get_type())
G_DECLARE_FINAL_TYPE(FwInputForm, fw_input_form, FW, INPUT_FORM, GtkBox)

void fw_input_form_set_desk(FwInputForm *form, Desk *desk);
// Builds the rows anew. `step_id` must stay, as that of a Step does. What was folded or unfolded
// before stays so.
void fw_input_form_show_step(FwInputForm *form, const char *step_id);
// Reads book and plan again.
void fw_input_form_update(FwInputForm *form);
// Shows only inputs with these words; "" shows all. Keeps them when another step is shown.
void fw_input_form_filter(FwInputForm *form, const char *words);
// Unfolds the group of a field of this step, scrolls to it and gives it the focus.
void fw_input_form_focus(FwInputForm *form, const char *path);

G_END_DECLS
