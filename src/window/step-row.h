// SPDX-License-Identifier: GPL-3.0-or-later
// One step of the job pane.
#pragma once

#include <gtk/gtk.h>

#include "window/steps.h"

G_BEGIN_DECLS

#define FW_TYPE_STEP_ROW (fw_step_row_get_type())
G_DECLARE_FINAL_TYPE(FwStepRow, fw_step_row, FW, STEP_ROW, GtkListBoxRow)

GtkWidget *fw_step_row_new(const Step *step);
const Step *fw_step_row_get_step(FwStepRow *row);
void fw_step_row_update(FwStepRow *row, const Plan *plan); // NULL: nothing planned

G_END_DECLS
