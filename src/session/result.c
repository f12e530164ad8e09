// SPDX-License-Identifier: GPL-3.0-or-later
// Results: made, shared, made again with other times.
#include "session/result.h"

#include "session/curve.h"
#include "session/limits.h"
#include "session/name.h"

static void
clear_result(gpointer data)
{
    SessionResult *result = data;
    for (guint i = 0; i < result->n_tasks; i++)
        session_task_clear(&result->tasks[i]);
    for (guint i = 0; i < result->n_curve; i++)
        g_free(result->curve[i].prompt);
    g_free(result->tasks);
    g_free(result->curve);
    g_free(result->bottleneck);
    session_limits_unref(result->limits);
    g_strfreev(result->jobs);
    g_strfreev(result->furnace_names);
}

SessionResult *
session_result_new(void)
{
    return g_atomic_rc_box_new0(SessionResult);
}

SessionResult *
session_result_ref(const SessionResult *result)
{
    g_return_val_if_fail(result, NULL);
    return g_atomic_rc_box_acquire((SessionResult *)result);
}

void
session_result_unref(const SessionResult *result)
{
    if (result)
        g_atomic_rc_box_release_full((SessionResult *)result, clear_result);
}

const char *
session_furnace_name(const SessionResult *result, int furnace)
{
    g_return_val_if_fail(result, NULL);
    int n = result->furnace_names ? (int)g_strv_length(result->furnace_names) : 0;
    return furnace >= 0 && furnace < n ? result->furnace_names[furnace] : NULL;
}

static gint
compare_starts(gconstpointer a, gconstpointer b)
{
    const SessionTask *x = a, *y = b;
    if (x->start != y->start)
        return x->start < y->start ? -1 : 1;
    if (x->kind != y->kind)
        return x->kind < y->kind ? -1 : 1;
    if (x->load != y->load)
        return x->load < y->load ? -1 : 1;
    return x->flask != y->flask ? (x->flask < y->flask ? -1 : 1) : x->furnace - y->furnace;
}

void
session_result_take(SessionResult *result, SessionPlan *plan)
{
    g_return_if_fail(result && plan);
    gsize n = 0;
    g_array_sort(plan->tasks, compare_starts);
    result->length = plan->length;
    result->past_light = plan->past_light;
    result->left_to_cool = plan->left_to_cool;
    result->tasks = g_array_steal(plan->tasks, &n);
    result->n_tasks = (guint)n;
}

SessionResult *
session_result_again(const SessionResult *before, SessionPlan *plan)
{
    g_return_val_if_fail(before && plan, NULL);
    SessionResult *result = session_result_new();
    *result = *before;
    result->jobs = g_strdupv(before->jobs);
    result->furnace_names = g_strdupv(before->furnace_names);
    result->bottleneck = g_strdup(before->bottleneck);
    result->limits = session_limits_ref(before->limits);
    result->curve = NULL;
    result->n_curve = 0;
    session_result_take(result, plan);
    session_tasks_name(result->tasks, result->n_tasks);
    gsize n = 0;
    g_autoptr(GArray)
                  curve = session_curve_again(before, result->tasks, result->n_tasks, plan->length);
    result->curve = g_array_steal(curve, &n);
    result->n_curve = (guint)n;
    return result;
}
