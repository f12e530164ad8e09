// SPDX-License-Identifier: GPL-3.0-or-later
// What is pointed at and what is chosen in the timeline, and where it lies.
#include <math.h>

#include "window/drawing.h"
#include "window/timeline-view-private.h"

void
timeline_set_hover(FwTimelineView *self, guint task)
{
    if (self->focus.hover == task)
        return;
    self->focus.hover = task;
    gboolean there = self->chart && task < self->chart->session->n_tasks;
    g_autofree char *label = there ? timeline_task_label(self->chart, task) : NULL;
    g_autofree char *words = there ? timeline_task_words(self->chart, task, self->pins) : NULL;
    fw_drawing_set_tip(GTK_WIDGET(self), label, words);
    gtk_widget_set_cursor_from_name(GTK_WIDGET(self), !there       ? NULL
                                                      : self->desk ? "grab"
                                                                   : "pointer");
    timeline_forget_over(self);
}

// What is chosen.

guint
fw_timeline_view_chosen(FwTimelineView *self)
{
    return self->focus.chosen;
}

static void
set_chosen(FwTimelineView *self, guint task, guint bar)
{
    gboolean other = task != self->focus.chosen;
    self->focus.chosen = task;
    self->focus.bar = bar;
    g_clear_pointer(&self->chosen_key, g_free);
    if (task != G_MAXUINT)
        self->chosen_key = timeline_key(&self->chart->session->tasks[task]);
    timeline_forget_over(self);
    if (other)
        timeline_tell_change(self);
}

void
timeline_show_bar(FwTimelineView *self, guint bar)
{
    const TimelineBar *b = &self->chart->bars[bar];
    const TimelineFrame *f = &self->frame;
    double shown = (f->right - f->left) / f->scale, rim = 0.05 * shown;
    double from = self->look.from;
    guint row = self->look.first_row;
    if (b->end > from + shown)
        from = b->end + rim - shown;
    if (b->start < from)
        from = b->start - rim;
    if (b->row < f->first_row)
        row = b->row;
    if (b->row >= f->first_row + f->n_rows)
        row = b->row + 1 - f->n_rows;
    if (from == self->look.from && row == self->look.first_row)
        return;
    self->look.from = from;
    self->look.first_row = row;
    timeline_place_again(self);
}

void
timeline_choose_bar(FwTimelineView *self, guint bar, gboolean focus)
{
    if (!self->chart || bar >= self->chart->n_bars) {
        set_chosen(self, G_MAXUINT, G_MAXUINT);
        return;
    }
    guint task = self->chart->bars[bar].task;
    set_chosen(self, task, bar);
    GtkWidget *part = focus ? timeline_part_of(self, task) : NULL;
    if (part) {
        timeline_show_bar(self, bar);
        gtk_widget_grab_focus(part);
    }
}

void
fw_timeline_view_choose(FwTimelineView *self, guint task)
{
    gboolean there = self->chart && task < self->chart->session->n_tasks;
    timeline_choose_bar(self, there ? self->chart->first_bar[task] : G_MAXUINT, FALSE);
}

gboolean
fw_timeline_view_focus_task(FwTimelineView *self, guint task)
{
    if (!self->chart || task >= self->chart->session->n_tasks)
        return FALSE;
    timeline_choose_bar(self, self->chart->first_bar[task], TRUE);
    return self->focus.chosen == task;
}

gboolean
fw_timeline_view_locate(FwTimelineView *self, guint task, GdkRectangle *where)
{
    SolidPoint min, max;
    if (!self->chart || task >= self->chart->session->n_tasks)
        return FALSE;
    guint bar = task == self->focus.chosen && self->focus.bar != G_MAXUINT
                    ? self->focus.bar
                    : self->chart->first_bar[task];
    if (!timeline_bar_box(self->chart, &self->frame, bar, &min, &max))
        return FALSE;
    *where = (GdkRectangle){(int)floor(min.x), (int)floor(min.y), MAX(1, (int)(max.x - min.x)),
                            MAX(1, (int)(max.y - min.y))};
    return TRUE;
}
