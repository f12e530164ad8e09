// SPDX-License-Identifier: GPL-3.0-or-later
// The lines a runner may take between two mixed rows, and how many of each kind both rows hold.
#include "mould/mixed.h"

#include <math.h>

#include "mould/mixed-row.h"
#include "mould/rest-line.h"

#define ROUNDS 4        // the gating's size hardly changes after that
#define NEAR 5e-4       // m, lines that are as good as one
#define SPARE 1.02      // for what gating still changes
#define MOST_GUESTS 12u // of a side
#define FEW_STANDS 2    // of a kind for which lines are tried where something is locked
#define LEAST_LACK 1e-6 // m

// What is compared: flasks until all that is wanted is poured, castings in one, and what else
// counts against it.
typedef struct {
    double flasks, cost;
    guint n;
} Worth;

static Worth
worth_of(const MouldRestTask *t, guint hosts, guint guests, double cost)
{
    double flasks = hosts > 0 && guests > 0 ? mould_rest_flasks(t, hosts, guests) : INFINITY;
    return (Worth){flasks, cost, hosts + guests};
}

static gboolean
is_better(const Worth *a, const Worth *b)
{
    if (a->flasks != b->flasks)
        return a->flasks < b->flasks;
    if (a->n != b->n)
        return a->n > b->n;
    return a->cost < b->cost * (1 - 1e-9);
}

// Through the sprue where it is given; else in the middle, so that a row of either kind, as it
// stands best, just fits between the runner and a wall, and past what is locked.
static void
list_lines(const MixedRows *m, RestLines *lines)
{
    const MouldWish *wish = &m->fixed->wish;
    if (rest_line_add_given(lines))
        return;
    rest_line_add(lines, 0);
    double room = (wish->round || lines->axis ? wish->length : wish->width) / 2 - wish->cover_wall;
    int stands = m->task->n_locked > 0 ? FEW_STANDS : MIXED_STANDS;
    for (int kind = 0; kind < 2; kind++)
        for (int i = 0; i < MIN(m->n[kind], stands); i++) {
            const MixedPiece *p = &m->pieces[kind][i];
            double off = room - lines->kept - p->front - p->stance.front - p->stance.back -
                         4 * NEAR;
            rest_line_add(lines, off);
            rest_line_add(lines, -off);
        }
    rest_line_add_locked(lines);
}

// How many castings may stand besides the locked ones, and how many of those may be guests.
static guint
count_left(const MouldRestTask *t, guint *guests)
{
    guint there = rest_shape_guests(t->locked, t->n_locked);
    guint most = t->most > 0 ? t->most : PLACEMENT_MOST, left = most - MIN(most, t->n_locked);
    *guests = MIN(left, t->guests > 0 ? t->guests - MIN(t->guests, there) : left);
    return left;
}

static void
add_locked(const MouldRestTask *t, gboolean guest, GArray *spots)
{
    for (guint i = 0; i < t->n_locked; i++)
        if (!t->locked[i].guest == !guest)
            g_array_append_val(spots, t->locked[i]);
}

// What is locked and two rows; of the rows what is too much is left out at the ends. Guests last.
static GArray *
make_spots(const MixedRows *m, const MixedLine *line, const MixedRow *const rows[2])
{
    GArray *spots = g_array_new(FALSE, TRUE, sizeof(PlacementSpot));
    guint guests, left = count_left(m->task, &guests) - rows[0]->guests - rows[1]->guests;
    guint hosts[2] = {rows[0]->n - rows[0]->guests, rows[1]->n - rows[1]->guests};
    guint first = MIN(hosts[0], MAX((left + 1) / 2, left - MIN(left, hosts[1])));
    hosts[1] = MIN(hosts[1], left - MIN(left, first));
    hosts[0] = MIN(hosts[0], first);
    for (int kind = 0; kind < 2; kind++) {
        add_locked(m->task, kind == 1, spots);
        for (int k = 0; k < 2; k++) {
            RestSide side = {line->axis, k ? -1 : 1, line->v};
            guint from = kind ? 0 : rows[k]->guests;
            guint to = kind ? rows[k]->guests : from + hosts[k];
            for (guint i = from; i < to; i++) {
                const MixedPut *put = &rows[k]->put[i];
                const MixedPiece *p = &m->pieces[put->kind][put->piece];
                double away = line->half + p->front + p->stance.front;
                PlacementSpot spot = rest_shape_spot(side, &p->stance, put->u, away, kind == 1);
                g_array_append_val(spots, spot);
            }
        }
    }
    return spots;
}

