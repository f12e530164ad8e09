// SPDX-License-Identifier: GPL-3.0-or-later
// The lines a runner may take, and the one beside which most stand.
#include "mould/rest.h"

#include <math.h>

#include "mould/build.h"
#include "mould/rest-line.h"
#include "mould/rest-row.h"

#define SPARE 1.02      // for what the gating still changes
#define ROUNDS 5        // the gating's size hardly changes after that
#define LEAST_LACK 1e-5 // m
#define MOST_FEWER 6
#define NEAR 5e-4 // m, lines that are as good as one

MouldKept
mould_kept_of(const MouldLayout *l, const MouldPour *pour, double spare)
{
    double widest = pour->runner, sprue = fmax(pour->well, pour->sprue_top);
    // A stepped arm with more than its share of the gates is wider.
    for (guint i = 0; l && i < l->n_runners; i++)
        widest = fmax(widest, l->runners[i].width);
    return (MouldKept){spare * widest / 2, spare * fmax(widest, sprue) / 2};
}

gboolean
mould_kept_holds(const MouldKept *kept, const MouldLayout *l, const MouldPour *pour)
{
    MouldKept needed = mould_kept_of(l, pour, 1);
    return needed.runner <= kept->runner && needed.sprue <= kept->sprue;
}

MouldLayout *
mould_rest_build(const MouldFixed *fixed, const GArray *spots, int axis, double x, double y,
                 MouldPour *pour)
{
    MouldLayout *l = mould_layout_new();
    l->length = fixed->wish.length;
    l->width = fixed->wish.width;
    mould_fixed_build(l, fixed, (const PlacementSpot *)(gconstpointer)spots->data, spots->len, x, y,
                      axis, pour);
    return l;
}

double
mould_rest_flasks(const MouldRestTask *t, guint hosts, guint guests)
{
    if (!t->fixed->guest)
        return 0;
    // Asked for by number, more guests come first.
    if (t->guests > 0)
        return (double)PLACEMENT_MOST - MIN(guests, t->guests);
    double own = hosts > 0 ? ceil(fmax(1, t->wanted[0]) / hosts) : INFINITY;
    return fmax(own, guests > 0 ? ceil(fmax(1, t->wanted[1]) / guests) : INFINITY);
}

void
mould_rest_free(MouldRest *rest)
{
    if (!rest)
        return;
    g_array_unref(rest->spots);
    g_free(rest);
}

// Lines worth trying besides those past locked ones: through the sprue; in the middle; with one row
// against a wall; between rows of two kinds.
static void
list_lines(const RestRow *r, RestLines *lines)
{
    const MouldWish *wish = r->wish;
    if (rest_line_add_given(lines))
        return;
    rest_line_add(lines, 0);
    double room = (lines->axis || wish->round ? wish->length : wish->width) / 2 -
                  mould_place_share(&r->own->wish);
    double deep[2] = {0, 0};
    for (int i = 0; i < MIN(2, r->n_ways); i++) {
        double row = r->front + r->ways[i].stance.front + r->ways[i].stance.back + REST_SIMPLER +
                     r->margin;
        rest_line_add(lines, room - row);
        rest_line_add(lines, row - room);
        rest_line_add(lines, (r->kept.sprue - row) / 2);
        rest_line_add(lines, (row - r->kept.sprue) / 2);
        deep[i] = row;
    }
    if (r->n_ways > 1) { // as much to spare behind one as behind the other
        rest_line_add(lines, (deep[1] - deep[0]) / 2);
        rest_line_add(lines, (deep[0] - deep[1]) / 2);
    }
}

typedef struct {
    MouldRest *rest;
    double lack;         // m of sand from locked ones to the runner
    double flasks, cost; // flasks until all that is wanted is poured; m of runner and gates
    MouldKept needed;    // a little more than its gating takes
    double past;         // m, of its runner beyond the last gate
} Best;

static double
cost_of(const MouldLayout *l)
{
    double cost = 0;
    for (guint i = 0; i < l->n_gates; i++)
        cost += hypot(l->gates[i].x2 - l->gates[i].x1, l->gates[i].y2 - l->gates[i].y1);
    for (guint i = 0; i < l->n_runners; i++)
        cost += hypot(l->runners[i].x2 - l->runners[i].x1, l->runners[i].y2 - l->runners[i].y1);
    return cost;
}

static gboolean
is_better(const Best *best, const MouldLayout *l, guint n, double lack, double flasks, double cost)
{
    const MouldRest *b = best->rest;
    if (!b || l->gates_missing != b->missing)
        return !b || l->gates_missing < b->missing;
    if (fabs(lack - best->lack) > LEAST_LACK)
        return lack < best->lack;
    if (flasks != best->flasks)
        return flasks < best->flasks;
    if (n != b->spots->len)
        return n > b->spots->len;
    return cost < best->cost * (1 - 1e-9);
}

