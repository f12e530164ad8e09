// SPDX-License-Identifier: GPL-3.0-or-later
// The best session: the fixed set of ways to lay one out, the choice among them, and the search for
// the moulds worth most that the hours hold.
#include "session/session.h"

#include <math.h>
#include <string.h>

#include "base/error.h"
#include "session/exact.h"
#include "session/name.h"

// Sizes of load tried below the largest, and the moulds above which only the largest is: large
// sessions have room to spare and would take long.
#define MOST_SIZES 8
#define MANY_MOULDS 60
#define MANY_WAYS 9
// One more mould can now and then fit where one fewer did not, because ways interlock differently.
#define STRAY 3

typedef enum {
    ORDER_AS_PACKED, // full loads first
    ORDER_REVERSED,
    ORDER_HEAVY_FIRST,
    ORDER_LIGHT_FIRST,
    ORDER_COUNT
} LoadOrder;

// One packing in all its orders.
typedef struct {
    const SessionFloor *floor;
    const SessionPacking *packing;
    guint n_orders, n_ways;
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

static int
count_moulds(const SessionFloor *floor, const int *counts)
{
    int moulds = 0;
    for (int i = 0; i < floor->n_kinds; i++)
        moulds += counts[i];
    return moulds;
}

static gboolean
goes_before(const SessionFloor *floor, const SessionLoad *a, const SessionLoad *b, LoadOrder order)
{
    double x = session_load_kg(floor, a), y = session_load_kg(floor, b);
    return order == ORDER_HEAVY_FIRST ? x > y : x < y;
}

// By insertion, so that loads alike keep their order.
static GArray *
order_loads(const Trial *trial, LoadOrder order)
{
    const GArray *packed = trial->packing->loads;
    GArray *loads = g_array_sized_new(FALSE, FALSE, sizeof(SessionLoad), packed->len);
    for (guint i = 0; i < packed->len; i++) {
        guint from = order == ORDER_REVERSED ? packed->len - 1 - i : i, at = loads->len;
        const SessionLoad *load = &g_array_index(packed, SessionLoad, from);
        while (order >= ORDER_HEAVY_FIRST && at > 0 &&
               goes_before(trial->floor, load, &g_array_index(loads, SessionLoad, at - 1), order))
            at--;
        g_array_insert_val(loads, at, *load);
    }
    return loads;
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
make_trial(const SessionFloor *floor, const SessionPacking *packing, gboolean many)
{
    guint orders = floor->n_kinds == 1 && floor->n_furnaces == 1 ? 2 : ORDER_COUNT;
    if (are_all_alike(packing->loads))
        orders = 1;
    return (Trial){.floor = floor,
                   .packing = packing,
                   .n_orders = orders,
                   .n_ways = many ? MANY_WAYS : SESSION_WAYS};
}

// Tries every order and way; keeps the best in *best. With `first` it stops at the first that keeps
// hours, light and metal. FALSE only when stopped.
static gboolean
try_packing(const Trial *trial, SessionGoal goal, gboolean first, SessionPlan **best,
            Progress *progress, GError **error)
{
    for (guint order = 0; order < trial->n_orders; order++) {
        g_autoptr(GArray) loads = order_loads(trial, order);
        for (guint i = 0; i < trial->n_ways; i++) {
            if (!progress_check(progress, error))
                return FALSE;
            SessionWay way = session_way(i);
            g_autoptr(SessionPlan) session = session_lay(trial->floor,
                                                         (const SessionLoad *)(gpointer)loads->data,
                                                         loads->len, &way, NULL, first);
            if (!session || (*best && !is_better(session, *best, goal)))
                continue;
            session->packed = trial->packing->how;
            session_plan_free(*best);
            *best = g_steal_pointer(&session);
            if (first)
                return TRUE;
        }
    }
    return TRUE;
}

// Tries all sizes of load. *best stays NULL when nothing could be laid.
static gboolean
try_sizes(const SessionFloor *floor, const int *counts, SessionGoal goal, gboolean first,
          SessionPlan **best, Progress *progress, GError **error)
{
    int moulds = count_moulds(floor, counts);
    int largest = MIN(session_pack_largest(floor), moulds);
    int sizes = moulds > MANY_MOULDS ? 1 : MIN(largest, MOST_SIZES);
    for (int i = 0; i < sizes && !(first && *best); i++) {
        g_autoptr(SessionPacking)
                      packing = session_pack(floor, counts, largest - i, progress, error);
        if (!packing)
            return FALSE;
        Trial trial = make_trial(floor, packing, moulds > MANY_MOULDS);
        if (!try_packing(&trial, goal, first, best, progress, error))
            return FALSE;
    }
    return TRUE;
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
    if (*best)
        (*best)->within = FALSE;
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

typedef enum {
    FIT_STOPPED = -1,
    FIT_NOT,
    FIT_YES
} Fit;

static Fit
does_fit(const SessionFloor *floor, const int *counts, Progress *progress, GError **error)
{
    g_autoptr(SessionPlan) found = NULL;
    g_autoptr(GError) local = NULL;
    if (count_moulds(floor, counts) == 0)
        return FIT_YES;
    if (!try_sizes(floor, counts, SESSION_SOON, TRUE, &found, progress, &local)) {
        if (g_error_matches(local, BASE_ERROR, BASE_ERROR_VALUE))
            return FIT_NOT;
        g_propagate_error(error, g_steal_pointer(&local));
        return FIT_STOPPED;
    }
    return found ? FIT_YES : FIT_NOT;
}

// The order in which moulds are taken into a session while there is room.
typedef struct {
    int kinds[SESSION_MOST_FLASKS];
    int n;
} Sequence;

static void
count_first(const Sequence *sequence, int n, int counts[SESSION_MOST_KINDS])
{
    memset(counts, 0, sizeof(int) * SESSION_MOST_KINDS);
    for (int i = 0; i < n; i++)
        counts[sequence->kinds[i]]++;
}

// Load by load, as the bound would pour them, or kind by kind, what is worth most for its work
// first.
static gboolean
make_sequence(const SessionFloor *floor, const SessionBound *bound, gboolean by_load,
              Sequence *sequence, Progress *progress, GError **error)
{
    sequence->n = 0;
    if (by_load) {
        int largest = MAX(session_pack_largest(floor), 1);
        g_autoptr(SessionPacking)
                      packing = session_pack(floor, bound->counts, largest, progress, error);
        if (!packing)
            return FALSE;
        for (guint i = 0; i < packing->loads->len; i++)
            for (int k = 0; k < floor->n_kinds; k++)
                for (int j = 0; j < g_array_index(packing->loads, SessionLoad, i).count[k]; j++)
                    if (sequence->n < SESSION_MOST_FLASKS)
                        sequence->kinds[sequence->n++] = k;
        return TRUE;
    }
    gboolean done[SESSION_MOST_KINDS] = {FALSE};
    for (int turn = 0; turn < floor->n_kinds; turn++) {
        int best = -1;
        double most = -1.0;
        for (int k = 0; k < floor->n_kinds; k++) {
            const SessionMould *mould = &floor->kinds[k];
            double rate = mould->worth / MAX(session_mould_work(mould), 1.0);
            if (!done[k] && rate > most) {
                best = k;
                most = rate;
            }
        }
        done[best] = TRUE;
        for (int j = 0; j < bound->counts[best] && sequence->n < SESSION_MOST_FLASKS; j++)
            sequence->kinds[sequence->n++] = best;
    }
    return TRUE;
}

// The longest beginning of the sequence that fits.
static gboolean
find_longest(const SessionFloor *floor, const Sequence *sequence, int counts[SESSION_MOST_KINDS],
             Progress *progress, GError **error)
{
    int low = 0, high = sequence->n + 1;
    while (high - low > 1) {
        int middle = low + (high - low) / 2;
        count_first(sequence, middle, counts);
        Fit fit = does_fit(floor, counts, progress, error);
        if (fit == FIT_STOPPED)
            return FALSE;
        *(fit == FIT_YES ? &low : &high) = middle;
    }
    for (int stray = low + 2; stray <= MIN(sequence->n, low + STRAY); stray++) {
        count_first(sequence, stray, counts);
        Fit fit = does_fit(floor, counts, progress, error);
        if (fit == FIT_STOPPED)
            return FALSE;
        if (fit == FIT_YES)
            low = stray;
    }
    count_first(sequence, low, counts);
    return TRUE;
}

// Single moulds of other kinds into what room is left, while any goes in.
static gboolean
fill_up(const SessionFloor *floor, int counts[SESSION_MOST_KINDS], Progress *progress,
        GError **error)
{
    for (int k = 0; k < floor->n_kinds && floor->n_kinds > 1; k++) {
        while (counts[k] < floor->kinds[k].wanted &&
               count_moulds(floor, counts) < SESSION_MOST_FLASKS) {
            counts[k]++;
            Fit fit = does_fit(floor, counts, progress, error);
            if (fit == FIT_YES)
                continue;
            counts[k]--;
            if (fit == FIT_STOPPED)
                return FALSE;
            break;
        }
    }
    return TRUE;
}

static double
sum_worth(const SessionFloor *floor, const int *counts)
{
    double worth = 0.0;
    for (int k = 0; k < floor->n_kinds; k++)
        worth += counts[k] * floor->kinds[k].worth;
    return worth;
}

static void
keep_counts(const SessionFloor *floor, const int *counts, SessionMost *most)
{
    double worth = sum_worth(floor, counts);
    if (worth <= most->worth)
        return;
    memcpy(most->counts, counts, sizeof most->counts);
    most->worth = worth;
    most->moulds = count_moulds(floor, counts);
}

// Exactly, where there are few moulds: whether one more of any kind fits after all. Proved when
// none does and no larger session could make up for it.
static gboolean
try_more(const SessionFloor *floor, SessionMost *most, Progress *progress, GError **error)
{
    gboolean again = TRUE, proved = FALSE;
    while (again) {
        again = FALSE;
        proved = floor->n_kinds == 1;
        for (int k = 0; k < floor->n_kinds && !again; k++) {
            int counts[SESSION_MOST_KINDS];
            memcpy(counts, most->counts, sizeof counts);
            if (++counts[k] > floor->kinds[k].wanted)
                continue;
            SessionExact exact = {0};
            if (most->moulds >= most->bound.moulds || !session_exact_is_small(floor, counts)) {
                proved = FALSE;
                continue;
            }
            if (!session_exact(floor, counts, INFINITY, &exact, progress, error))
                return FALSE;
            again = exact.session && exact.session->within;
            proved = proved && exact.proved;
            session_plan_free(exact.session);
            if (again)
                keep_counts(floor, counts, most);
        }
    }
    most->proved = proved || most->worth >= most->bound.worth - 1e-6 ||
                   (floor->n_kinds == 1 && most->moulds >= most->bound.moulds);
    return TRUE;
}

gboolean
session_floor_most(const SessionFloor *floor, SessionMost *most, Progress *progress, GError **error)
{
    g_return_val_if_fail(floor && most, FALSE);
    SessionMost found = {0};
    if (!session_bound(floor, &found.bound, progress, error))
        return FALSE;
    for (int by_load = floor->n_kinds == 1; by_load < 2; by_load++) {
        Sequence sequence;
        int counts[SESSION_MOST_KINDS] = {0};
        if (found.bound.moulds == 0)
            break;
        if (!make_sequence(floor, &found.bound, by_load, &sequence, progress, error) ||
            !find_longest(floor, &sequence, counts, progress, error) ||
            !fill_up(floor, counts, progress, error))
            return FALSE;
        keep_counts(floor, counts, &found);
    }
    if (!try_more(floor, &found, progress, error))
        return FALSE;
    *most = found;
    return TRUE;
}
