// SPDX-License-Identifier: GPL-3.0-or-later
// The best session of given moulds: the fixed set of ways to lay one out and the choice among them.
#include "session/session.h"

#include <math.h>
#include <string.h>

#include "base/error.h"
#include "session/climb.h"
#include "session/exact.h"
#include "session/fit.h"
#include "session/name.h"
#include "session/order.h"

// Sizes of load tried below the largest, and the moulds above which only the largest is: large
// sessions have room to spare and would take long.
#define MOST_SIZES 8
#define MANY_MOULDS 60
#define MANY_MIXED 24 // of several kinds or in several furnaces, where there is more to try
#define MANY_WAYS 12

// One packing in all its orders.
typedef struct {
    const SessionFloor *floor;
    const SessionPacking *packing;
    guint n_orders, n_ways;
    gboolean first; // what keeps hours, light and metal ends the search
    gboolean many;
} Trial;

// TRUE if `a` is the better session; ties keep the earlier.
static gboolean
is_better(const SessionPlan *a, const SessionPlan *b, SessionGoal goal)
{
    if (a->within != b->within)
        return a->within;
    if (!a->within)
        return a->length < b->length;
    if (goal == SESSION_SOON && a->last_pour != b->last_pour)
        return a->last_pour < b->last_pour;
    if (a->loads != b->loads)
        return a->loads < b->loads;
    // Held metal by whole minutes, so that seconds do not decide over an hour of the day.
    double held_a = floor(a->held / 60.0), held_b = floor(b->held / 60.0);
    if (held_a != held_b)
        return held_a < held_b;
    if (a->last_pour != b->last_pour)
        return a->last_pour < b->last_pour;
    return a->length < b->length;
}

static gboolean
are_all_alike(const GArray *loads)
{
    for (guint i = 1; i < loads->len; i++)
        if (memcmp(&g_array_index(loads, SessionLoad, 0), &g_array_index(loads, SessionLoad, i),
                   sizeof(SessionLoad)) != 0)
            return FALSE;
    return TRUE;
}

static Trial
make_trial(const SessionFloor *floor, const SessionPacking *packing, gboolean first, gboolean many)
{
    guint orders = floor->n_kinds == 1 && floor->n_furnaces == 1 ? 2 : SESSION_ORDER_COUNT;
    if (are_all_alike(packing->loads))
        orders = 1;
    return (Trial){.floor = floor,
                   .packing = packing,
                   .n_orders = orders,
                   .n_ways = many ? MANY_WAYS : SESSION_WAYS,
                   .first = first,
                   .many = many};
}

// For many moulds those with patience 2 and 1, each with ramming and with shaking out first: which
// of the two keeps flasks coming back differs from day to day.
static SessionWay
get_way(const Trial *trial, guint index)
{
    return session_way(trial->many ? index % 6 + index / 6 * 12 : index);
}

// Tries every order and way; keeps the best in *best, and what is nearest to its hours in *near,
// which may be NULL. FALSE only when stopped.
static gboolean
try_packing(const Trial *trial, SessionGoal goal, SessionPlan **best, SessionNear *near,
            Progress *progress, GError **error)
{
    double give_up = !trial->first ? 0.0 : near ? SESSION_NEAR : 1.0;
    for (guint order = 0; order < trial->n_orders; order++) {
        g_autoptr(GArray) loads = session_order_loads(trial->floor, trial->packing->loads, order);
        for (guint i = 0; i < trial->n_ways; i++) {
            if (!progress_check(progress, error))
                return FALSE;
            SessionWay way = get_way(trial, i);
            g_autoptr(SessionPlan) session = session_lay(trial->floor,
                                                         (const SessionLoad *)(gpointer)loads->data,
                                                         loads->len, &way, NULL, give_up);
            if (session && near && !session->within)
                session_near_keep(near, trial->floor, session, loads, &way);
            if (!session || (trial->first && !session->within) ||
                (*best && !is_better(session, *best, goal)))
                continue;
            session->packed = trial->packing->how;
            session_plan_free(*best);
            *best = g_steal_pointer(&session);
            if (trial->first)
                return TRUE;
        }
    }
    return TRUE;
}

// A packing whose loads leave boxes to others: each takes at most a share of those of a kind.
static SessionPacking *
pack_shared(const SessionFloor *floor, const int *counts, int most, int share, Progress *progress,
            GError **error)
{
    SessionFloor less = *floor;
    for (int i = 0; i < floor->n_boxes; i++)
        less.boxes[i] = MAX((floor->boxes[i] + share - 1) / share, 1);
    return session_pack(&less, counts, most, progress, error);
}

// What nothing laid out by rule does, the nearest of it may when its loads change places.
static gboolean
try_climb(const SessionFloor *floor, const SessionNear *near, SessionPackHow packed,
          SessionPlan **best, Progress *progress, GError **error)
{
    SessionPlan *climbed = NULL;
    if ((*best && (*best)->within) || !near->loads)
        return TRUE;
    if (!session_climb(floor, near, &climbed, progress, error))
        return FALSE;
    if (!climbed)
        return TRUE;
    climbed->packed = packed;
    session_plan_free(*best);
    *best = climbed;
    return TRUE;
}

