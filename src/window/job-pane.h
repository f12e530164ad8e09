// SPDX-License-Identifier: GPL-3.0-or-later
// The job pane: choice of job, progress of its batch, and the steps from part to finished, each
// with its state, the figures that matter and a count of what asks for attention.
#pragma once

#include <gtk/gtk.h>

#include "plan/desk.h"

G_BEGIN_DECLS

#define FW_TYPE_JOB_PANE (fw_job_pane_get_type())
G_DECLARE_FINAL_TYPE(FwJobPane, fw_job_pane, FW, JOB_PANE, GtkBox)

// Signal: "step-chosen" (const char *step_id).
void fw_job_pane_set_desk(FwJobPane *pane, Desk *desk);
void fw_job_pane_choose_step(FwJobPane *pane, const char *step_id);

G_END_DECLS
