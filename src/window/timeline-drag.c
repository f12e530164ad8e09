// SPDX-License-Identifier: GPL-3.0-or-later
// Moving a task in time by hand. What it needs is not moved: the task stops where that ends, and a
// sentence says what it waits for. When it is let go the book is told the time before which it does
// not begin, and everything is planned again; until then it is shown where it was put.
#include <glib/gi18n.h>
#include <math.h>

#include "sketch/timeline-pins.h"
#include "window/timeline-view-private.h"

#define STEP 60.0      // s, what a drag is rounded to
#define TOLERANCE 30.0 // s that are no move
#define THRESHOLD 3.0  // device units a hand may tremble

static const SessionTask *
task_at(FwTimelineView *self, guint task)
{
    return &self->chart->session->tasks[task];
}

gboolean
fw_timeline_view_is_pinned(FwTimelineView *self, guint task)
{
    double at;
    if (!self->chart || task >= self->chart->session->n_tasks)
        return FALSE;
    g_autofree char *key = timeline_key(task_at(self, task));
    return timeline_pin_find(self->pins, key, &self->chart->units, &at);
}

static void
say_limit(FwTimelineView *self, guint task, guint limit)
{
    g_autofree char *label = timeline_task_label(self->chart, task);
    g_autofree char *other = timeline_task_label(self->chart, limit);
    g_autofree char *clock = timeline_clock(task_at(self, limit)->end);
    // TRANSLATORS: "Pour mould 3 waits for Melt load 1, done at 3:05"
    g_autofree char *words = g_strdup_printf(_("%s waits for %s, done at %s"), label, other, clock);
    timeline_say(self, words);
}

// What ends just before a task in a row that both take, if it is not what it needs anyway.
static guint
find_blocker(const TimelineChart *chart, guint task)
{
    guint found = G_MAXUINT;
    for (guint i = 1; i < chart->n_bars; i++) {
        const TimelineBar *before = &chart->bars[i - 1];
        if (chart->bars[i].task == task && before->row == chart->bars[i].row &&
            chart->bars[i].start - before->end < STEP)
            found = before->task;
    }
    return found;
}

static void
say_why_not_earlier(FwTimelineView *self, guint task)
{
    guint last, blocker = find_blocker(self->chart, task);
    double earliest = timeline_earliest(self->chart, task, &last);
    if (last != G_MAXUINT && task_at(self, task)->start - earliest < STEP) {
        say_limit(self, task, last);
        return;
    }
    g_autofree char *label = timeline_task_label(self->chart, task);
    g_autofree char *other = blocker != G_MAXUINT ? timeline_task_label(self->chart, blocker)
                                                  : NULL;
    g_autofree char *words =
        other ? g_strdup_printf(_("%s comes after %s; move that one later first"), label, other)
              : g_strdup_printf(_("%s already begins as early as the plan finds best"), label);
    timeline_say(self, words);
}

// One step to undo. FALSE, and a word about it, when the book does not take it.
static gboolean
write_pins(FwTimelineView *self, const char *text)
{
    g_autoptr(GError) error = NULL;
    if (self->desk && field_find("job.pins") &&
        desk_edit_field(self->desk, "job.pins", text, &error))
        return TRUE;
    timeline_say(self, error ? error->message : _("This session cannot be changed"));
    return FALSE;
}

static void
put_task(FwTimelineView *self, guint task, double at)
{
    g_autofree char *key = timeline_key(task_at(self, task));
    g_autofree char *text = timeline_pin_text(self->pins, key, at, &self->chart->units);
    g_free(self->wished_key);
    self->wished_key = g_steal_pointer(&key);
    self->wished = at;
    self->waiting = TRUE; // before the desk hears of it: it may answer at once
    if (!write_pins(self, text))
        self->waiting = FALSE;
}

// Puts it no earlier than what it needs is done, and says so; else at whole minutes.
static double
bound_time(FwTimelineView *self, guint task, double at, guint *limit)
{
    guint last;
    double earliest = timeline_earliest(self->chart, task, &last);
    *limit = G_MAXUINT;
    at = round(at / STEP) * STEP;
    if (at < earliest) {
        *limit = last;
        return earliest;
    }
    return CLAMP(at, 0.0, self->chart->length);
}

gboolean
fw_timeline_view_begin(FwTimelineView *self, double x, double y)
{
    guint bar = self->chart ? timeline_pick(self->chart, &self->frame, x, y) : G_MAXUINT;
    if (bar == G_MAXUINT || bar >= self->chart->n_bars || !self->desk || self->waiting)
        return FALSE;
    timeline_choose_bar(self, bar, FALSE);
    guint task = self->chart->bars[bar].task;
    self->press_x = x;
    self->press_y = y;
    self->grab = timeline_at(&self->frame, x) - task_at(self, task)->start;
    self->moving = FALSE;
    self->focus.held = task;
    self->focus.at = task_at(self, task)->start;
    self->focus.limit = G_MAXUINT;
    return TRUE;
}

void
fw_timeline_view_move(FwTimelineView *self, double x, double y)
{
    guint task = self->focus.held, limit;
    if (task == G_MAXUINT || self->waiting)
        return;
    if (!self->moving && fabs(x - self->press_x) < THRESHOLD)
        return;
    self->moving = TRUE;
    timeline_edge_follow(self, x, y);
    double at = bound_time(self, task, timeline_at(&self->frame, x) - self->grab, &limit);
    if (limit != G_MAXUINT && limit != self->focus.limit)
        say_limit(self, task, limit);
    if (at == self->focus.at && limit == self->focus.limit)
        return;
    self->focus.at = at;
    self->focus.limit = limit;
    gtk_widget_set_cursor_from_name(GTK_WIDGET(self), "grabbing");
    timeline_forget_over(self);
}

