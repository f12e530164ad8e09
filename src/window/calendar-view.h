// SPDX-License-Identifier: GPL-3.0-or-later
// The batch over days: a sheet of the sessions of all jobs, and what has to be on hand by when.
// Planned in a thread of its own while the view can be seen and the desk has nothing else to do;
// what is shown stays until the new plan is there. Pressing a session or a due day chooses its job.
#pragma once

#include <gtk/gtk.h>

#include "plan/batch.h"
#include "plan/desk.h"
#include "window/sketch-view.h"

G_BEGIN_DECLS

#define FW_TYPE_CALENDAR_VIEW (fw_calendar_view_get_type())
G_DECLARE_FINAL_TYPE(FwCalendarView, fw_calendar_view, FW, CALENDAR_VIEW, GtkBox)

// Signal: "made", a plan is there or has failed.
GtkWidget *fw_calendar_view_new(void);
void fw_calendar_view_set_desk(FwCalendarView *view, Desk *desk); // kept; once
FwSketchView *fw_calendar_view_sketch(FwCalendarView *view);
// The first day looked at, Julian; 0, as at the start, for today.
void fw_calendar_view_set_first(FwCalendarView *view, guint32 first);
// The plan of the book as it is, borrowed; NULL while it is not there. With `want` it is made even
// if the view cannot be seen, and "made" tells.
const BatchPlan *fw_calendar_view_batch(FwCalendarView *view, gboolean want);
// Why there is none, or NULL.
const char *fw_calendar_view_trouble(FwCalendarView *view);
// Shows the sheet, for a file; NULL with an error.
Scene *fw_calendar_view_scene(FwCalendarView *view, GError **error);
// Neither planning nor about to.
gboolean fw_calendar_view_is_settled(FwCalendarView *view);

G_END_DECLS
