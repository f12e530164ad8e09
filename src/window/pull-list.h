// SPDX-License-Identifier: GPL-3.0-or-later
// The ranked pulls as a list, each with its picture. Enter or a click makes one the job's.
#pragma once

#include <gtk/gtk.h>

#include "window/pull-search.h"

G_BEGIN_DECLS

#define FW_TYPE_PULL_LIST (fw_pull_list_get_type())
G_DECLARE_FINAL_TYPE(FwPullList, fw_pull_list, FW, PULL_LIST, GtkBox)

// Signal "chosen" (guint): number of the answer, from 0.
GtkWidget *fw_pull_list_new(void);
// Made anew only when it says something else, so that focus and scrolling stay. Pictures are made
// once the list can be seen.
void fw_pull_list_show(FwPullList *list, FwPullSearch *search, const Plan *plan);
void fw_pull_list_stop(FwPullList *list); // pictures
gboolean fw_pull_list_is_settled(FwPullList *list);

G_END_DECLS
