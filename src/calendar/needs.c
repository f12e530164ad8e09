// SPDX-License-Identifier: GPL-3.0-or-later
// Walks through the sessions once, with the metal in stock, the heap of sand and the firings of
// each crucible as they are on that morning.
#include "calendar/needs.h"

#include <math.h>

// Rounding alone buys nothing, kg.
#define LEAST_MASS 1e-9

// What a session does with one metal, and what it has cost so far.
typedef struct {
    const CalendarStuff *stuff; // of the first job that pours it: id and price
    gboolean any;               // some job takes lots that are not clean
    double charge, back;        // kg of the session: charged; cold again when it is over
    double taken[MAKEUP_COUNT], lacking;
    double ingot_so_far;
} Pool;

typedef struct {
    const GArray *sessions, *days;
    const CalendarStuff *stuff;
    const CalendarShop *shop;
    GArray *lots;  // of Lot whose words are lent
    GArray *pools; // of Pool
    double *firings;
    int *spares, *bought; // crucibles left on the shelf; new ones so far
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
    g_array_unref(needs->shelves);
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
        if (g_strcmp0(pool->stuff->metal, stuff->metal) == 0)
            return pool;
    }
    Pool pool = {.stuff = stuff};
    g_array_append_val(walk->pools, pool);
    return &g_array_index(walk->pools, Pool, walk->pools->len - 1);
}

// The lot of clean returns of a metal.
static Lot *
find_returns(Walk *walk, const char *metal)
{
    for (guint i = 0; i < walk->lots->len; i++) {
        Lot *lot = &g_array_index(walk->lots, Lot, i);
        if (lot->form == LOT_RETURNS && lot->state == LOT_CLEAN &&
            g_strcmp0(lot->metal, metal) == 0)
            return lot;
    }
    Lot fresh = {0, (char *)metal, LOT_RETURNS, LOT_CLEAN};
    g_array_append_val(walk->lots, fresh);
    return &g_array_index(walk->lots, Lot, walk->lots->len - 1);
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
    need.job = pour->job;
    g_array_append_val(walk->out->needs, need);
}

// Backwards from the last: a set is done on the morning of its session, or when the next has to be
// begun. In days, of which the Julian number is midnight.
static void
begin_patterns(Walk *walk)
{
    double next = G_MAXDOUBLE;
    for (guint i = walk->out->needs->len; i-- > 0;) {
        CalendarNeed *need = &g_array_index(walk->out->needs, CalendarNeed, i);
        if (need->kind != NEED_PATTERNS || !isfinite(walk->stuff[need->job].print_time))
            continue;
        next = fmin(next, need->by) - walk->stuff[need->job].print_time / 86400.0;
        need->begin = next >= 1 ? (guint32)floor(next) : 0;
    }
}

// New crucibles for a session of `more` firings: none while the one in use bears them.
static int
count_new(const CalendarCrucible *crucible, double firings, int more)
{
    if (more == 0 || !(firings + more > crucible->life))
        return 0;
    return crucible->life >= 1 ? (int)fmin(ceil(more / floor(crucible->life)), more) : more;
}

static void
need_crucible(Walk *walk, guint index, guint crucible, int melts)
{
    const CalendarCrucible *c = &walk->shop->crucibles[crucible];
    CalendarTotals *totals = &walk->out->totals;
    int more = c->by_melt ? melts : MIN(melts, 1);
    int fresh = count_new(c, walk->firings[crucible], more);
    walk->firings[crucible] += more;
    if (fresh == 0)
        return;
    int spares = MIN(fresh, walk->spares[crucible]), buy = fresh - spares;
    CalendarNeed need = start_need(walk, NEED_CRUCIBLE, index);
    need.what = c->id;
    need.amount = buy;
    need.so_far = walk->bought[crucible] += buy;
    need.stock = spares;
    need.cost = buy * c->price;
    g_array_append_val(walk->out->needs, need);
    totals->crucibles += buy;
    totals->spares += spares;
    totals->cost_crucibles += need.cost;
    walk->spares[crucible] -= spares;
    // The last of the new ones has served what the others could not.
    walk->firings[crucible] = more - (fresh - 1) * floor(fmax(c->life, 1));
}

