// SPDX-License-Identifier: GPL-3.0-or-later
// What the timeline widget holds; for timeline-*.c only.
#pragma once

#include "sketch/theme.h"
#include "window/timeline-view.h"

G_BEGIN_DECLS

struct _FwTimelineView {
    GtkWidget parent;
    Desk *desk; // or NULL
    // what is shown: of a plan, or a session by itself
    const Plan *plan;
    const SessionResult *session;
    const MeltResult *melt;
    TimelineChart *chart; // NULL: words
    char *words, *pins, *job;
    TimelineLook look;
    TimelineFrame frame;
    GdkTexture *still; // of what does not move; NULL: to be painted
    int still_scale;
    const Theme *theme;
    Scene *over; // of what is looked at; NULL: to be drawn
    TimelineFocus focus;
    char *chosen_key; // of the chosen task, which may be elsewhere in another plan
    GPtrArray *parts; // FwScenePart children, borrowed
    guint first_part; // task of the first of them
    // in hand
    double grab, press_x, press_y; // s from the task's start; device units
    gboolean moving;
    gboolean waiting; // let go, and the plan does not know of it yet
    double wished;    // s
    char *wished_key;
    double pan_from; // s, what was at the left when a pan began
    double pan_row;
    double scrolled_rows; // by a wheel that goes in fractions
    guint edge_tick;      // while it is moved under the task in hand; 0: it is not
    gint64 edge_time;     // us, of the last frame; 0: none yet
    double edge_x, edge_y;
};

// timeline-view.c
void timeline_forget_still(FwTimelineView *view);
void timeline_forget_over(FwTimelineView *view);
void timeline_place_again(FwTimelineView *view); // after a change of what is seen
void timeline_say(FwTimelineView *view, const char *words);
void timeline_explain(FwTimelineView *view, guint task);
void timeline_tell_change(FwTimelineView *view);
// timeline-parts.c
void timeline_make_parts(FwTimelineView *view);
void timeline_forget_parts(FwTimelineView *view);
void timeline_allocate_parts(FwTimelineView *view);
// The child of a task, made if there are too many tasks for all to have one; NULL without.
GtkWidget *timeline_part_of(FwTimelineView *view, guint task);
// timeline-choice.c
void timeline_set_hover(FwTimelineView *view, guint task);
void timeline_choose_bar(FwTimelineView *view, guint bar, gboolean focus);
void timeline_show_bar(FwTimelineView *view, guint bar); // pans until it is in sight
// timeline-gestures.c
void timeline_add_controllers(FwTimelineView *view);
void timeline_zoom_at(FwTimelineView *view, double factor, double x);
void timeline_pan_by(FwTimelineView *view, double dx, double rows);
// timeline-edge.c
void timeline_edge_follow(FwTimelineView *view, double x, double y); // the pointer, task in hand
void timeline_edge_stop(FwTimelineView *view);
// timeline-drag.c
// Something was let go and this plan does not know of it yet.
gboolean timeline_is_behind(FwTimelineView *view, const Plan *plan);
void
timeline_give_up(FwTimelineView *view);     // nothing is computed any more: such a plan never comes
void timeline_follow(FwTimelineView *view); // one that does is shown: says where it has come to

G_END_DECLS
