// SPDX-License-Identifier: GPL-3.0-or-later
// Time that goes on under a task in hand: while the pointer is at an edge of what is shown, the
// timeline is moved with every frame of the screen, the faster the further out the pointer is, and
// stops where the session does.
#include <math.h>

#include "window/timeline-view-private.h"

#define EDGE 40.0        // device units from the edge in which it is moved
#define MOST_SPEED 800.0 // device units per second, from the edge outwards
#define LONGEST 0.1      // s; after a pause it does not jump

// Device units per second, towards later. A task that is taken hold of at an edge stays there until
// it is moved outwards.
static double
find_speed(FwTimelineView *self)
{
    double right = self->edge_x - (self->frame.right - EDGE);
    double left = self->frame.left + EDGE - self->edge_x;
    double share = 0.0;
    if (right > 0.0 && self->edge_x > self->press_x)
        share = fmin(right / EDGE, 1.0);
    else if (left > 0.0 && self->edge_x < self->press_x)
        share = -fmin(left / EDGE, 1.0);
    return MOST_SPEED * share * fabs(share);
}

static gboolean
on_tick_cb(GtkWidget *widget, GdkFrameClock *clock, gpointer data)
{
    FwTimelineView *self = FW_TIMELINE_VIEW(widget);
    gint64 now = gdk_frame_clock_get_frame_time(clock);
    double passed = fmin((double)(now - self->edge_time) / G_USEC_PER_SEC, LONGEST);
    gboolean first = self->edge_time == 0;
    self->edge_time = now;
    if (first || passed <= 0.0)
        return G_SOURCE_CONTINUE;
    double before = self->look.from;
    if (self->focus.held != G_MAXUINT)
        timeline_pan_by(self, find_speed(self) * passed, 0.0);
    if (self->look.from == before) { // the session's end or its beginning, or nothing is held
        self->edge_tick = 0;
        return G_SOURCE_REMOVE;
    }
    fw_timeline_view_move(self, self->edge_x, self->edge_y);
    return self->edge_tick != 0 ? G_SOURCE_CONTINUE : G_SOURCE_REMOVE;
}

void
timeline_edge_stop(FwTimelineView *self)
{
    if (self->edge_tick != 0)
        gtk_widget_remove_tick_callback(GTK_WIDGET(self), self->edge_tick);
    self->edge_tick = 0;
}

void
timeline_edge_follow(FwTimelineView *self, double x, double y)
{
    self->edge_x = x;
    self->edge_y = y;
    if (find_speed(self) == 0.0) {
        timeline_edge_stop(self);
    } else if (self->edge_tick == 0) {
        self->edge_time = 0;
        self->edge_tick = gtk_widget_add_tick_callback(GTK_WIDGET(self), on_tick_cb, NULL, NULL);
    }
}
