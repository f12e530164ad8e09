// SPDX-License-Identifier: GPL-3.0-or-later
// Planning the rest of a day again: a floor made of the tasks there are, the facts so far as its
// state, and the same engine from now on.
#include "session/replan.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "session/curve.h"
#include "session/name.h"
#include "session/past.h"
#include "session/result.h"

static gboolean
is_better(const SessionPlan *a, const SessionPlan *b)
{
    if (a->within != b->within)
        return a->within;
    if (!a->within && a->length != b->length)
        return a->length < b->length;
    double held_a = floor(a->held / 60.0), held_b = floor(b->held / 60.0);
    if (a->within && held_a != held_b)
        return held_a < held_b;
    return a->last_pour < b->last_pour;
}

// Moulds the plan shakes out are not left closed for want of light.
static gboolean
is_whole(const SessionPlan *plan, const SessionStart *start)
{
    int closed = 0;
    for (int i = 0; i < plan->flasks; i++)
        closed += !start->shake[i];
    return plan->left_to_cool <= closed;
}

// The best of all ways; *best stays NULL when none can be laid. FALSE only when stopped.
static gboolean
try_ways(const SessionFloor *floor, const GArray *loads, const SessionStart *start,
         SessionPlan **best, Progress *progress, GError **error)
{
    // Moulds begun out of order can leave earlier loads without flasks: then those begun go first.
    for (guint i = 0; i < 2 * SESSION_WAYS && !(i >= SESSION_WAYS && *best); i++) {
        if (!progress_check(progress, error))
            return FALSE;
        SessionWay way = session_way(i % SESSION_WAYS);
        way.begun_first = i >= SESSION_WAYS;
        g_autoptr(SessionPlan) plan = session_lay(floor, (const SessionLoad *)(gpointer)loads->data,
                                                  loads->len, &way, start, 0.0);
        if (!plan || !is_whole(plan, start) || (*best && !is_better(plan, *best)))
            continue;
        session_plan_free(*best);
        *best = g_steal_pointer(&plan);
    }
    return TRUE;
}

// What cannot be kept to any more is let go: first the end of the daylight, then the sand, then
// both.
static SessionPlan *
lay_rest(const SessionRebuilt *rebuilt, const SessionStart *start, gboolean *past_light,
         gboolean *past_sand, Progress *progress, GError **error)
{
    g_autoptr(SessionPlan) best = NULL;
    for (int let_go = 0; let_go < 4 && !best; let_go++) {
        SessionFloor floor = rebuilt->floor;
        *past_light = let_go & 1;
        *past_sand = (let_go & 2) != 0;
        if ((*past_light && !isfinite(floor.light_to)) ||
            (*past_sand && !isfinite(floor.sand_ready)))
            continue;
        floor.light_to = *past_light ? INFINITY : floor.light_to;
        floor.sand_ready = *past_sand ? INFINITY : floor.sand_ready;
        if (!try_ways(&floor, rebuilt->loads, start, &best, progress, error))
            return NULL;
    }
    if (!best)
        base_error_set(error, BASE_ERROR_VALUE, NULL, "session",
                       _("moulds begun out of order hold the flasks that others need"),
                       _("empty a flask that is not needed yet, or plan from the book"));
    return g_steal_pointer(&best);
}

// True times for what is told: the engine has them but for melting and cooling, which it works out.
static void
put_facts(SessionPlan *rest, const SessionResult *plan, const SessionFacts *facts,
          const SessionRebuilt *rebuilt)
{
    SessionTask *tasks = (SessionTask *)(gpointer)rest->tasks->data;
    g_autoptr(GHashTable) places = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
    for (guint i = 0; i < rest->tasks->len; i++) {
        if (tasks[i].box >= 0)
            tasks[i].box = g_array_index(rebuilt->box_of, int, tasks[i].box);
        g_hash_table_insert(places, session_task_key(&tasks[i]), &tasks[i]);
    }
    for (guint i = 0; i < plan->n_tasks; i++) {
        SessionTask *task = facts->told[i] ? g_hash_table_lookup(places, plan->tasks[i].key) : NULL;
        if (!task)
            continue;
        task->start = facts->start[i];
        task->end = facts->end[i];
    }
}

static gboolean *
list_shaken(const SessionResult *plan, int n_moulds)
{
    gboolean *shake = g_new0(gboolean, MAX(n_moulds, 1));
    for (guint i = 0; i < plan->n_tasks; i++)
        if (plan->tasks[i].kind == TASK_SHAKE_OUT && plan->tasks[i].flask >= 0 &&
            plan->tasks[i].flask < n_moulds)
            shake[plan->tasks[i].flask] = TRUE;
    return shake;
}

SessionResult *
session_replan(const SessionResult *plan, const SessionDone *done, guint n_done, double now,
               Progress *progress, GError **error)
{
    g_return_val_if_fail(plan && (done || n_done == 0), NULL);
    if (!isfinite(now) || plan->n_tasks == 0) {
        base_error_set(error, BASE_ERROR_VALUE, NULL, "session",
                       _("there is no session, or it is not known what time it is"),
                       _("plan a session first"));
        return NULL;
    }
    g_autoptr(SessionFacts) facts = session_facts_read(plan, done, n_done, now, error);
    g_autoptr(SessionRebuilt) rebuilt = facts ? session_rebuild(plan, facts->told, error) : NULL;
    if (!rebuilt)
        return NULL;
    g_autoptr(GArray) past = session_facts_past(facts, plan, rebuilt);
    g_autofree gboolean *shake = list_shaken(plan, rebuilt->n_moulds);
    SessionStart start = {.past = (const SessionPast *)(gpointer)past->data,
                          .n_past = past->len,
                          .now = now,
                          .shake = shake};
    gboolean past_light, past_sand;
    g_autoptr(SessionPlan)
                  rest = lay_rest(rebuilt, &start, &past_light, &past_sand, progress, error);
    if (!rest)
        return NULL;
    put_facts(rest, plan, facts, rebuilt);
    SessionResult *again = session_result_again(plan, rest);
    again->past_light = past_light;
    again->past_sand = past_sand;
    return again;
}