// Hosts first, else in their order.
static GArray *
sort_spots(const GArray *spots)
{
    GArray *sorted = g_array_sized_new(FALSE, TRUE, sizeof(PlacementSpot), spots->len);
    for (int guest = 0; guest < 2; guest++)
        for (guint i = 0; i < spots->len; i++)
            if ((g_array_index(spots, PlacementSpot, i).guest ? 1 : 0) == guest)
                g_array_append_val(sorted, g_array_index(spots, PlacementSpot, i));
    return sorted;
}

// A line for the runner, with rows so much further from it than they have to be for its own sake.
typedef struct {
    const RestRow *host, *guest; // the second NULL without
    int axis;
    double v, push[2];
} Line;

static void
set_needed(Best *best, const MouldLayout *l, const MouldPour *pour)
{
    best->needed = mould_kept_of(l, pour, SPARE);
    best->past = SPARE * (pour->gate_width / 2 + pour->runner);
}

// Gates that miss of the locked ones count for the line, those of others would be a mistake.
static void
take_better(const Line *line, const GArray *spots, const MouldLayout *l, const MouldPour *pour,
            Best *best)
{
    const RestRow *r = line->host;
    const MouldRestTask *t = r->task;
    double cost = cost_of(l),
           flasks = mould_rest_flasks(t, l->n_cavities - l->n_guests, l->n_guests);
    double lack = rest_line_lack(t, line->axis, line->v, r->kept.sprue);
    if (!is_better(best, l, spots->len, lack, flasks, cost))
        return;
    mould_rest_free(best->rest);
    best->rest = g_new0(MouldRest, 1);
    *best->rest = (MouldRest){.spots = g_array_ref((GArray *)spots),
                              .axis = line->axis,
                              .missing = l->gates_missing,
                              .kept = r->kept};
    rest_line_sprue(t, line->axis, line->v, &best->rest->sprue_x, &best->rest->sprue_y);
    best->lack = lack;
    best->flasks = flasks;
    best->cost = cost;
    set_needed(best, l, pour);
}

static GArray *
locked_of(const MouldRestTask *t)
{
    GArray *locked = g_array_new(FALSE, TRUE, sizeof(PlacementSpot));
    if (t->n_locked > 0)
        g_array_append_vals(locked, t->locked, t->n_locked);
    return locked;
}

// Castings of this job round `guests` of the other one; `placed` is how many stood there before.
static GArray *
fill_line(const Line *line, guint guests, guint *placed)
{
    const MouldRestTask *t = line->host->task;
    g_autoptr(GArray) locked = locked_of(t);
    guint most = t->most > 0 ? t->most : PLACEMENT_MOST;
    guint first = rest_shape_guests(t->locked, t->n_locked);
    guint others = MIN(most, locked->len + guests - first);
    g_autoptr(GArray) before = line->guest ? rest_row_fill(line->guest, line->axis, line->v, locked,
                                                           others, line->push)
                                           : g_array_ref(locked);
    *placed = before->len;
    return rest_row_fill(line->host, line->axis, line->v, before, most, line->push);
}

// Rows as near to the runner as it allows; where that is too near to the sprue as much further as
// that asks for; and with the sprue's sand all along. Returns how many of this job were found, with
// how many had their place before.
static guint
try_number(const RestRow *host, const RestRow *guest, int axis, double v, guint guests, Best *best,
           guint *placed)
{
    const MouldRestTask *t = host->task;
    double full = host->kept.sprue - host->kept.runner;
    Line line = {host, guest, axis, v, {0, 0}};
    guint most = 0;
    for (int round = 0; round < 3; round++) {
        guint before;
        g_autoptr(GArray) found = fill_line(&line, guests, &before);
        if (round == 0) {
            most = found->len - before;
            *placed = before;
        }
        if (found->len == t->n_locked || (guest && found->len == before && t->n_locked == 0))
            break;
        MouldPour sizes;
        g_autoptr(GArray) spots = sort_spots(found);
        double x, y;
        rest_line_sprue(t, axis, v, &x, &y);
        g_autoptr(MouldLayout) l = mould_rest_build(t->fixed, spots, axis, x, y, &sizes);
        gboolean clear = rest_row_past_sprue(host, axis, v, found, t->n_locked,
                                             axis ? l->sprue_y : l->sprue_x, line.push);
        if (clear || round == 2) {
            take_better(&line, spots, l, &sizes, best);
            break;
        }
        for (int k = 0; k < 2; k++)
            line.push[k] = round == 0 ? fmin(line.push[k], full) : full;
    }
    return most;
}