// Do all stand the sand away from the sprue, which takes `least` (m), and for those that may still
// be moved `kept`?
static gboolean
is_past_sprue(const MouldRestTask *t, const GArray *spots, const MouldLayout *l, double least,
              double kept)
{
    double v = l->axis ? -l->sprue_x : l->sprue_y, u = l->axis ? l->sprue_y : l->sprue_x;
    for (guint i = 0; i < spots->len; i++) {
        const PlacementSpot *p = &g_array_index(spots, PlacementSpot, i);
        const MouldFixed *own = mould_fixed_of(t->fixed, p->guest);
        RestSide side = {l->axis, (l->axis ? -p->x : p->y) < v ? -1 : 1, v};
        RestSeen seen = rest_shape_seen(own, p, side);
        double reach = (p->locked ? least : kept) + own->wish.cover_runner + rest_shape_margin(own);
        if (rest_shape_past_sprue(own, &seen, side.side * u, reach) > LEAST_LACK)
            return FALSE;
    }
    return TRUE;
}

// What is known of a layout once it is drawn.
typedef struct {
    Worth worth;
    MouldKept needed; // a little more than its gating takes
    MouldKept room;   // what there is for that
    double past;      // m, of its runner beyond the last gate
} Drawn;

static void
set_needed(Drawn *d, const MouldLayout *l, const MouldPour *pour)
{
    d->needed = mould_kept_of(l, pour, SPARE);
    d->past = SPARE * (pour->gate_width / 2 + pour->runner);
}

// FALSE when a gate misses or the gating takes sand that castings need.
static gboolean
draw(const MouldRestTask *t, const MouldRest *rest, Drawn *d)
{
    MouldPour pour;
    g_autoptr(MouldLayout) l = mould_rest_build(t->fixed, rest->spots, rest->axis, rest->sprue_x,
                                                rest->sprue_y, &pour);
    d->worth = worth_of(t, l->n_cavities - l->n_guests, l->n_guests, l->metal_volume);
    set_needed(d, l, &pour);
    MouldKept least = mould_kept_of(l, &pour, 1);
    double room = rest_line_room(t, l->axis, l->axis ? -l->sprue_x : l->sprue_y);
    if (l->gates_missing > 0 || room < least.runner - LEAST_LACK ||
        !is_past_sprue(t, rest->spots, l, least.sprue, rest->kept.sprue))
        return FALSE;
    d->room.runner = fmin(rest->kept.runner, fmax(room, least.runner));
    d->room.sprue = fmin(rest->kept.sprue, fmax(room, least.sprue));
    return TRUE;
}

static MouldRest *
make_rest(const MixedRows *m, const MixedLine *line, double sprue, const MixedRow *const rows[2])
{
    MouldRest *rest = g_new0(MouldRest, 1);
    *rest = (MouldRest){.spots = make_spots(m, line, rows),
                        .axis = line->axis,
                        .kept = {line->half, fmax(line->half, sprue)}};
    rest_line_sprue(m->task, line->axis, line->v, &rest->sprue_x, &rest->sprue_y);
    return rest;
}

// The numbers of guests on both sides of a line that are worth most, with room for the sprue
// (m).
static MouldRest *
fill_line(const MixedRows *m, const MixedLine *line, double sprue)
{
    const MouldRestTask *t = m->task;
    guint there = rest_shape_guests(t->locked, t->n_locked), wanted;
    guint left = count_left(t, &wanted), guests = MIN(MOST_GUESTS, wanted);
    g_autofree MixedRow *up = g_new(MixedRow, guests + 1), *down = g_new(MixedRow, guests + 1);
    mixed_rows_fill(m, line, 1, guests, up);
    mixed_rows_fill(m, line, -1, guests, down);
    Worth best = {INFINITY, INFINITY, 0};
    const MixedRow *rows[2] = {NULL, NULL};
    for (guint i = 0; i <= guests; i++)
        for (guint k = 0; k <= guests && i + k <= wanted; k++) {
            if (up[i].guests < i || down[k].guests < k)
                continue;
            guint hosts = MIN(up[i].n + down[k].n - i - k, left - i - k);
            // Of equals the more even: its arms fill alike.
            double uneven = fabs((double)up[i].n - down[k].n);
            Worth here = worth_of(t, t->n_locked - there + hosts, there + i + k, 1 + uneven);
            if (hosts + i + k == 0 || isinf(here.flasks) || !is_better(&here, &best))
                continue;
            best = here;
            rows[0] = &up[i];
            rows[1] = &down[k];
        }
    return rows[0] ? make_rest(m, line, sprue, rows) : NULL;
}

