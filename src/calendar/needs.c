// SPDX-License-Identifier: GPL-3.0-or-later
// Walks through the sessions once, with the returns of each metal, the heap of sand and the firings
// of each crucible as they are on that morning.
#include "calendar/needs.h"

#include <math.h>

// What there is of one metal.
typedef struct {
    const char *metal;
    double price;
    double returns, ingot_so_far;
    double charge, kept; // of the session being walked through
    double loss;
} Pool;

typedef struct {
    const GArray *sessions, *days;
    const CalendarStuff *stuff;
    guint n_jobs;
    const CalendarCrucible *crucibles;
    guint n_crucibles;
    const gboolean *fired;
    const CalendarSand *sand;
    GArray *pools; // of Pool
    double *firings;
    int *changed; // new crucibles so far
    gboolean *printed;
    double heap;
    CalendarNeeds *out;
} Walk;

void
calendar_needs_free(CalendarNeeds *needs)
{
    if (!needs)
        return;
    g_array_unref(needs->needs);
    g_array_unref(needs->charges);
    g_free(needs);
}

double
calendar_needs_charge(const CalendarStuff *stuff, int flasks)
{
    g_return_val_if_fail(stuff && stuff->flasks_per_load > 0, NAN);
    int full = flasks / stuff->flasks_per_load, rest = flasks % stuff->flasks_per_load;
    double load = stuff->flasks_per_load * stuff->poured, last = rest * stuff->poured;
    double reserve = full * fmax(stuff->reserve * load, stuff->reserve_least);
    if (rest > 0)
        reserve += fmax(stuff->reserve * last, stuff->reserve_least);
    double heel = flasks > 0 ? stuff->heel : 0;
    return (flasks * stuff->poured + reserve + heel) / (1 - stuff->loss);
}

static Pool *
find_pool(Walk *walk, const CalendarStuff *stuff)
{
    for (guint i = 0; i < walk->pools->len; i++) {
        Pool *pool = &g_array_index(walk->pools, Pool, i);
        if (g_strcmp0(pool->metal, stuff->metal) == 0)
            return pool;
    }
    Pool pool = {.metal = stuff->metal, .price = stuff->price};
    g_array_append_val(walk->pools, pool);
    return &g_array_index(walk->pools, Pool, walk->pools->len - 1);
}

static CalendarNeed
start_need(const Walk *walk, CalendarNeedKind kind, guint index)
{
    const CalendarSession *session = &g_array_index(walk->sessions, CalendarSession, index);
    return (CalendarNeed){.kind = kind,
                          .session = index,
                          .by = g_array_index(walk->days, CalendarDay, session->day).day,
                          .job = -1,
                          .amount = 1,
                          .so_far = 1,
                          .cost = NAN};
}

static void
need_patterns(Walk *walk, guint index, const CalendarPour *pour)
{
    if (walk->printed[pour->job])
        return;
    walk->printed[pour->job] = TRUE;
    CalendarNeed need = start_need(walk, NEED_PATTERNS, index);
    double days = ceil(walk->stuff[pour->job].print_time / 86400.0);
    need.job = pour->job;
    if (isfinite(days) && days < need.by)
        need.begin = need.by - (guint32)days;
    g_array_append_val(walk->out->needs, need);
}

static void
need_crucible(Walk *walk, guint index, guint crucible)
{
    const CalendarCrucible *c = &walk->crucibles[crucible];
    if (walk->firings[crucible] >= c->life) {
        CalendarNeed need = start_need(walk, NEED_CRUCIBLE, index);
        need.what = c->id;
        need.so_far = ++walk->changed[crucible];
        need.cost = c->price;
        g_array_append_val(walk->out->needs, need);
        walk->out->totals.crucibles++;
        walk->out->totals.cost_crucibles += c->price;
        walk->firings[crucible] = 0;
    }
    walk->firings[crucible]++;
}

static void
need_ingot(Walk *walk, guint index, Pool *pool)
{
    CalendarTotals *totals = &walk->out->totals;
    CalendarNeed need = start_need(walk, NEED_INGOT, index);
    need.what = pool->metal;
    need.returns = fmin(pool->returns, pool->charge);
    need.amount = pool->charge - need.returns;
    need.so_far = pool->ingot_so_far += need.amount;
    need.cost = need.amount * pool->price;
    g_array_append_val(walk->out->needs, need);
    totals->charged += pool->charge;
    totals->returns_used += need.returns;
    totals->ingot += need.amount;
    totals->cost_ingot += need.cost;
    pool->returns += pool->charge - pool->loss - pool->kept - need.returns;
    pool->charge = pool->kept = pool->loss = 0;
}

