// SPDX-License-Identifier: GPL-3.0-or-later
// The end of a session: closing, the order of the tasks, and the sums over them.
#include <math.h>

#include "session/lay.h"

void
session_task_clear(gpointer data)
{
    SessionTask *task = data;
    g_free(task->label);
    g_free(task->key);
    g_free(task->after);
}

SessionPlan *
session_plan_new(void)
{
    SessionPlan *session = g_new0(SessionPlan, 1);
    session->tasks = g_array_new(FALSE, FALSE, sizeof(SessionTask));
    g_array_set_clear_func(session->tasks, session_task_clear);
    return session;
}

void
session_plan_free(SessionPlan *session)
{
    if (!session)
        return;
    g_array_unref(session->tasks);
    g_free(session);
}

static gint
compare_tasks(gconstpointer a, gconstpointer b)
{
    const SessionTask *x = a, *y = b;
    if (x->start != y->start)
        return x->start < y->start ? -1 : 1;
    if (x->kind != y->kind)
        return x->kind < y->kind ? -1 : 1;
    if (x->load != y->load)
        return x->load < y->load ? -1 : 1;
    if (x->flask != y->flask)
        return x->flask < y->flask ? -1 : 1;
    return (x->furnace > y->furnace) - (x->furnace < y->furnace);
}

static void
add_close(SessionPlan *session, const SessionFloor *floor)
{
    double last = session->last_pour;
    for (guint i = 0; i < session->tasks->len; i++) {
        const SessionTask *task = &g_array_index(session->tasks, SessionTask, i);
        if (task->kind == TASK_CLOSE) {
            session->length = task->end;
            return;
        }
        if (task->kind != TASK_COOL && task->person)
            last = MAX(last, task->end);
    }
    last = MAX(last, session_floor_pin(floor, TASK_CLOSE, 0));
    double length = last + floor->closing;
    if (fabs(length - floor->hours) < 1e-6) // rounding of a session that fills its hours
        length = floor->hours;
    SessionTask task = {.kind = TASK_CLOSE,
                        .load = -1,
                        .flask = -1,
                        .box = -1,
                        .job = -1,
                        .person = TRUE,
                        .furnace = -1,
                        .start = last,
                        .end = length};
    g_array_append_val(session->tasks, task);
    session->length = length;
}

static void
sum_up(SessionPlan *session)
{
    int poured = 0, shaken = 0;
    for (guint i = 0; i < session->tasks->len; i++) {
        const SessionTask *task = &g_array_index(session->tasks, SessionTask, i);
        double time = task->end - task->start;
        if (task->person)
            session->person_time += time;
        if (task->furnace >= 0)
            session->furnace_time += time;
        // What a mould takes until it is shaken out: from the first step, to drawing, from the
        // pour. Times at which it is taken count against it, those at which it is given back for.
        double rest = MAX(session->length - task->start, 0.0);
        double after = MAX(session->length - task->end, 0.0);
        if (task->kind == TASK_RAM_DRAG) {
            session->box_time += rest;
            session->bench_time += rest;
        } else if (task->kind == TASK_DRAW) {
            session->bench_time -= after;
        } else if (task->kind == TASK_POUR) {
            session->place_time += after;
            poured++;
        } else if (task->kind == TASK_SHAKE_OUT) {
            session->box_time -= after;
            session->place_time -= after;
            shaken++;
        }
    }
    session->left_to_cool = poured - shaken;
}

void
session_plan_finish(SessionPlan *session, const SessionFloor *floor)
{
    g_return_if_fail(session && floor);
    add_close(session, floor);
    sum_up(session);
    gboolean keeps_metal = session->flasks == 1 || session->longest_held <= SESSION_MOST_HELD;
    session->within = session->length <= floor->hours && keeps_metal;
    g_array_sort(session->tasks, compare_tasks);
}
