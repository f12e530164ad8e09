// SPDX-License-Identifier: GPL-3.0-or-later
// Planning again, the plain way. Tasks are gone through in the order of the plan; each resource
// remembers until when it is taken.
#include "live/shift.h"

#include <math.h>

#include "base/error.h"
#include "live/task.h"
#include "session/curve.h"

static LiveReplan planner = session_replan;

void
live_replan_set(LiveReplan replan)
{
    planner = replan;
}

// Until when each of a kind of resource is taken, by its number.
typedef struct {
    GHashTable *until; // int -> double *
} Taken;

static double
find_until(const Taken *taken, int number)
{
    const double *until = number >= 0 ? g_hash_table_lookup(taken->until, GINT_TO_POINTER(number))
                                      : NULL;
    return until ? *until : 0;
}

static void
take_until(Taken *taken, int number, double end)
{
    if (number < 0)
        return;
    double *until = g_new(double, 1);
    *until = MAX(end, find_until(taken, number));
    g_hash_table_insert(taken->until, GINT_TO_POINTER(number), until);
}

enum {
    HANDS,
    FURNACE,
    BOX,
    FLASK,
    LOAD,
    RESOURCES
};

// Numbers of what a task needs. A load ties its charge, melt and pours; cooling needs no hands.
static void
list_needs(const SessionTask *task, int needs[RESOURCES])
{
    gboolean of_load = task->kind == TASK_CHARGE || task->kind == TASK_MELT ||
                       task->kind == TASK_SKIM || task->kind == TASK_POUR;
    needs[HANDS] = task->who;
    needs[FURNACE] = task->furnace;
    needs[BOX] = task->box;
    needs[FLASK] = task->flask;
    needs[LOAD] = of_load ? task->load : -1;
}

static const SessionDone *
find_done(GHashTable *by_key, const SessionTask *task)
{
    return g_hash_table_lookup(by_key, task->key);
}

static void
place_task(const SessionResult *plan, guint i, const SessionDone *done, Taken taken[], double now,
           double *start, double *end)
{
    const SessionTask *task = &plan->tasks[i];
    double length = task->end - task->start;
    int needs[RESOURCES];
    list_needs(task, needs);
    if (done) {
        start[i] = done->start;
        end[i] = isnan(done->end) ? MAX(done->start + length, now) : done->end;
        if (done->who >= 0)
            needs[HANDS] = task->person ? done->who : -1;
    } else {
        start[i] = MAX(task->start, now);
        for (int r = 0; r < RESOURCES; r++)
            start[i] = MAX(start[i], find_until(&taken[r], needs[r]));
        for (guint k = 0; k < task->n_after; k++)
            if (task->after[k] < i)
                start[i] = MAX(start[i], end[task->after[k]]);
        end[i] = start[i] + length;
    }
    for (int r = 0; r < RESOURCES; r++)
        take_until(&taken[r], needs[r], end[i]);
}

static void
take_done_first(const SessionResult *plan, GHashTable *by_key, Taken taken[], double now)
{
    for (guint i = 0; i < plan->n_tasks; i++) {
        const SessionTask *task = &plan->tasks[i];
        const SessionDone *done = find_done(by_key, task);
        if (done && task->person && isnan(done->end)) // these hands are not free for another
            take_until(&taken[HANDS], done->who >= 0 ? done->who : task->who,
                       MAX(done->start + task->end - task->start, now));
    }
}

// A point belongs to the last task of its furnace that was planned to begin by then.
static void
shift_curve(const SessionResult *plan, SessionResult *shifted)
{
    double last[SESSION_MOST_FURNACES] = {0};
    for (guint i = 0; i < plan->n_curve; i++) {
        int furnace = plan->curve[i].furnace;
        double by = 0;
        for (guint k = 0; k < plan->n_tasks; k++)
            if (plan->tasks[k].furnace == furnace &&
                plan->tasks[k].start <= plan->curve[i].at + 1e-6)
                by = shifted->tasks[k].start - plan->tasks[k].start;
        last[furnace] = MAX(shifted->curve[i].at + by, last[furnace]);
        shifted->curve[i].at = last[furnace];
    }
    session_curve_sort(shifted->curve, shifted->n_curve);
}

SessionResult *
live_shift(const SessionResult *plan, const SessionDone *done, guint n_done, double now,
           Progress *progress, GError **error)
{
    g_return_val_if_fail(plan != NULL && (done != NULL || n_done == 0) && isfinite(now), NULL);
    g_autoptr(GHashTable) by_key = g_hash_table_new(g_str_hash, g_str_equal);
    for (guint i = 0; i < n_done; i++)
        g_hash_table_insert(by_key, (gpointer)done[i].key, (gpointer)&done[i]);
    Taken taken[RESOURCES];
    for (int r = 0; r < RESOURCES; r++)
        taken[r].until = g_hash_table_new_full(NULL, NULL, NULL, g_free);
    g_autofree double *start = g_new0(double, plan->n_tasks);
    g_autofree double *end = g_new0(double, plan->n_tasks);
    take_done_first(plan, by_key, taken, now);
    for (guint i = 0; i < plan->n_tasks; i++)
        place_task(plan, i, find_done(by_key, &plan->tasks[i]), taken, now, start, end);
    SessionResult *shifted = live_session_timed(plan, start, end);
    shift_curve(plan, shifted);
    for (int r = 0; r < RESOURCES; r++)
        g_hash_table_unref(taken[r].until);
    return shifted;
}

SessionResult *
live_replan(const LiveDay *day, double now, Progress *progress, GError **error)
{
    g_return_val_if_fail(day != NULL && isfinite(now), NULL);
    g_autoptr(GArray) done = live_day_done(day, now);
    const SessionResult *plan = day->sheet->session;
    const SessionDone *first = (const SessionDone *)(gpointer)done->data;
    g_autoptr(GError) refused = NULL;
    SessionResult *again = planner ? planner(plan, first, done->len, now, progress, &refused)
                                   : NULL;
    if (again)
        return again;
    if (refused && g_error_matches(refused, BASE_ERROR, BASE_ERROR_CANCELLED)) {
        g_propagate_error(error, g_steal_pointer(&refused));
        return NULL;
    }
    return live_shift(plan, first, done->len, now, progress, error);
}
