// SPDX-License-Identifier: GPL-3.0-or-later
// Looking ahead on the day.
#include "live/next.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "live/clock.h"
#include "live/task.h"
#include "session/limits.h"
#include "session/session.h"

// A beginning is late after this, s.
#define GRACE 60.0

static GHashTable *
index_tasks(const SessionResult *plan)
{
    GHashTable *index = g_hash_table_new(g_str_hash, g_str_equal);
    for (guint i = 0; i < plan->n_tasks; i++)
        g_hash_table_insert(index, plan->tasks[i].key, &plan->tasks[i]);
    return index;
}

// FALSE when the plan has dropped the task.
static gboolean
make_action(const LiveTask *task, GHashTable *plan, LiveAction *action)
{
    const SessionTask *now = g_hash_table_lookup(plan, task->task->key);
    if (!now)
        return FALSE;
    action->task = task;
    action->begins = task->state == LIVE_TO_DO && live_task_is_begun(task->task);
    action->from = task->state == LIVE_RUNNING ? task->start : now->start;
    action->until = action->begins ? now->start + GRACE : now->end;
    action->behind = now->end - task->task->end;
    return TRUE;
}

static int
compare_actions(gconstpointer a, gconstpointer b)
{
    const LiveAction *x = a, *y = b;
    gboolean person = x->task->task->person;
    int running = (y->task->state == LIVE_RUNNING) - (x->task->state == LIVE_RUNNING);
    if (person && running)
        return running;
    double p = person ? x->from : x->until, q = person ? y->from : y->until;
    if (p != q)
        return p < q ? -1 : 1;
    return (x->task > y->task) - (x->task < y->task);
}

// The first of each pair of hands is judged by the plan as it stood at the last tick: planned again
// from now, nothing would ever be late.
static void
judge_first(GArray *actions, const SessionResult *settled)
{
    g_autoptr(GHashTable) plan = index_tasks(settled);
    g_autoptr(GHashTable) seen = g_hash_table_new(NULL, NULL);
    for (guint i = 0; i < actions->len; i++) {
        LiveAction *action = &g_array_index(actions, LiveAction, i);
        const SessionTask *task = action->task->task;
        int whose = task->person ? action->task->who : -2 - task->furnace;
        if (g_hash_table_add(seen, GINT_TO_POINTER(whose)))
            make_action(action->task, plan, action);
    }
}

GArray *
live_actions(const LiveDay *day, const SessionResult *settled, const SessionResult *rest,
             gboolean furnace)
{
    g_return_val_if_fail(day != NULL && settled != NULL && rest != NULL, NULL);
    GArray *actions = g_array_new(FALSE, FALSE, sizeof(LiveAction));
    g_autoptr(GHashTable) plan = index_tasks(rest);
    for (guint i = 0; i < day->n_tasks && !day->finished; i++) {
        const LiveTask *task = &day->tasks[i];
        LiveAction action;
        if (task->state != LIVE_OVER && live_task_is_ticked(task->task) &&
            task->task->person == !furnace && make_action(task, plan, &action))
            g_array_append_val(actions, action);
    }
    g_array_sort(actions, compare_actions);
    judge_first(actions, settled);
    return actions;
}

LivePhase
live_action_phase(const LiveAction *action, double now)
{
    return now < action->from ? LIVE_WAIT : now <= action->until ? LIVE_NOW : LIVE_LATE;
}

char *
live_action_countdown(const LiveAction *action, double now)
{
    LivePhase phase = live_action_phase(action, now);
    double late = now - (action->begins ? action->from : action->until);
    g_autofree char *span = live_clock_span(phase == LIVE_WAIT  ? ceil(action->from - now)
                                            : phase == LIVE_NOW ? ceil(action->until - now)
                                                                : floor(late));
    if (phase == LIVE_LATE)
        return g_strdup_printf(_("late by %s"), span);
    if (phase == LIVE_WAIT)
        return g_strdup_printf(_("in %s"), span);
    if (action->begins)
        return g_strdup(_("now"));
    if (!action->task->task->person)
        return g_strdup_printf(_("ready in %s"), span);
    return g_strdup_printf(_("now, %s left"), span);
}

// The last prompt of a furnace in the past minute, or with `ahead` the first still to come.
static const SessionFurnacePoint *
find_prompt(const SessionResult *rest, int furnace, double now, gboolean ahead)
{
    const SessionFurnacePoint *found = NULL;
    for (guint i = 0; i < rest->n_curve && !(ahead && found); i++) {
        const SessionFurnacePoint *point = &rest->curve[i];
        gboolean fits = ahead ? point->at > now : point->at <= now && point->at >= now - GRACE;
        if (point->prompt && point->furnace == furnace && fits)
            found = point;
    }
    return found;
}

static char *
join_prompts(const SessionResult *rest, double now, gboolean ahead, double *at)
{
    const SessionFurnacePoint *prompts[SESSION_MOST_FURNACES];
    double first = INFINITY, latest = -INFINITY;
    for (int f = 0; f < SESSION_MOST_FURNACES; f++) {
        prompts[f] = find_prompt(rest, f, now, ahead);
        if (prompts[f])
            first = fmin(first, prompts[f]->at);
    }
    g_autoptr(GString) words = g_string_new(NULL);
    for (int f = 0; f < SESSION_MOST_FURNACES; f++) {
        // Of those to come only the first, and what is to be turned in the same second.
        if (!prompts[f] || (ahead && prompts[f]->at > first + 1.0))
            continue;
        g_string_append_printf(words, "%s%s", words->len > 0 ? "; " : "", prompts[f]->prompt);
        latest = fmax(latest, prompts[f]->at);
    }
    if (words->len == 0)
        return NULL;
    *at = latest;
    return g_string_free(g_steal_pointer(&words), FALSE);
}

