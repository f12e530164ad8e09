// SPDX-License-Identifier: GPL-3.0-or-later
// The bounded search for sizes.
#include "mould/fit.h"

#include <math.h>

#include "mould/flow.h"

#define MOST_ROUNDS 12
#define NEARLY 0.94 // of a limit; what is aimed at
#define WIDER 1.25  // runners, a round; so much smaller gates
#define LESS 0.99   // of a size; what counts as a change
#define HEAD 5e-4   // m over the runner's roof that is aimed at
#define WIDEST 16.0 // runners over choke
#define BETTER 0.98 // what a round must bring, else it is not worth its metal

// NULL without a riser.
static MouldLevel *
with_riser(const MouldLevel *level, const MouldRiser *r)
{
    if (!(r->diameter > 0 && r->height > 0))
        return NULL;
    return mould_level_with_post(level, G_PI / 4 * r->diameter * r->diameter, r->base,
                                 r->base + r->height);
}

MouldFilling *
mould_fit_run(const MouldLayout *l, const MouldLevel *cavity, const MouldLevel *guest,
              const Progress *progress, GError **error)
{
    g_autoptr(MouldLevel) with = with_riser(cavity, &l->riser);
    g_autoptr(MouldLevel) guest_with = guest ? with_riser(guest, &l->guest_riser) : NULL;
    g_autoptr(MouldFlow)
                  flow = mould_flow_build(l, with ? with : cavity, guest_with ? guest_with : guest);
    return flow ? mould_filling_run(flow, progress, error) : NULL;
}

static MouldFilling *
try_sizes(const MouldFit *fit, const MouldWish *wish, const MouldWay *way, const MouldPlace *place)
{
    g_autoptr(MouldLayout) layout = mould_layout_new();
    layout->cope = wish->cope;
    mould_build(layout, wish, way, place);
    return mould_fit_run(layout, fit->cavity, fit->guest, fit->progress, NULL);
}

// Smaller gates, as far as their speed and the time they wait allow, hold more pressure in a runner
// that does not run full.
static gboolean
narrow_gates(const MouldFit *fit, const MouldFilling *filling, const MouldPour *pour,
             MouldWish *next)
{
    if (!fit->narrow || !(filling->runner_full < HEAD))
        return FALSE;
    double room = NEARLY * next->velocity_limit / filling->gate_velocity;
    double smaller = pour->gate_area / (room < WIDER ? room : WIDER);
    if (!(fmax(smaller, pour->gate_wait) < LESS * pour->gate_area))
        return FALSE;
    next->gate_ratio = smaller / pour->choke;
    next->gate_share = fmin(MOULD_GATE_SHARE, pour->peak_flow / (next->velocity_limit * smaller));
    return TRUE;
}

// Changes `next` towards the limits; FALSE when nothing is left to change.
static gboolean
change_sizes(const MouldFit *fit, const MouldFilling *filling, MouldWish *next)
{
    gboolean changed = FALSE;
    if (fit->wide && filling->gate_spread > fit->spread && next->runner_ratio * WIDER <= WIDEST) {
        next->runner_ratio *= WIDER;
        changed = TRUE;
    }
    double share = filling->gate_velocity / next->velocity_limit;
    double slower = next->gate_share * 0.99 * NEARLY / share;
    if (share > NEARLY && slower >= MOULD_FIT_LEAST_SHARE) {
        next->gate_share = slower;
        changed = TRUE;
    }
    return changed;
}

// Gates may be larger than their share of the limit asks for: then that has to change first.
static double
drawn_share(const MouldWish *wish, const MouldPour *pour)
{
    double drawn = pour->peak_flow / (wish->velocity_limit * pour->gate_area);
    return drawn < pour->gate_share ? drawn : pour->gate_share;
}

// How far sizes are from what is aimed at; 1 and below where they keep it.
typedef struct {
    double flow; // the worse of speed and unevenness
    double head; // over the runner
} Excess;

static Excess
find_excess(const MouldFit *fit, const MouldWish *wish, const MouldPour *pour,
            const MouldFilling *filling)
{
    if (!filling)
        return (Excess){INFINITY, INFINITY};
    double speed = filling->gate_velocity / (NEARLY * wish->velocity_limit);
    return (Excess){fmax(fmax(0, speed), filling->gate_spread / fit->spread),
                    fmax(0, 1 + (HEAD - filling->runner_full) / pour->runner)};
}

// Speed and unevenness first, as far as they can be cured; then the head, not at their cost.
typedef struct {
    const MouldFit *fit;
    Excess now;
    gboolean for_head;
} Search;

