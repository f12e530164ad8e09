// SPDX-License-Identifier: GPL-3.0-or-later
// The tasks of a timeline as focusable children with their words. Of a very long session only those
// around the one that was come to last have one: thousands of widgets would be slow to lay out.
#include <math.h>

#include "window/scene-part.h"
#include "window/timeline-view-private.h"

#define MOST_PARTS 200

void
timeline_forget_parts(FwTimelineView *self)
{
    for (guint i = 0; i < self->parts->len; i++)
        gtk_widget_unparent(g_ptr_array_index(self->parts, i));
    g_ptr_array_set_size(self->parts, 0);
}

static guint
find_task(FwTimelineView *self, GtkWidget *part)
{
    guint at = 0;
    return g_ptr_array_find(self->parts, part, &at) ? self->first_part + at : G_MAXUINT;
}

static void
on_chosen_cb(GtkWidget *part, FwTimelineView *self)
{
    timeline_explain(self, find_task(self, part));
}

// A reader may move the focus by itself.
static void
on_state_cb(GtkWidget *part, GtkStateFlags before, FwTimelineView *self)
{
    guint task = find_task(self, part);
    GtkStateFlags now = gtk_widget_get_state_flags(part);
    if ((now & ~before & GTK_STATE_FLAG_FOCUSED) && self->chart && task != self->focus.chosen)
        fw_timeline_view_choose(self, task);
}

static void
describe(FwTimelineView *self, guint task, ScenePart *part)
{
    *part = (ScenePart){.id = g_strdup_printf("task-%u", task + 1),
                        .label = timeline_task_label(self->chart, task),
                        .description = timeline_task_words(self->chart, task, self->pins)};
}

static void
clear_words(ScenePart *part)
{
    g_free(part->id);
    g_free(part->label);
    g_free(part->description);
}

static void
make_from(FwTimelineView *self, guint first)
{
    guint n = self->chart->session->n_tasks;
    timeline_forget_parts(self);
    self->first_part = n > MOST_PARTS ? MIN(first, n - MOST_PARTS) : 0;
    for (guint i = self->first_part; i < MIN(n, self->first_part + MOST_PARTS); i++) {
        ScenePart words;
        describe(self, i, &words);
        GtkWidget *part = fw_scene_part_new(&words);
        clear_words(&words);
        g_signal_connect(part, "chosen", G_CALLBACK(on_chosen_cb), self);
        g_signal_connect(part, "state-flags-changed", G_CALLBACK(on_state_cb), self);
        gtk_widget_set_parent(part, GTK_WIDGET(self));
        g_ptr_array_add(self->parts, part);
    }
}

// A session of as many tasks keeps its widgets, and so the focus and the reader's place.
void
timeline_make_parts(FwTimelineView *self)
{
    guint n = self->chart ? self->chart->session->n_tasks : 0;
    if (n == 0) {
        timeline_forget_parts(self);
        return;
    }
    if (self->parts->len != MIN(n, MOST_PARTS) || self->first_part + self->parts->len > n) {
        make_from(self, 0);
        return;
    }
    for (guint i = 0; i < self->parts->len; i++) {
        ScenePart words;
        describe(self, self->first_part + i, &words);
        fw_scene_part_update(g_ptr_array_index(self->parts, i), &words);
        clear_words(&words);
    }
}

GtkWidget *
timeline_part_of(FwTimelineView *self, guint task)
{
    if (!self->chart || task >= self->chart->session->n_tasks)
        return NULL;
    if (task < self->first_part || task >= self->first_part + self->parts->len) {
        make_from(self, task > MOST_PARTS / 2 ? task - MOST_PARTS / 2 : 0);
        gtk_widget_queue_allocate(GTK_WIDGET(self));
    }
    return g_ptr_array_index(self->parts, task - self->first_part);
}

void
timeline_allocate_parts(FwTimelineView *self)
{
    for (guint i = 0; i < self->parts->len; i++) {
        GtkWidget *part = g_ptr_array_index(self->parts, i);
        GtkAllocation where = {0, 0, 1, 1};
        fw_timeline_view_locate(self, self->first_part + i, &where);
        fw_scene_part_allocate(FW_SCENE_PART(part), &where);
    }
}