char *
live_next_prompt(const SessionResult *rest, double now, double *at)
{
    g_return_val_if_fail(rest != NULL && at != NULL, NULL);
    char *due = join_prompts(rest, now, FALSE, at);
    return due ? due : join_prompts(rest, now, TRUE, at);
}

static gboolean
load_is_waiting(const LiveDay *day, int load)
{
    for (guint i = 0; i < day->n_tasks; i++)
        if (day->tasks[i].task->kind == TASK_POUR && day->tasks[i].task->load == load &&
            day->tasks[i].state != LIVE_OVER)
            return TRUE;
    return FALSE;
}

static void
warn_of_held(const LiveDay *day, double now, GPtrArray *warnings)
{
    for (guint i = 0; i < day->n_tasks; i++) {
        const LiveTask *melt = &day->tasks[i];
        if (melt->task->kind != TASK_MELT || melt->state != LIVE_OVER ||
            now - melt->end <= SESSION_MOST_HELD || !load_is_waiting(day, melt->task->load))
            continue;
        g_autofree char *span = live_clock_span(now - melt->end);
        g_ptr_array_add(warnings,
                        g_strdup_printf(_("Load %d has been molten for %s: it takes up gas. Pour "
                                          "it, or turn the furnace down."),
                                        melt->task->load + 1, span));
    }
}

char *
live_heat_warning(const LiveSheet *sheet, const LiveTask *task, const UnitSet *units)
{
    g_return_val_if_fail(sheet != NULL && task != NULL && units != NULL, NULL);
    const LiveJob *job = live_sheet_job(sheet, task->task);
    const char *format = NULL;
    double limit = NAN;
    if (!job || isnan(task->temperature))
        return NULL;
    if (task->temperature < job->pour_from) {
        limit = job->pour_from;
        format = _("%s was done at %s, cooler than the %s its metal needs to run: look for "
                   "misruns.");
    } else if (task->temperature > job->pour_to) {
        limit = job->pour_to;
        format = _("%s was done at %s, hotter than %s: look for gas pores and dross.");
    } else if (task->temperature < job->pouring_temperature - LIVE_COLD_BY) {
        limit = job->pouring_temperature;
        format = _("%s was done at %s, below the pouring temperature of %s: look for misruns.");
    } else {
        return NULL;
    }
    g_autofree char *noted = quantity_format(QUANTITY_TEMPERATURE, task->temperature, units);
    g_autofree char *other = quantity_format(QUANTITY_TEMPERATURE, limit, units);
    return g_strdup_printf(format, task->task->label, noted, other);
}

// Of the pour done last.
static void
warn_of_heat(const LiveDay *day, const UnitSet *units, GPtrArray *warnings)
{
    const LiveTask *last = NULL;
    for (guint i = 0; i < day->n_tasks; i++)
        if (isfinite(day->tasks[i].temperature) && day->tasks[i].state == LIVE_OVER &&
            (!last || day->tasks[i].end > last->end))
            last = &day->tasks[i];
    char *words = last ? live_heat_warning(day->sheet, last, units) : NULL;
    if (words)
        g_ptr_array_add(warnings, words);
}

// A minute over is rounding.
static void
warn_of_hours(const LiveDay *day, const SessionResult *rest, const UnitSet *units,
              GPtrArray *warnings)
{
    double hours = day->sheet->session->hours;
    if (!(hours > 0) || rest->length <= hours + GRACE || day->finished)
        return;
    g_autofree char *end = live_clock_time(day->sheet->start + rest->length);
    g_autofree char *over = quantity_format(QUANTITY_TIME, rest->length - hours, units);
    g_ptr_array_add(
        warnings,
        g_strdup_printf(_("As it goes the day ends at %s, %s over its hours."), end, over));
}

GPtrArray *
live_warnings(const LiveDay *day, const SessionResult *rest, double now, const UnitSet *units)
{
    g_return_val_if_fail(day != NULL && rest != NULL && units != NULL, NULL);
    GPtrArray *warnings = g_ptr_array_new_with_free_func(g_free);
    warn_of_held(day, now, warnings);
    warn_of_heat(day, units, warnings);
    warn_of_hours(day, rest, units, warnings);
    char *caution = day->finished ? NULL : session_result_caution(rest);
    if (caution)
        g_ptr_array_add(warnings, caution);
    return warnings;
}

const LiveTask *
live_last_weighed(const LiveDay *day)
{
    g_return_val_if_fail(day != NULL, NULL);
    const LiveTask *last = NULL;
    for (guint i = 0; i < day->n_tasks; i++) {
        const LiveTask *task = &day->tasks[i];
        if ((task->task->kind == TASK_POUR || task->task->kind == TASK_CHARGE) &&
            task->state == LIVE_OVER && (!last || task->end >= last->end))
            last = task;
    }
    return last;
}