// Sand closed in flasks at one time.
static double
count_heap(const Walk *walk, const CalendarSession *session, double *burnt)
{
    double heap = 0;
    *burnt = 0;
    for (guint i = 0; i < session->pours->len; i++) {
        const CalendarPour *pour = &g_array_index(session->pours, CalendarPour, i);
        const CalendarStuff *stuff = &walk->stuff[pour->job];
        heap += MIN(pour->flasks, stuff->boxes) * stuff->sand;
        *burnt += pour->flasks * stuff->sand * walk->sand->loss;
    }
    return heap;
}

static void
need_sand(Walk *walk, guint index, const CalendarSession *session)
{
    CalendarTotals *totals = &walk->out->totals;
    double burnt, missing = count_heap(walk, session, &burnt) - walk->heap;
    // Rounding alone buys no box.
    if (missing > 1e-9 && walk->sand->box > 0) {
        CalendarNeed need = start_need(walk, NEED_SAND, index);
        need.amount = ceil(missing / walk->sand->box - 1e-9) * walk->sand->box;
        need.so_far = totals->sand += need.amount;
        need.cost = need.amount * walk->sand->price;
        totals->cost_sand += need.cost;
        walk->heap += need.amount;
        g_array_append_val(walk->out->needs, need);
    }
    walk->heap = fmax(0, walk->heap - burnt);
}

static void
walk_session(Walk *walk, guint index)
{
    const CalendarSession *session = &g_array_index(walk->sessions, CalendarSession, index);
    g_autofree gboolean *fired = g_new0(gboolean, walk->n_crucibles + 1);
    double charged = 0;
    for (guint i = 0; i < session->pours->len; i++) {
        const CalendarPour *pour = &g_array_index(session->pours, CalendarPour, i);
        const CalendarStuff *stuff = &walk->stuff[pour->job];
        Pool *pool = find_pool(walk, stuff);
        double charge = calendar_needs_charge(stuff, pour->flasks);
        pool->charge += charge;
        pool->loss += charge * stuff->loss;
        pool->kept += pour->flasks * stuff->cavities * stuff->casting;
        charged += charge;
        need_patterns(walk, index, pour);
        if (stuff->crucible >= 0 && stuff->crucible < (int)walk->n_crucibles)
            fired[stuff->crucible] = TRUE;
    }
    for (guint i = 0; i < walk->n_crucibles; i++)
        if (walk->fired ? walk->fired[index * walk->n_crucibles + i] : fired[i])
            need_crucible(walk, index, i);
    for (guint i = 0; i < walk->pools->len; i++)
        if (g_array_index(walk->pools, Pool, i).charge > 0)
            need_ingot(walk, index, &g_array_index(walk->pools, Pool, i));
    need_sand(walk, index, session);
    g_array_append_val(walk->out->charges, charged);
}

CalendarNeeds *
calendar_needs_make(const GArray *sessions, const GArray *days, const CalendarStuff *stuff,
                    guint n_jobs, const CalendarCrucible *crucibles, guint n_crucibles,
                    const gboolean *fired, const CalendarSand *sand)
{
    g_return_val_if_fail(sessions && days && (stuff || n_jobs == 0) && sand, NULL);
    g_autoptr(CalendarNeeds) out = g_new0(CalendarNeeds, 1);
    out->needs = g_array_new(FALSE, FALSE, sizeof(CalendarNeed));
    out->charges = g_array_new(FALSE, FALSE, sizeof(double));
    g_autoptr(GArray) pools = g_array_new(FALSE, FALSE, sizeof(Pool));
    g_autofree double *firings = g_new0(double, n_crucibles + 1);
    g_autofree int *changed = g_new0(int, n_crucibles + 1);
    g_autofree gboolean *printed = g_new0(gboolean, n_jobs + 1);
    for (guint i = 0; i < n_crucibles; i++)
        firings[i] = crucibles[i].firings;
    Walk walk = {.sessions = sessions,
                 .days = days,
                 .stuff = stuff,
                 .n_jobs = n_jobs,
                 .crucibles = crucibles,
                 .n_crucibles = n_crucibles,
                 .fired = fired,
                 .sand = sand,
                 .pools = pools,
                 .firings = firings,
                 .changed = changed,
                 .printed = printed,
                 .out = out};
    for (guint i = 0; i < sessions->len; i++)
        walk_session(&walk, i);
    for (guint i = 0; i < pools->len; i++)
        out->totals.returns_left += g_array_index(pools, Pool, i).returns;
    return g_steal_pointer(&out);
}