// What a job's charge is made up from with the stock as it is.
static Makeup
make_up(const Walk *walk, const CalendarPour *pour)
{
    const CalendarStuff *stuff = &walk->stuff[pour->job];
    Makeup makeup = melt_makeup(walk->lots, stuff->metal, stuff->any, stuff->working,
                                stuff->returns_share);
    makeup.share[MAKEUP_INGOT] = 1; // also in place of what the others run out of
    return makeup;
}

static void
charge_metal(Walk *walk, const CalendarPour *pour, const Makeup *makeup)
{
    const CalendarStuff *stuff = &walk->stuff[pour->job];
    Pool *pool = find_pool(walk, stuff);
    double charge = calendar_needs_charge(stuff, pour->flasks);
    MakeupDraw draw = melt_draw(walk->lots, stuff->metal, stuff->any, charge, makeup->share);
    pool->any = pool->any || stuff->any;
    pool->charge += charge;
    pool->back += charge * (1 - stuff->loss) - pour->flasks * stuff->castings;
    pool->lacking += draw.lacking;
    for (int group = 0; group < MAKEUP_COUNT; group++)
        pool->taken[group] += draw.taken[group];
}

static void
need_ingot(Walk *walk, guint index, Pool *pool)
{
    CalendarTotals *totals = &walk->out->totals;
    CalendarNeed need = start_need(walk, NEED_INGOT, index);
    need.what = pool->stuff->metal;
    need.amount = pool->lacking > LEAST_MASS ? pool->lacking : 0;
    need.so_far = pool->ingot_so_far += need.amount;
    need.stock = pool->taken[MAKEUP_INGOT];
    need.returns = pool->taken[MAKEUP_RETURNS];
    need.castings = pool->taken[MAKEUP_CASTINGS];
    need.cost = need.amount * pool->stuff->price;
    g_array_append_val(walk->out->needs, need);
    totals->charged += pool->charge;
    totals->returns_used += need.returns;
    totals->castings_used += need.castings;
    totals->ingot_used += need.stock;
    totals->ingot += need.amount;
    totals->cost_ingot += need.cost;
}

// Puts what the session leaves of a metal with the stock, and the pool back to nothing.
static void
return_metal(Walk *walk, Pool *pool)
{
    Lot *lot = find_returns(walk, pool->stuff->metal);
    lot->mass += fmax(0, pool->back);
    *pool = (Pool){.stuff = pool->stuff, .any = pool->any, .ingot_so_far = pool->ingot_so_far};
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
        *burnt += pour->flasks * stuff->sand * walk->shop->sand.loss;
    }
    return heap;
}

static void
need_sand(Walk *walk, guint index, const CalendarSession *session)
{
    const CalendarSand *sand = &walk->shop->sand;
    CalendarTotals *totals = &walk->out->totals;
    double burnt, missing = count_heap(walk, session, &burnt) - walk->heap;
    if (missing > LEAST_MASS && sand->box > 0) {
        CalendarNeed need = start_need(walk, NEED_SAND, index);
        need.amount = ceil(missing / sand->box - 1e-9) * sand->box;
        need.so_far = totals->sand += need.amount;
        need.cost = need.amount * sand->price;
        totals->cost_sand += need.cost;
        walk->heap += need.amount;
        g_array_append_val(walk->out->needs, need);
    }
    walk->heap = fmax(0, walk->heap - burnt);
}

// Loads a crucible melts in a session.
static int
count_melts(const Walk *walk, guint index, const CalendarSession *session, guint crucible)
{
    if (walk->shop->melts)
        return walk->shop->melts[index * walk->shop->n_crucibles + crucible];
    for (guint i = 0; i < session->pours->len; i++)
        if (walk->stuff[g_array_index(session->pours, CalendarPour, i).job].crucible ==
            (int)crucible)
            return 1;
    return 0;
}

