// SPDX-License-Identifier: GPL-3.0-or-later
// The list of areas that do not draw as wanted, the largest first. Choosing one, by mouse or by
// arrows, marks it in the picture; Escape marks none.
#pragma once

#include <gtk/gtk.h>

#include "window/pull-model.h"

G_BEGIN_DECLS

#define FW_TYPE_PULL_AREAS (fw_pull_areas_get_type())
G_DECLARE_FINAL_TYPE(FwPullAreas, fw_pull_areas, FW, PULL_AREAS, GtkBox)

// Signal "chosen" (guint): 1 + number of the area, 0 for none.
GtkWidget *fw_pull_areas_new(void);
// NULL: nothing is known, and the list says `words`. Nothing is chosen in a new list.
void fw_pull_areas_show(FwPullAreas *areas, const PullModel *model, const char *words);
guint fw_pull_areas_count(FwPullAreas *areas);               // all there are, listed or not
void fw_pull_areas_choose(FwPullAreas *areas, guint chosen); // as the signal has it

G_END_DECLS
