// SPDX-License-Identifier: GPL-3.0-or-later
// Rows along a runner, filled from one end round what is locked.
//
// A side of the runner is seen from the runner: u along it, v away from it, so that the row at -v
// is the one at +v turned by half. What one casting takes from another is a stretch of u, exact for
// their outlines with risers and gates, when each is kept from ever passing the other.
#include "mould/rest-row.h"

#include <math.h>

#include "solid/outline.h"

#define CLEAR 1e-7 // m

// A row on one side of a line.
typedef struct {
    RestSide at;
    double push;         // m, further away than `front`
    SolidOutline **near; // what stands on this side with its gates, seen from the runner, at u = 0
    SolidOutline **far;  // and on the other
    double *near_u, *far_u;
    guint n_near, n_far;
} Side;

typedef struct {
    int way;
    double u;
} Put;

void
rest_row_clear(RestRow *r)
{
    for (int i = 0; i < REST_WAYS; i++) {
        g_clear_pointer(&r->ways[i].plain, solid_outline_unref);
        g_clear_pointer(&r->ways[i].whole, solid_outline_unref);
    }
}

static double
sand_of(const RestRow *r)
{
    return r->wish->cover_between + 2 * (REST_SIMPLER + r->margin);
}

static double
turn_of(const RestRow *r, int way)
{
    return mould_place_turn(r->wish, way % r->n_ways) + (way >= r->n_ways) * G_PI;
}

// Ways whose gate goes past the riser are left out where others bring it into the riser, and those
// with a neck that is too thin where others have a good one.
static void
reach_ways(RestRow *r)
{
    gboolean hot = FALSE, neck = FALSE;
#pragma omp parallel for schedule(dynamic)
    for (int i = 0; i < 2 * r->n_ways; i++) {
        MouldBeside beside = mould_place_beside(r->wish);
        r->ways[i].stance = mould_stance_reach(r->own->shadow, r->own->skin, turn_of(r, i),
                                               &beside);
    }
    for (int i = 0; i < r->n_ways; i++)
        hot |= r->ways[i].stance.hot;
    for (int i = 0; i < r->n_ways; i++)
        neck |= mould_place_has_neck(r->wish, turn_of(r, i));
    for (int i = 0; i < 2 * r->n_ways; i++)
        r->ways[i].barred = (hot && !r->ways[i].stance.hot) ||
                            (neck && !mould_place_has_neck(r->wish, turn_of(r, i)));
}

static void
make_ways(RestRow *r, double front)
{
    rest_row_clear(r);
    r->front = front;
    reach_ways(r);
#pragma omp parallel for schedule(dynamic)
    for (int i = 0; i < 2 * r->n_ways; i++) {
        RestWay *w = &r->ways[i];
        if (w->barred)
            continue;
        w->front = front;
        w->attach = w->stance.attach_u;
        double v = front + w->stance.front;
        w->plain = rest_shape_outline(r->own, &w->stance, 0, v, NAN);
        // Rows that stand further away have that much more of a gate.
        w->whole = rest_shape_outline(r->own, &w->stance, 0, v, r->kept.runner - r->kept.sprue);
    }
#pragma omp parallel for schedule(dynamic)
    for (int i = 0; i < 2 * r->n_ways; i++) {
        const RestWay *a = &r->ways[i], *b = &r->ways[(i + r->n_ways) % (2 * r->n_ways)];
        if (a->barred)
            continue;
        r->shift[i][0] = mould_stance_shift(a->whole, a->whole, sand_of(r));
        if (!b->barred)
            r->shift[i][1] = mould_stance_shift(a->whole, b->whole, sand_of(r));
    }
}

// Where u may be so that a way stands inside the walls.
static RestStretch
find_room(const RestRow *r, const Side *s, const RestWay *w)
{
    double share = mould_place_share(&r->own->wish) + REST_SIMPLER + r->margin;
    RestStretch gate = {w->attach - r->past, w->attach + r->past};
    return rest_stretch_room(r->wish, share, s->at, w->whole, s->push, gate);
}