static void
drop_task(FwTimelineView *self)
{
    timeline_edge_stop(self);
    self->focus.held = self->focus.limit = G_MAXUINT;
    self->moving = self->waiting = FALSE;
    timeline_forget_over(self);
}

// Later than it is, a task is held back. Earlier it goes only if a hand had held it back: the plan
// has put all others as early as they can be.
static void
settle_task(FwTimelineView *self, guint task, double at, guint limit)
{
    double start = task_at(self, task)->start;
    gboolean pinned = fw_timeline_view_is_pinned(self, task);
    if (fabs(at - start) < TOLERANCE && limit == G_MAXUINT) {
        drop_task(self);
    } else if (limit != G_MAXUINT && pinned) {
        put_task(self, task, NAN); // as early as it can be, which is what the plan does by itself
    } else if (at > start || pinned) {
        put_task(self, task, at);
    } else {
        say_why_not_earlier(self, task);
        drop_task(self);
    }
    if (!self->waiting)
        drop_task(self);
}

void
fw_timeline_view_end(FwTimelineView *self)
{
    guint task = self->focus.held;
    if (task == G_MAXUINT || self->waiting)
        return;
    timeline_edge_stop(self);
    if (self->moving)
        settle_task(self, task, self->focus.at, self->focus.limit);
    else
        drop_task(self);
    self->moving = FALSE;
    gtk_widget_set_cursor_from_name(GTK_WIDGET(self), NULL);
}

void
fw_timeline_view_cancel(FwTimelineView *self)
{
    if (!self->waiting && self->focus.held != G_MAXUINT)
        drop_task(self);
}

void
fw_timeline_view_nudge(FwTimelineView *self, double seconds)
{
    guint task = self->focus.chosen, limit;
    if (!self->chart || task >= self->chart->session->n_tasks || self->focus.held != G_MAXUINT) {
        if (self->chart && task == G_MAXUINT)
            timeline_say(self, _("Choose a task first"));
        return;
    }
    if (!self->desk) {
        timeline_say(self, _("This session cannot be changed"));
        return;
    }
    double at = bound_time(self, task, task_at(self, task)->start + seconds, &limit);
    if (limit != G_MAXUINT)
        say_limit(self, task, limit);
    self->focus.held = task;
    self->focus.at = at;
    self->focus.limit = limit;
    settle_task(self, task, at, limit);
    timeline_forget_over(self);
}

void
fw_timeline_view_unpin(FwTimelineView *self)
{
    guint task = self->focus.chosen;
    if (!self->chart || task >= self->chart->session->n_tasks)
        return;
    g_autofree char *label = timeline_task_label(self->chart, task);
    if (!fw_timeline_view_is_pinned(self, task)) {
        g_autofree char *words = g_strdup_printf(_("%s was not moved by hand"), label);
        timeline_say(self, words);
        return;
    }
    put_task(self, task, NAN);
}

void
fw_timeline_view_unpin_all(FwTimelineView *self)
{
    if (timeline_pin_count(self->pins) > 0)
        write_pins(self, "");
}

gboolean
timeline_is_behind(FwTimelineView *self, const Plan *plan)
{
    if (!self->waiting || !self->desk || !plan || g_strcmp0(self->job, plan_job(plan)) != 0)
        return FALSE;
    if (plan_book(plan) != desk_book(self->desk))
        return TRUE;
    for (guint i = 0; i < plan_stage_count(plan); i++) {
        PlanStageInfo stage = plan_stage_info(plan, i);
        if (g_str_equal(stage.id, "session"))
            return stage.stale;
    }
    return FALSE;
}

void
timeline_give_up(FwTimelineView *self)
{
    if (self->waiting && !desk_is_busy(self->desk) &&
        timeline_is_behind(self, desk_plan(self->desk)))
        drop_task(self);
}

static char *
tell_place(FwTimelineView *self, guint task)
{
    double start = task_at(self, task)->start;
    guint last;
    double earliest = timeline_earliest(self->chart, task, &last);
    g_autofree char *label = timeline_task_label(self->chart, task);
    g_autofree char *clock = timeline_clock(start);
    g_autofree char *wished = timeline_clock(self->wished);
    if (!isfinite(self->wished) || fabs(start - self->wished) <= STEP)
        return g_strdup_printf(_("%s now begins at %s"), label, clock);
    if (last == G_MAXUINT || start - earliest >= STEP)
        return g_strdup_printf(_("%s begins at %s, not %s: that is when it fits in"), label, clock,
                               wished);
    g_autofree char *other = timeline_task_label(self->chart, last);
    return g_strdup_printf(_("%s begins at %s, not %s: it waits for %s"), label, clock, wished,
                           other);
}

void
timeline_follow(FwTimelineView *self)
{
    if (!self->waiting)
        return;
    drop_task(self);
    guint task = self->chart ? timeline_find_key(self->chart, self->wished_key) : G_MAXUINT;
    if (task == G_MAXUINT)
        return;
    g_autofree char *words = tell_place(self, task);
    timeline_say(self, words);
}
