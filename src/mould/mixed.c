// SPDX-License-Identifier: GPL-3.0-or-later
// The lines a runner may take between two mixed rows, and how many of each kind both rows hold.
#include "mould/mixed.h"

#include <math.h>

#include "mould/build.h"
#include "mould/mixed-row.h"

#define ROUNDS 4                         // the gating's size hardly changes after that
#define LINES (1 + 2 * 2 * MIXED_STANDS) // in the middle; either side, for both kinds
#define NEAR 5e-4                        // m, lines that are as good as one
#define SPARE 1.02                       // for what gating still changes
#define MOST_GUESTS 12u                  // of a side

// What is compared: flasks until all that is wanted is poured, castings in one, and what else
// counts against it.
typedef struct {
    double flasks, cost;
    guint n;
} Worth;

static Worth
worth_of(const MouldRestTask *t, guint hosts, guint guests, double cost)
{
    double flasks = fmax(ceil(fmax(1, t->wanted[0]) / hosts), ceil(fmax(1, t->wanted[1]) / guests));
    if (t->guests > 0) // asked for by number
        flasks = guests == t->guests ? 0 : INFINITY;
    return (Worth){hosts > 0 && guests > 0 ? flasks : INFINITY, cost, hosts + guests};
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

static void
add_line(const MixedRows *m, double lines[LINES], int *n, int axis, double v)
{
    const MouldWish *wish = &m->fixed->wish;
    double wide = wish->round || axis ? wish->length : wish->width;
    if (!(fabs(v) + m->half + wish->cover_wall <= wide / 2) || *n >= LINES)
        return;
    for (int i = 0; i < *n; i++)
        if (fabs(lines[i] - v) < NEAR)
            return;
    lines[(*n)++] = v;
}

// Through the sprue where it is given; else in the middle, and so that a row of either kind, as it
// stands best, just fits between the runner and a wall.
static int
list_lines(const MixedRows *m, const MouldRestTask *t, int axis, double lines[LINES])
{
    const MouldWish *wish = &m->fixed->wish;
    int n = 0;
    double given = axis ? -t->sprue_x : t->sprue_y;
    add_line(m, lines, &n, axis, isnan(given) ? 0 : given);
    double room = (wish->round || axis ? wish->length : wish->width) / 2 - wish->cover_wall;
    for (int kind = 0; kind < 2 && isnan(given); kind++)
        for (int i = 0; i < MIN(m->n[kind], MIXED_STANDS); i++) {
            const MixedPiece *p = &m->pieces[kind][i];
            double off = room - m->half - p->front - p->stance.front - p->stance.back - 4 * NEAR;
            add_line(m, lines, &n, axis, off);
            add_line(m, lines, &n, axis, -off);
        }
    return n;
}

// Two rows, with at most so many castings in all: what is too much is left out at the ends.
static GArray *
make_spots(const MixedRows *m, int axis, double v, const MixedRow *const rows[2], guint most)
{
    GArray *spots = g_array_new(FALSE, TRUE, sizeof(PlacementSpot));
    guint guests = rows[0]->guests + rows[1]->guests, left = most - MIN(most, guests);
    guint hosts[2] = {rows[0]->n - rows[0]->guests, rows[1]->n - rows[1]->guests};
    guint first = MIN(hosts[0], MAX((left + 1) / 2, left - MIN(left, hosts[1])));
    hosts[1] = MIN(hosts[1], left - MIN(left, first));
    hosts[0] = MIN(hosts[0], first);
    MouldWay frame = {.axis = axis};
    for (int kind = 0; kind < 2; kind++)
        for (int k = 0; k < 2; k++) {
            int side = k ? -1 : 1;
            guint from = kind ? 0 : rows[k]->guests;
            guint to = kind ? rows[k]->guests : from + hosts[k];
            for (guint i = from; i < to; i++) {
                const MixedPut *put = &rows[k]->put[i];
                const MixedPiece *p = &m->pieces[put->kind][put->piece];
                SolidPoint at = mould_place_point(
                    &frame, side * put->u, v + side * (m->half + p->front + p->stance.front));
                double turn = p->stance.turn + axis * G_PI / 2 + (side < 0 ? G_PI : 0);
                PlacementSpot spot = {at.x, at.y, remainder(turn, 2 * G_PI), FALSE, kind == 1};
                g_array_append_val(spots, spot);
            }
        }
    return spots;
}

// How a layout of these is built: its worth, and the gating's sizes. FALSE when a gate misses.
static gboolean
judge(const MouldRestTask *t, const MouldRest *rest, Worth *worth, MouldPour *pour)
{
    g_autoptr(MouldLayout) l = mould_layout_new();
    l->length = t->fixed->wish.length;
    l->width = t->fixed->wish.width;
    mould_fixed_build(l, t->fixed, (const PlacementSpot *)(gconstpointer)rest->spots->data,
                      rest->spots->len, rest->sprue_x, rest->sprue_y, rest->axis, pour);
    *worth = worth_of(t, l->n_cavities - l->n_guests, l->n_guests, l->metal_volume);
    return l->gates_missing == 0;
}

static MouldRest *
make_rest(const MixedRows *m, const MouldRestTask *t, int axis, double v,
          const MixedRow *const rows[2], guint most)
{
    MouldRest *rest = g_new0(MouldRest, 1);
    *rest = (MouldRest){.spots = make_spots(m, axis, v, rows, most),
                        .axis = axis,
                        .sprue_x = t->sprue_x,
                        .sprue_y = t->sprue_y,
                        .kept = {m->half, m->half}};
    if (axis && isnan(rest->sprue_x))
        rest->sprue_x = -v;
    if (!axis && isnan(rest->sprue_y))
        rest->sprue_y = v;
    return rest;
}

// The numbers of guests on both sides of a line that are worth most, built.
static MouldRest *
try_line(const MixedRows *m, const MouldRestTask *t, int axis, double v)
{
    guint most = t->most > 0 ? t->most : PLACEMENT_MOST;
    guint guests = MIN(MOST_GUESTS, t->guests > 0 ? t->guests : most);
    g_autofree MixedRow *up = g_new(MixedRow, guests + 1), *down = g_new(MixedRow, guests + 1);
    mixed_rows_fill(m, axis, 1, v, guests, up);
    mixed_rows_fill(m, axis, -1, v, guests, down);
    Worth best = {INFINITY, INFINITY, 0};
    const MixedRow *rows[2] = {NULL, NULL};
    for (guint i = 0; i <= guests; i++)
        for (guint k = 0; k <= guests && i + k < most; k++) {
            if (up[i].guests < i || down[k].guests < k)
                continue;
            guint hosts = MIN(up[i].n + down[k].n - i - k, most - i - k);
            // Of equals the more even: its arms fill alike.
            double uneven = fabs((double)up[i].n - down[k].n);
            Worth here = worth_of(t, hosts, i + k, 1 + uneven);
            if (isinf(here.flasks) || !is_better(&here, &best))
                continue;
            best = here;
            rows[0] = &up[i];
            rows[1] = &down[k];
        }
    return rows[0] ? make_rest(m, t, axis, v, rows, most) : NULL;
}

static MouldRest *
place_once(const MixedRows *m, const MouldRestTask *t, const Worth *least, MouldPour *pour,
           const Progress *progress)
{
    MouldRest *best = NULL;
    Worth most = *least;
    for (int axis = 0; axis < 2; axis++) {
        double lines[LINES];
        int n = t->axis < 0 || t->axis == axis ? list_lines(m, t, axis, lines) : 0;
        for (int i = 0; i < n && !progress_stopped(progress); i++) {
            MouldRest *rest = try_line(m, t, axis, lines[i]);
            Worth worth;
            MouldPour sizes;
            if (!rest || !judge(t, rest, &worth, &sizes) || !is_better(&worth, &most)) {
                mould_rest_free(rest);
                continue;
            }
            mould_rest_free(best);
            best = rest;
            most = worth;
            *pour = sizes;
        }
    }
    return best;
}

static double
half_of(const MouldPour *pour)
{
    return SPARE * fmax(pour->runner, fmax(pour->well, pour->sprue_top)) / 2;
}

MouldRest *
mould_mixed_place(const MouldRestTask *t, const MouldRest *rest, const Progress *progress)
{
    g_return_val_if_fail(t != NULL && t->fixed->guest != NULL && t->n_locked == 0, NULL);
    const MouldWish *wish = &t->fixed->wish;
    Worth least = {INFINITY, INFINITY, 0};
    MouldPour pour = mould_pour_sizes(wish, 2 * wish->cavity_volume, 2, 2,
                                      fmin(wish->box_x, wish->box_y));
    if (rest)
        judge(t, rest, &least, &pour);
    least.cost = 0; // it has to be more castings, or fewer flasks
    g_autofree MixedRows *rows = g_new0(MixedRows, 1);
    mixed_rows_init(rows, t->fixed);
    rows->half = fmax(t->least.sprue, half_of(&pour));
    MouldRest *best = NULL;
    for (int round = 0; round < ROUNDS && !progress_stopped(progress); round++) {
        g_clear_pointer(&best, mould_rest_free);
        rows->past = SPARE * (pour.gate_width / 2 + pour.runner);
        best = place_once(rows, t, &least, &pour, progress);
        // The gating is sized for what is placed now: there has to be room for it.
        if (!best || half_of(&pour) <= rows->half)
            break;
        rows->half = half_of(&pour);
    }
    mixed_rows_clear(rows);
    if (progress_stopped(progress))
        g_clear_pointer(&best, mould_rest_free);
    return best;
}
