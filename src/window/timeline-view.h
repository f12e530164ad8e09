// SPDX-License-Identifier: GPL-3.0-or-later
// The session timeline as a widget: a row for each furnace, pair of hands and flask, tasks that are
// chosen, looked at and moved. Each task is a focusable child with its words for the screen reader.
//
// Mouse: wheel pans in time (Shift: through the rows), Ctrl+wheel zooms at the pointer, dragging a
// task moves it, dragging elsewhere pans, a click chooses, a double click explains, the right
// button opens the menu. Keys: arrows go from task to task in time and from row to row, Home and
// End to the first and last of the row, plus, minus and 0 zoom, Page Up and Page Down move what is
// seen, Ctrl+Left and Ctrl+Right move the task by five minutes, Delete lets the plan place it
// again, Enter explains, Escape drops what is held.
#pragma once

#include "plan/desk.h"
#include "sketch/timeline.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

#define FW_TYPE_TIMELINE_VIEW (fw_timeline_view_get_type())
G_DECLARE_FINAL_TYPE(FwTimelineView, fw_timeline_view, FW, TIMELINE_VIEW, GtkWidget)

// Signals: "task-explained" (const char *part_id, const char *figure_id), a double click or Enter;
// "said" (const char *words), a passing word; "menu" (double x, double y), asks for the menu;
// "changed", what is chosen or pinned is another.
GtkWidget *fw_timeline_view_new(void);
// Where moved tasks are written to (field "job.pins"); without, nothing can be moved.
void fw_timeline_view_set_desk(FwTimelineView *view, Desk *desk);
// The session of a plan, or `words` where there is none. Zoom and choice stay.
void fw_timeline_view_set_plan(FwTimelineView *view, const Plan *plan, const char *words);
// A session apart from a plan, which cannot be moved, as on a day that is being lived: `now` in s
// from its start (NAN: no line). `melt` may be NULL.
void fw_timeline_view_set_session(FwTimelineView *view, const SessionResult *session,
                                  const MeltResult *melt, const UnitSet *units, double now);
void fw_timeline_view_set_now(FwTimelineView *view, double now);

void fw_timeline_view_zoom(FwTimelineView *view, double factor); // about the middle
void fw_timeline_view_fit(FwTimelineView *view);
const TimelineChart *fw_timeline_view_chart(FwTimelineView *view); // NULL without a session
const TimelineFrame *fw_timeline_view_frame(FwTimelineView *view); // as it is shown
const char *fw_timeline_view_pins(FwTimelineView *view);           // or NULL

// By place in the session; G_MAXUINT: none. Choosing does not move the keyboard's focus.
guint fw_timeline_view_chosen(FwTimelineView *view);
void fw_timeline_view_choose(FwTimelineView *view, guint task);
gboolean fw_timeline_view_focus_task(FwTimelineView *view, guint task);
gboolean fw_timeline_view_is_pinned(FwTimelineView *view, guint task);
// Where a task lies in the widget, for a popover. FALSE when out of sight.
gboolean fw_timeline_view_locate(FwTimelineView *view, guint task, GdkRectangle *where);

// timeline-drag.c
// A drag: takes hold of the task at (x, y), FALSE when none can be moved there; moved to (x, y), at
// an edge of the time shown with time going on under it; let go or dropped.
gboolean fw_timeline_view_begin(FwTimelineView *view, double x, double y);
void fw_timeline_view_move(FwTimelineView *view, double x, double y);
void fw_timeline_view_end(FwTimelineView *view);
void fw_timeline_view_cancel(FwTimelineView *view);
// Moves the chosen task by so many seconds.
void fw_timeline_view_nudge(FwTimelineView *view, double seconds);
// The plan places the chosen task, or all, by itself again.
void fw_timeline_view_unpin(FwTimelineView *view);
void fw_timeline_view_unpin_all(FwTimelineView *view);
// timeline-print.c
// Starts printing what is shown; `parent` may be NULL. With a path it writes a PDF instead, without
// asking. FALSE with an error when it did not work; cancelling is no error.
gboolean fw_timeline_view_print(FwTimelineView *view, GtkWindow *parent, const char *to_path,
                                GError **error);

G_END_DECLS