// Stretches of u that locked ones take from a way.
static GArray *
list_bans(const RestRow *r, const Side *s, const RestWay *w)
{
    GArray *bans = g_array_new(FALSE, FALSE, sizeof(RestStretch));
    void (*take)(GArray *, const SolidOutline *, double, const SolidOutline *, double);
    // Of mixtures there are many, and all stand square: their boxes will do.
    take = r->task->fixed->guest ? rest_stretch_ban_box : rest_stretch_ban;
    for (guint i = 0; i < s->n_near; i++)
        take(bans, s->near[i], s->near_u[i], w->whole, sand_of(r));
    for (guint i = 0; i < s->n_far; i++)
        take(bans, s->far[i], s->far_u[i], w->plain, sand_of(r));
    return bans;
}

// A side filled with `way`, every second turned by half when asked. An array of Put.
static GArray *
fill_side(const RestRow *r, const Side *s, int way, gboolean alternate, guint most)
{
    GArray *puts = g_array_new(FALSE, FALSE, sizeof(Put));
    int ways[2] = {way, alternate ? (way + r->n_ways) % (2 * r->n_ways) : way};
    RestStretch room[2];
    GArray *bans[2];
    for (int i = 0; i < 2; i++) {
        room[i] = find_room(r, s, &r->ways[ways[i]]);
        bans[i] = room[i].low <= room[i].high ? list_bans(r, s, &r->ways[ways[i]]) : NULL;
    }
    while (puts->len < most && bans[0] && bans[1]) {
        int k = puts->len % 2;
        double u = room[k].low;
        for (guint i = 0; i < puts->len; i++) {
            const Put *p = &g_array_index(puts, Put, i);
            u = fmax(u, p->u + r->shift[p->way][p->way != ways[k]]);
        }
        u = rest_stretch_pass(bans[k], u);
        if (u > room[k].high + 1e-12)
            break;
        Put put = {ways[k], u};
        g_array_append_val(puts, put);
    }
    // In the middle, where nothing is in the way.
    if (puts->len > 0 && s->n_near == 0 && !r->task->fixed->guest) {
        const Put *last = &g_array_index(puts, Put, puts->len - 1);
        double slack = INFINITY;
        for (guint i = 0; i < puts->len; i++)
            slack = fmin(slack, room[i % 2].high - g_array_index(puts, Put, i).u);
        slack = last->u + slack > last->u ? slack / 2 : 0;
        for (guint i = 0; i < puts->len; i++)
            g_array_index(puts, Put, i).u += slack;
    }
    for (int i = 0; i < 2; i++)
        if (bans[i])
            g_array_unref(bans[i]);
    return puts;
}

static void
set_side(const RestRow *r, RestSide at, double push, const GArray *there, Side *s)
{
    *s = (Side){.at = at, .push = push};
    s->near = g_new0(SolidOutline *, there->len + 1);
    s->far = g_new0(SolidOutline *, there->len + 1);
    s->near_u = g_new0(double, there->len + 1);
    s->far_u = g_new0(double, there->len + 1);
    for (guint i = 0; i < there->len; i++) {
        const PlacementSpot *p = &g_array_index(there, PlacementSpot, i);
        const MouldFixed *fixed = mould_fixed_of(r->task->fixed, p->guest);
        RestSeen seen = rest_shape_seen(fixed, p, at);
        gboolean here = seen.v > 0;
        double away = fabs(seen.v);
        g_autoptr(SolidOutline) o = rest_shape_outline(
            fixed, &seen.stance, 0, here ? away - push : away + push, here ? -push : NAN);
        if (here) {
            s->near_u[s->n_near] = seen.u;
            s->near[s->n_near++] = g_steal_pointer(&o);
            continue;
        }
        s->far_u[s->n_far] = seen.u;
        s->far[s->n_far++] = mould_stance_turned(o, G_PI);
    }
}

static void
clear_side(Side *s)
{
    for (guint i = 0; i < s->n_near; i++)
        solid_outline_unref(s->near[i]);
    for (guint i = 0; i < s->n_far; i++)
        solid_outline_unref(s->far[i]);
    g_free(s->near);
    g_free(s->far);
    g_free(s->near_u);
    g_free(s->far_u);
}

