// SPDX-License-Identifier: GPL-3.0-or-later
// Explains a figure: value, formula, the same with numbers, limit, source, and what it was made
// from, each of which can be opened in turn.
#pragma once

#include <gtk/gtk.h>

#include "plan/plan.h"

G_BEGIN_DECLS

#define FW_TYPE_EXPLAIN_POPOVER (fw_explain_popover_get_type())
G_DECLARE_FINAL_TYPE(FwExplainPopover, fw_explain_popover, FW, EXPLAIN_POPOVER, GtkPopover)

// Signal: "field-wanted" (const char *path): an input that is a field was chosen.
GtkWidget *fw_explain_popover_new(void);
// The plan is kept while the popover shows it.
void fw_explain_popover_show(FwExplainPopover *popover, const Plan *plan, const char *figure_id);

G_END_DECLS