// The next wish to try, from `next` as it is now; FALSE when there is none.
static gboolean
change(Search *s, const MouldFilling *filling, const MouldPour *pour, MouldWish *next)
{
    next->gate_share = drawn_share(next, pour);
    if (!s->for_head && s->now.flow > 1 && change_sizes(s->fit, filling, next))
        return TRUE;
    s->for_head = TRUE;
    return s->now.head > 1 && narrow_gates(s->fit, filling, pour, next);
}

static gboolean
is_worth(const Search *s, Excess tried)
{
    if (s->for_head)
        return tried.head < BETTER * s->now.head && tried.flow <= fmax(1, s->now.flow);
    return tried.flow < BETTER * s->now.flow;
}

// What was tried was not worth it; TRUE when something else is left to try.
static gboolean
give_up(Search *s)
{
    gboolean other = !s->for_head && s->now.head > 1;
    s->for_head = TRUE;
    return other;
}

static gboolean
is_kept(Excess e)
{
    return e.flow <= 1 && e.head <= 1;
}

gboolean
mould_fit_sizes(const MouldFit *fit, MouldWish *wish, const MouldWay *way, MouldPlace *place)
{
    g_autoptr(MouldFilling) filling = try_sizes(fit, wish, way, place);
    Search s = {fit, find_excess(fit, wish, &place->pour, filling), FALSE};
    for (int round = 0; filling && round < MOST_ROUNDS && !is_kept(s.now); round++) {
        MouldWish next = *wish;
        if (!change(&s, filling, &place->pour, &next))
            break;
        MouldPlace solved = mould_place_solve(&next, way);
        g_autoptr(MouldFilling) other = solved.fits ? try_sizes(fit, &next, way, &solved) : NULL;
        Excess now = find_excess(fit, &next, &solved.pour, other);
        if (!is_worth(&s, now)) {
            if (!give_up(&s))
                break;
            continue;
        }
        s.now = now;
        *wish = next;
        *place = solved;
        mould_filling_free(filling);
        filling = g_steal_pointer(&other);
    }
    return is_kept(s.now);
}

static MouldFilling *
try_placed(const MouldFit *fit, const MouldFixed *fixed, const MouldSpots *spots, MouldPour *pour)
{
    g_autoptr(MouldLayout) layout = mould_layout_new();
    layout->cope = fixed->wish.cope;
    mould_fixed_build(layout, fixed, spots->spot, spots->n, spots->sprue_x, spots->sprue_y,
                      spots->axis, pour);
    return mould_fit_run(layout, fit->cavity, fit->guest, fit->progress, NULL);
}

gboolean
mould_fit_placed(const MouldFit *fit, MouldFixed **fixed, const MouldSpots *spots, MouldPour *pour)
{
    g_autoptr(MouldFilling) filling = try_placed(fit, *fixed, spots, pour);
    Search s = {fit, find_excess(fit, &(*fixed)->wish, pour, filling), FALSE};
    for (int round = 0; filling && round < MOST_ROUNDS && !is_kept(s.now); round++) {
        MouldWish next = (*fixed)->wish;
        MouldPour sizes;
        if (!change(&s, filling, pour, &next))
            break;
        g_autoptr(MouldFixed) tried = mould_fixed_with(*fixed, &next);
        g_autoptr(MouldFilling) other = try_placed(fit, tried, spots, &sizes);
        Excess now = find_excess(fit, &next, &sizes, other);
        if (!is_worth(&s, now)) {
            if (!give_up(&s))
                break;
            continue;
        }
        s.now = now;
        *pour = sizes;
        mould_fixed_unref(*fixed);
        *fixed = g_steal_pointer(&tried);
        mould_filling_free(filling);
        filling = g_steal_pointer(&other);
    }
    return is_kept(s.now);
}

gboolean
mould_fit_suggest(const MouldFit *fit, const MouldWish *wish, const MouldWay *way,
                  MouldPlace *place)
{
    MouldWish free = *wish;
    MouldFit wide = *fit;
    free.choke = free.gate_width = free.gate_depth = free.runner = free.gate_share = 0;
    free.fill_time = NAN;
    free.stepped = TRUE;
    wide.wide = wide.narrow = TRUE;
    MouldPlace solved = mould_place_solve(&free, way);
    if (!solved.fits || !mould_fit_sizes(&wide, &free, way, &solved))
        return FALSE;
    *place = solved;
    return TRUE;
}