static void
walk_session(Walk *walk, guint index)
{
    const CalendarSession *session = &g_array_index(walk->sessions, CalendarSession, index);
    g_autofree Makeup *makeups = g_new0(Makeup, session->pours->len + 1);
    double charged = 0;
    for (guint i = 0; i < session->pours->len; i++)
        makeups[i] = make_up(walk, &g_array_index(session->pours, CalendarPour, i));
    for (guint i = 0; i < session->pours->len; i++) {
        const CalendarPour *pour = &g_array_index(session->pours, CalendarPour, i);
        need_patterns(walk, index, pour);
        charge_metal(walk, pour, &makeups[i]);
    }
    for (guint i = 0; i < walk->shop->n_crucibles; i++)
        need_crucible(walk, index, i, count_melts(walk, index, session, i));
    for (guint i = 0; i < walk->pools->len; i++) {
        Pool *pool = &g_array_index(walk->pools, Pool, i);
        charged += pool->charge;
        if (pool->charge > 0)
            need_ingot(walk, index, pool);
        return_metal(walk, pool);
    }
    need_sand(walk, index, session);
    g_array_append_val(walk->out->charges, charged);
}

// What was and what is there of the metals poured.
static void
count_shelves(Walk *walk)
{
    g_autoptr(GArray) none = g_array_new(FALSE, FALSE, sizeof(Lot));
    for (guint i = 0; i < walk->pools->len; i++) {
        const Pool *pool = &g_array_index(walk->pools, Pool, i);
        CalendarShelf shelf = {.metal = pool->stuff->metal};
        melt_chargeable(walk->shop->lots ? walk->shop->lots : none, shelf.metal, pool->any,
                        shelf.before);
        melt_chargeable(walk->lots, shelf.metal, pool->any, shelf.after);
        walk->out->totals.returns_left += shelf.after[MAKEUP_RETURNS];
        g_array_append_val(walk->out->shelves, shelf);
    }
}

CalendarNeeds *
calendar_needs_make(const GArray *sessions, const GArray *days, const CalendarStuff *stuff,
                    guint n_jobs, const CalendarShop *shop)
{
    g_return_val_if_fail(sessions && days && (stuff || n_jobs == 0) && shop, NULL);
    g_autoptr(CalendarNeeds) out = g_new0(CalendarNeeds, 1);
    out->needs = g_array_new(FALSE, FALSE, sizeof(CalendarNeed));
    out->charges = g_array_new(FALSE, FALSE, sizeof(double));
    out->shelves = g_array_new(FALSE, FALSE, sizeof(CalendarShelf));
    g_autoptr(GArray) pools = g_array_new(FALSE, FALSE, sizeof(Pool));
    g_autoptr(GArray) lots = g_array_new(FALSE, FALSE, sizeof(Lot));
    g_autofree double *firings = g_new0(double, shop->n_crucibles + 1);
    g_autofree int *spares = g_new0(int, shop->n_crucibles + 1);
    g_autofree int *bought = g_new0(int, shop->n_crucibles + 1);
    g_autofree gboolean *printed = g_new0(gboolean, n_jobs + 1);
    if (shop->lots)
        g_array_append_vals(lots, shop->lots->data, shop->lots->len);
    for (guint i = 0; i < n_jobs; i++)
        printed[i] = stuff[i].printed;
    for (guint i = 0; i < shop->n_crucibles; i++) {
        firings[i] = shop->crucibles[i].firings;
        spares[i] = shop->crucibles[i].spares;
    }
    Walk walk = {.sessions = sessions,
                 .days = days,
                 .stuff = stuff,
                 .shop = shop,
                 .lots = lots,
                 .heap = shop->sand.ready,
                 .pools = pools,
                 .firings = firings,
                 .spares = spares,
                 .bought = bought,
                 .printed = printed,
                 .out = out};
    for (guint i = 0; i < sessions->len; i++)
        walk_session(&walk, i);
    begin_patterns(&walk);
    count_shelves(&walk);
    return g_steal_pointer(&out);
}