// The best filling of a side; of equals the first way, square ones before odd angles. NULL when
// stopped.
static GArray *
fill_best(const RestRow *r, const Side *s, guint most)
{
    GArray **all = g_new0(GArray *, 2 * r->n_ways * 2);
    // Ways of a whole turn have those turned by half among them.
    int n = r->n_ways > 1 ? 2 * r->n_ways : 4;
    // In a row of every second turned by half both have to do.
#pragma omp parallel for schedule(dynamic)
    for (int i = 0; i < n; i++)
        if (!progress_stopped(r->progress) && !r->ways[i / 2].barred &&
            !(i % 2 && r->ways[(i / 2 + r->n_ways) % (2 * r->n_ways)].barred))
            all[i] = fill_side(r, s, i / 2, i % 2 && r->n_ways > 1, most);
    GArray *best = NULL;
    for (int how = 0; how < 2; how++)
        for (int i = how; i < n; i += 2)
            if (all[i] && (!best || all[i]->len > best->len))
                best = all[i];
    if (best)
        g_array_ref(best);
    for (int i = 0; i < n; i++)
        if (all[i])
            g_array_unref(all[i]);
    g_free(all);
    return best;
}

static void
add_spots(const RestRow *r, const Side *s, const GArray *puts, GArray *spots)
{
    for (guint i = 0; puts && i < puts->len; i++) {
        const Put *p = &g_array_index(puts, Put, i);
        const RestWay *w = &r->ways[p->way];
        double away = w->front + s->push + w->stance.front;
        PlacementSpot spot = rest_shape_spot(s->at, &w->stance, p->u, away, r->guest);
        g_array_append_val(spots, spot);
    }
}

GArray *
rest_row_fill(const RestRow *r, int axis, double v, const GArray *there, guint most,
              const double push[2])
{
    GArray *spots = g_array_copy((GArray *)there);
    for (int side = r->guest ? -1 : 1, k = 0; k < 2 && spots->len < most; k++, side = -side) {
        Side s;
        set_side(r, (RestSide){axis, side, v}, push[side < 0], spots, &s);
        guint left = most - spots->len;
        // Of few the half each, when that is to be had.
        if (k == 0 && r->task->most > 0 && there->len == 0 && !r->guest)
            left = (left + 1) / 2;
        g_autoptr(GArray) puts = fill_best(r, &s, left);
        add_spots(r, &s, puts, spots);
        clear_side(&s);
    }
    return spots;
}

gboolean
rest_row_past_sprue(const RestRow *r, int axis, double v, const GArray *spots, guint first,
                    double sprue_u, double push[2])
{
    double reach = r->kept.sprue + r->wish->cover_runner + r->margin + REST_SIMPLER;
    double most[2] = {0, 0};
    for (guint i = first; i < spots->len; i++) {
        const PlacementSpot *p = &g_array_index(spots, PlacementSpot, i);
        const MouldFixed *fixed = mould_fixed_of(r->task->fixed, p->guest);
        int side = (axis ? -p->x : p->y) < v ? -1 : 1;
        RestSeen seen = rest_shape_seen(fixed, p, (RestSide){axis, side, v});
        double lack = rest_shape_past_sprue(fixed, &seen, side * sprue_u, reach);
        most[side < 0] = fmax(most[side < 0], lack);
    }
    for (int k = 0; k < 2; k++)
        push[k] += most[k];
    return fmax(most[0], most[1]) <= CLEAR;
}

void
rest_row_size(RestRow *r, MouldKept needed, double past)
{
    // Never less than it was: it would go to and fro.
    r->kept.runner = fmax(fmax(r->kept.runner, r->task->least.runner), needed.runner);
    r->kept.sprue = fmax(fmax(r->kept.sprue, r->task->least.sprue), needed.sprue);
    r->past = past;
    make_ways(r, r->kept.runner + r->wish->cover_runner + rest_shape_riser(r->wish) + r->margin);
}
