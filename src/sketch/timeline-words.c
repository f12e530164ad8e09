// SPDX-License-Identifier: GPL-3.0-or-later
// What the tasks of a session are called, at length, in a letter, and in whole sentences.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "sketch/timeline-kit.h"
#include "sketch/timeline-pins.h"

static const struct {
    SceneRole role;
    const char *letter, *name, *figure;
} kinds[] = {
    [TASK_SET_UP] = {ROLE_SET_UP, NC_("task", "S"), N_("Set up"), "run.session_length"},
    [TASK_WARM_UP] = {ROLE_WARMUP, NC_("task", "W"), N_("Warm up"), "melt.warmup_time"},
    [TASK_RAM] = {ROLE_RAM, NC_("task", "R"), N_("Ram"), "run.work_time"},
    [TASK_RAM_DRAG] = {ROLE_RAM, NC_("task", "D"), N_("Ram drag"), "run.work_time"},
    [TASK_RAM_COPE] = {ROLE_RAM_COPE, NC_("task", "C"), N_("Ram cope"), "run.work_time"},
    [TASK_DRAW] = {ROLE_DRAW, NC_("task", "T"), N_("Draw patterns"), "run.work_time"},
    [TASK_SHUT] = {ROLE_SHUT, NC_("task", "L"), N_("Close mould"), "run.work_time"},
    [TASK_CHARGE] = {ROLE_CHARGE, NC_("task", "F"), N_("Charge"), "melt.charge_mass"},
    [TASK_MELT] = {ROLE_MELT, NC_("task", "M"), N_("Melt"), "melt.cycle_time"},
    [TASK_SKIM] = {ROLE_SKIM, NC_("task", "K"), N_("Skim"), "run.metal_held"},
    [TASK_POUR] = {ROLE_POUR, NC_("task", "P"), N_("Pour"), "mould.fill_time"},
    [TASK_COOL] = {ROLE_COOL, NC_("task", "H"), N_("Cool"), "feed.shakeout_time"},
    [TASK_SHAKE_OUT] = {ROLE_SHAKE_OUT, NC_("task", "O"), N_("Shake out"), "run.work_time"},
    [TASK_CLOSE] = {ROLE_SET_UP, NC_("task", "E"), N_("Close"), "run.session_length"},
};

// The number of a thing for people; the greatest there is has no successor.
static int
count_from_one(int index)
{
    return MIN(index, G_MAXINT - 1) + 1;
}

SceneRole
timeline_role(TaskKind kind)
{
    return kinds[kind].role;
}

const char *
timeline_letter(TaskKind kind)
{
    return g_dpgettext2(GETTEXT_PACKAGE, "task", kinds[kind].letter);
}

const char *
timeline_kind_name(TaskKind kind)
{
    return _(kinds[kind].name);
}

char *
timeline_code(const SessionTask *task)
{
    int number = task->flask >= 0 ? task->flask : task->load;
    if (number < 0)
        return g_strdup(timeline_letter(task->kind));
    return g_strdup_printf("%s%d", timeline_letter(task->kind), count_from_one(number));
}

char *
timeline_kind_label(const SessionTask *task)
{
    int number = task->flask >= 0 ? task->flask : task->load;
    if (number < 0)
        return g_strdup(timeline_kind_name(task->kind));
    return g_strdup_printf("%s %d", timeline_kind_name(task->kind), count_from_one(number));
}

char *
timeline_clock(double seconds)
{
    gint64 minutes = (gint64)floor(fmax(0.0, seconds) / 60.0 + 0.5);
    return g_strdup_printf("%d:%02d", (int)(minutes / 60), (int)(minutes % 60));
}

char *
timeline_task_label(const TimelineChart *chart, guint task)
{
    g_return_val_if_fail(task < chart->session->n_tasks, NULL);
    const SessionTask *t = &chart->session->tasks[task];
    return t->label ? g_strdup(t->label) : timeline_kind_label(t);
}

const char *
timeline_task_figure(const TimelineChart *chart, guint task)
{
    g_return_val_if_fail(task < chart->session->n_tasks, NULL);
    return kinds[chart->session->tasks[task].kind].figure;
}

static void
tell_taken(const TimelineChart *chart, const SessionTask *task, GString *words)
{
    if (task->person && chart->session->people > 1) {
        g_string_append(words, "; ");
        g_string_append_printf(words, _("takes person %d"), count_from_one(MAX(task->who, 0)));
    } else if (task->person) {
        g_string_append_printf(words, "; %s", _("takes the person"));
    }
    if (task->furnace >= 0 && chart->session->furnaces > 1) {
        g_string_append(words, "; ");
        g_string_append_printf(words, _("takes furnace %d"), count_from_one(task->furnace));
    } else if (task->furnace >= 0) {
        g_string_append_printf(words, "; %s", _("takes the furnace"));
    }
    if (task->box >= 0) {
        g_string_append(words, "; ");
        g_string_append_printf(words, _("takes flask %d"), count_from_one(task->box));
    }
}

static void
tell_needs(const TimelineChart *chart, guint task, GString *words)
{
    guint last;
    double done = timeline_earliest(chart, task, &last);
    if (last == G_MAXUINT)
        return;
    g_autofree char *label = timeline_task_label(chart, last);
    g_autofree char *clock = timeline_clock(done);
    g_string_append(words, "; ");
    // TRANSLATORS: "after Melt load 1, done at 2:43"
    g_string_append_printf(words, _("after %s, done at %s"), label, clock);
}

// A sentence of clauses: from when to when, what it takes, what it comes after, whether it was put
// there by hand.
char *
timeline_task_words(const TimelineChart *chart, guint task, const char *pins)
{
    g_return_val_if_fail(task < chart->session->n_tasks, NULL);
    const SessionTask *t = &chart->session->tasks[task];
    g_autofree char *start = timeline_clock(t->start);
    g_autofree char *end = timeline_clock(t->end);
    g_autofree char *time = quantity_format(QUANTITY_TIME, t->end - t->start, &chart->units);
    g_autoptr(GString) words = g_string_new(NULL);
    g_string_append_printf(words, _("%s to %s, %s"), start, end, time);
    tell_taken(chart, t, words);
    tell_needs(chart, task, words);
    double pin;
    g_autofree char *key = timeline_key(t);
    if (timeline_pin_find(pins, key, &chart->units, &pin)) {
        g_autofree char *clock = timeline_clock(pin);
        g_string_append(words, "; ");
        g_string_append_printf(words, _("moved by hand: not before %s"), clock);
    }
    return g_string_free(g_steal_pointer(&words), FALSE);
}