// The search so far.
typedef struct {
    const MouldRestTask *task;
    MixedRows *rows;
    MouldKept kept;  // for the gating, for now
    MouldRest *best; // whose gating needs no more than was kept for it
    Worth worth;     // its worth, or what has to be surpassed
    Drawn more;      // what would be better, but with a larger gating
} Search;

static void
try_line(Search *s, const MixedLine *line)
{
    g_autoptr(MouldRest) rest = fill_line(s->rows, line, s->kept.sprue);
    Drawn here;
    if (!rest || !draw(s->task, rest, &here) || !is_better(&here.worth, &s->worth))
        return;
    if (here.needed.runner <= SPARE * rest->kept.runner &&
        here.needed.sprue <= SPARE * rest->kept.sprue) {
        mould_rest_free(s->best);
        s->best = g_steal_pointer(&rest);
        s->best->kept = here.room;
        s->worth = here.worth;
    } else if (is_better(&here.worth, &s->more.worth))
        s->more = here;
}

// Rows `half` (m) from all lines; and as far as locked ones stand, with which they then align.
static void
try_lines(Search *s, int axis, double half, const Progress *progress)
{
    RestLines lines = {.task = s->task, .axis = axis, .kept = half, .near = NEAR};
    list_lines(s->rows, &lines);
    for (int i = 0; i < lines.n && !progress_stopped(progress); i++) {
        MixedLine line = {axis, lines.v[i], half};
        double room = rest_line_room(s->task, axis, line.v);
        if (room < s->kept.runner / SPARE)
            continue;
        try_line(s, &line);
        line.half = room - REST_SIMPLER;
        if (line.half > half && line.half < 2 * s->kept.sprue)
            try_line(s, &line);
    }
}

// Rows beside the runner, where the sprue leaves the room; and as far away as the sprue asks.
static void
try_axes(Search *s, const Progress *progress)
{
    s->more.worth = (Worth){INFINITY, INFINITY, 0};
    for (int axis = 0; axis < 2; axis++) {
        if (s->task->axis >= 0 && s->task->axis != axis)
            continue;
        try_lines(s, axis, s->kept.runner, progress);
        if (s->kept.sprue > s->kept.runner)
            try_lines(s, axis, s->kept.sprue, progress);
    }
}

static void
keep_for(Search *s, const Drawn *d)
{
    s->kept.runner = fmax(s->kept.runner, d->needed.runner);
    s->kept.sprue = fmax(s->kept.sprue, d->needed.sprue);
    s->rows->past = fmax(s->rows->past, d->past);
}

// What has to be surpassed, nothing without `rest` or where that fails, and room to begin with.
static void
start(Search *s, const MouldRest *rest)
{
    const MouldWish *wish = &s->task->fixed->wish;
    MouldPour pour = mould_pour_sizes(wish, 2 * wish->cavity_volume, 2, 2,
                                      fmin(wish->box_x, wish->box_y));
    Drawn least;
    set_needed(&least, NULL, &pour);
    s->worth = (Worth){INFINITY, INFINITY, 0};
    if (rest && draw(s->task, rest, &least))
        s->worth = (Worth){least.worth.flasks, 0, least.worth.n}; // no cost is low enough
    keep_for(s, &least);
}

MouldRest *
mould_mixed_place(const MouldRestTask *t, const MouldRest *rest, const Progress *progress)
{
    g_return_val_if_fail(t != NULL && t->fixed->guest != NULL, NULL);
    g_return_val_if_fail(t->locked || t->n_locked == 0, NULL);
    g_autofree MixedRows *rows = g_new0(MixedRows, 1);
    Search s = {.task = t, .rows = rows, .kept = t->least};
    mixed_rows_init(rows, t);
    start(&s, rest);
    for (int round = 0; round < ROUNDS && !progress_stopped(progress); round++) {
        try_axes(&s, progress);
        if (!is_better(&s.more.worth, &s.worth))
            break;
        keep_for(&s, &s.more); // the gating is sized for what is placed
    }
    mixed_rows_clear(rows);
    if (progress_stopped(progress))
        g_clear_pointer(&s.best, mould_rest_free);
    return s.best;
}