// Tries all sizes of load. *best stays NULL when nothing could be laid, or, with `first`, when
// nothing keeps hours, light and metal.
static gboolean
try_sizes(const SessionFloor *floor, const int *counts, SessionGoal goal, gboolean first,
          SessionPlan **best, Progress *progress, GError **error)
{
    int moulds = session_count(floor, counts);
    int largest = MIN(session_pack_largest(floor), moulds);
    // Loads that take a half and a third of the boxes too, where several are on the way at once.
    gboolean shared = floor->n_kinds > 1 || floor->n_furnaces > 1;
    gboolean many = moulds > (shared ? MANY_MIXED : MANY_MOULDS), good = TRUE;
    int sizes = many ? 1 : MIN(largest, MOST_SIZES);
    SessionPackHow packed = SESSION_PACK_DIRECT;
    SessionNear near = {0};
    for (int i = 0; i < sizes + (shared ? 2 : 0) && good && !(first && *best); i++) {
        int share = i < sizes ? 1 : i - sizes + 2, most = share > 1 ? largest : largest - i;
        g_autoptr(SessionPacking)
                      packing = pack_shared(floor, counts, most, share, progress, error);
        Trial trial = packing ? make_trial(floor, packing, first, many) : (Trial){0};
        good = packing &&
               try_packing(&trial, goal, best, many && shared ? &near : NULL, progress, error);
        packed = packing ? MAX(packed, packing->how) : packed;
    }
    good = good && try_climb(floor, &near, packed, best, progress, error);
    session_near_clear(&near);
    return good;
}

// What every order of work brings, where there are few enough; *best keeps the better one.
static gboolean
try_exact(const SessionFloor *floor, const int *counts, SessionGoal goal, SessionPlan **best,
          Progress *progress, GError **error)
{
    if (!session_exact_is_small(floor, counts))
        return TRUE;
    SessionExact exact = {0};
    double least = *best && (*best)->within ? (*best)->last_pour : INFINITY;
    if (!session_exact(floor, counts, least, &exact, progress, error))
        return FALSE;
    gboolean better = exact.session && (!*best || is_better(exact.session, *best, goal));
    if (better) {
        session_plan_free(*best);
        *best = g_steal_pointer(&exact.session);
    }
    if (*best && exact.proved)
        (*best)->proved = (*best)->last_pour <= exact.bound + 1e-6;
    session_plan_free(exact.session);
    return TRUE;
}

// The shortest, when the light never suffices: as if it did.
static gboolean
try_without_light(const SessionFloor *floor, const int *counts, SessionPlan **best,
                  Progress *progress, GError **error)
{
    if (*best || !isfinite(floor->light_to))
        return TRUE;
    SessionFloor lit = *floor;
    lit.light_to = INFINITY;
    if (!try_sizes(&lit, counts, SESSION_SOON, FALSE, best, progress, error))
        return FALSE;
    if (*best) {
        (*best)->within = FALSE;
        (*best)->past_light = TRUE;
    }
    return TRUE;
}

SessionPlan *
session_floor_plan(const SessionFloor *floor, const int *counts, SessionGoal goal, gboolean labels,
                   Progress *progress, GError **error)
{
    g_return_val_if_fail(floor && counts, NULL);
    g_autoptr(SessionPlan) best = NULL;
    if (!try_sizes(floor, counts, goal, FALSE, &best, progress, error))
        return NULL;
    gboolean asked = goal == SESSION_SOON || !best || !best->within;
    if (asked && !try_exact(floor, counts, goal, &best, progress, error))
        return NULL;
    if (!try_without_light(floor, counts, &best, progress, error))
        return NULL;
    if (!best) {
        base_error_set(error, BASE_ERROR_VALUE, NULL, "session", "these moulds cannot be poured",
                       "look at sand and daylight");
        return NULL;
    }
    if (labels)
        session_plan_name(best, floor);
    return g_steal_pointer(&best);
}

SessionFit
session_floor_fits(const SessionFloor *floor, const int *counts, Progress *progress, GError **error)
{
    g_autoptr(SessionPlan) found = NULL;
    g_autoptr(GError) local = NULL;
    if (session_count(floor, counts) == 0)
        return SESSION_FIT_YES;
    if (!try_sizes(floor, counts, SESSION_SOON, TRUE, &found, progress, &local)) {
        if (g_error_matches(local, BASE_ERROR, BASE_ERROR_VALUE))
            return SESSION_FIT_NOT;
        g_propagate_error(error, g_steal_pointer(&local));
        return SESSION_FIT_STOPPED;
    }
    return found ? SESSION_FIT_YES : SESSION_FIT_NOT;
}