// One line: castings of this job alone, or guests of every number with as many of this job's as
// then have room.
static void
try_line(const RestRow *host, const RestRow *guest, int axis, double v, Best *best)
{
    const MouldRestTask *t = host->task;
    guint first = rest_shape_guests(t->locked, t->n_locked), placed;
    if (!guest) {
        try_number(host, NULL, axis, v, 0, best, &placed);
        return;
    }
    guint from = t->guests > 0 ? MAX(first, t->guests) : MAX(1, first);
    for (guint n = from; t->guests == 0 || n == from; n++) {
        if (progress_stopped(host->progress))
            return;
        guint own = try_number(host, guest, axis, v, n, best, &placed);
        if (own == 0 || placed < t->n_locked + n - first)
            return;
    }
}

static void
start_rest(RestRow *r, const MouldRestTask *t, gboolean guest, const Progress *progress)
{
    r->task = t;
    r->own = mould_fixed_of(t->fixed, guest);
    r->wish = &r->own->wish;
    r->guest = guest;
    r->progress = progress;
    r->n_ways = r->wish->n_stances > 0 ? r->wish->n_stances : 1;
    r->margin = rest_shape_margin(t->fixed);
    if (t->fixed->guest)
        r->margin = fmax(r->margin, rest_shape_margin(t->fixed->guest));
    if (t->fixed->guest) // there are many mixtures
        r->n_ways = MIN(r->n_ways, MOULD_QUARTERS);
}

static void
try_axis(const RestRow *host, const RestRow *guest, int axis, Best *best)
{
    RestLines lines = {
        .task = host->task, .axis = axis, .kept = host->kept.sprue, .near = guest ? NEAR : 1e-6};
    list_lines(host, &lines);
    if (guest)
        list_lines(guest, &lines);
    if (!rest_line_add_given(&lines))
        rest_line_add_locked(&lines);
    for (int i = 0; i < lines.n && !progress_stopped(host->progress); i++)
        try_line(host, guest, axis, lines.v[i], best);
}

static MouldRest *
place_once(const MouldRestTask *t, const Progress *progress, double *lack)
{
    RestRow *host = g_new0(RestRow, 1), *guest = t->fixed->guest ? g_new0(RestRow, 1) : NULL;
    Best best = {.lack = INFINITY};
    start_rest(host, t, FALSE, progress);
    if (guest)
        start_rest(guest, t, TRUE, progress);
    guint guess = t->most > 0 ? t->most : t->n_locked + 2;
    MouldPour pour = mould_pour_sizes(host->wish, guess * host->wish->cavity_volume, (int)guess, 2,
                                      fmin(host->wish->box_x, host->wish->box_y));
    set_needed(&best, NULL, &pour);
    for (int round = 0; round < ROUNDS && !progress_stopped(progress); round++) {
        g_clear_pointer(&best.rest, mould_rest_free);
        best.lack = best.flasks = best.cost = INFINITY;
        rest_row_size(host, best.needed, best.past);
        if (guest)
            rest_row_size(guest, best.needed, best.past);
        for (int axis = 0; axis < 2; axis++)
            if (t->axis < 0 || t->axis == axis)
                try_axis(host, guest, axis, &best);
        // The gating is sized for what is placed now: there has to be room for it.
        if (best.rest && best.needed.runner <= SPARE * host->kept.runner &&
            best.needed.sprue <= SPARE * host->kept.sprue)
            break;
    }
    rest_row_clear(host);
    g_free(host);
    if (guest)
        rest_row_clear(guest);
    g_free(guest);
    if (progress_stopped(progress))
        g_clear_pointer(&best.rest, mould_rest_free);
    *lack = best.lack;
    return best.rest;
}

// More metal takes a larger sprue, for which locked ones may leave no room: then fewer.
MouldRest *
mould_rest_place(const MouldRestTask *task, const Progress *progress)
{
    g_return_val_if_fail(task != NULL && task->fixed != NULL, NULL);
    g_return_val_if_fail(task->locked || task->n_locked == 0, NULL);
    MouldRestTask t = *task;
    double lack;
    MouldRest *best = place_once(&t, progress, &lack);
    for (int i = 0; i < MOST_FEWER && best && lack > LEAST_LACK; i++) {
        double least;
        t.most = best->spots->len - 1;
        if (t.most <= t.n_locked)
            break;
        MouldRest *fewer = place_once(&t, progress, &least);
        gboolean better = fewer && least < lack - LEAST_LACK;
        mould_rest_free(better ? best : fewer);
        best = better ? fewer : best;
        lack = better ? least : lack;
        if (!better)
            break;
    }
    return best;
}
