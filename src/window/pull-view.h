// SPDX-License-Identifier: GPL-3.0-or-later
// Which way the part draws: the part shaded by draft and undercut, and beside it the pulls the
// search found, best first, and the areas that do not draw as wanted. Choosing a pull makes it the
// job's, which can be undone; choosing an area marks it.
#pragma once

#include <gtk/gtk.h>

#include "part/search.h"
#include "plan/desk.h"
#include "window/shade-view.h"

G_BEGIN_DECLS

#define FW_TYPE_PULL_VIEW (fw_pull_view_get_type())
G_DECLARE_FINAL_TYPE(FwPullView, fw_pull_view, FW, PULL_VIEW, GtkBox)

GtkWidget *fw_pull_view_new(void);
void fw_pull_view_set_desk(FwPullView *view, Desk *desk); // kept; once
FwShadeView *fw_pull_view_shade(FwPullView *view);

// The search for the plan shown; it goes on in a thread. Nothing happens without a closed part or
// while one is under way.
void fw_pull_view_search(FwPullView *view);
void fw_pull_view_stop(FwPullView *view);
gboolean fw_pull_view_is_searching(FwPullView *view);
guint fw_pull_view_answers(FwPullView *view); // how many the list holds
// Answers for the plan shown that were found elsewhere, as if the view had searched; copied, and as
// harmless as NULL when they are what it shows. They go when the part or the casting changes.
void fw_pull_view_set_answers(FwPullView *view, const SearchResult *answers);
// Makes the n-th answer the job's pull. FALSE if there is no such answer or it was refused.
gboolean fw_pull_view_choose(FwPullView *view, guint n);

guint fw_pull_view_areas(FwPullView *view); // that do not draw as wanted
// Marks an area and turns the part so that it is seen: 1 + its number, the largest first; 0 for
// none.
void fw_pull_view_mark(FwPullView *view, guint area);

// Not waiting for a picture. Nothing is drawn while the view is out of sight.
gboolean fw_pull_view_is_settled(FwPullView *view);

G_END_DECLS
