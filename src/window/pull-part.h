// SPDX-License-Identifier: GPL-3.0-or-later
// The part of a plan as the pull view shows it: the shaded picture over its key, and the areas that
// can be marked in it.
#pragma once

#include "window/pull-model.h"
#include "window/shade-view.h"

G_BEGIN_DECLS

#define FW_TYPE_PULL_PART (fw_pull_part_get_type())
G_DECLARE_FINAL_TYPE(FwPullPart, fw_pull_part, FW, PULL_PART, GtkBox)

// Signal "changed": another model is shown, or none.
GtkWidget *fw_pull_part_new(void);
// Does something only while it can be seen and when the plan's pattern is another. `plan` may be
// NULL; `busy`: one is on its way.
void fw_pull_part_show(FwPullPart *part, const Plan *plan, gboolean busy);
const PullModel *fw_pull_part_model(FwPullPart *part); // shown; NULL: none. Borrowed
const char *fw_pull_part_words(FwPullPart *part);      // what is shown, or why nothing is
// Marks an area and turns the part so that it is seen: 1 + its number; 0 for none.
void fw_pull_part_mark(FwPullPart *part, guint area);
FwShadeView *fw_pull_part_shade(FwPullPart *part);
gboolean fw_pull_part_is_settled(FwPullPart *part);

G_END_DECLS
