// SPDX-License-Identifier: GPL-3.0-or-later
// Rows with every second casting turned by half.
#include "mould/alternate.h"

#include <math.h>

#include "mould/build.h"

#define ROUNDS 3   // the gating's size hardly changes after that
#define SPARE 1.02 // for what it still changes
#define MOST_COLUMNS 64

static MouldRow
row_of(const MouldWish *wish, const MouldBeside *beside)
{
    return (MouldRow){wish->riser_diameter, 0.5 * wish->neck, wish->cover_between, beside};
}

MouldPair
mould_alternate_pair(const MouldFixed *fixed, double turn)
{
    MouldPair pair;
    MouldBeside beside = mould_place_beside(&fixed->wish);
    MouldRow row = row_of(&fixed->wish, &beside);
    SolidOutline *whole[2];
    for (int i = 0; i < 2; i++) {
        pair.stance[i] = mould_stance(fixed->shadow, fixed->skin, turn + i * G_PI, &row);
        whole[i] = mould_stance_whole(fixed->shadow, &pair.stance[i], &row);
    }
    double aside = pair.stance[1].attach_u - pair.stance[0].attach_u;
    pair.there = mould_stance_shift(whole[0], whole[1], mould_stance_sand(&row)) + aside;
    pair.back = mould_stance_shift(whole[1], whole[0], mould_stance_sand(&row)) - aside;
    // Neighbours but one are alike.
    double alike = fmax(pair.stance[0].pitch, pair.stance[1].pitch);
    double lack = fmax(0, alike - pair.there - pair.back);
    pair.there += lack / 2;
    pair.back += lack / 2;
    // Turned by half about its gates, a row has its distances the other way round.
    pair.both = fmax(fmax(pair.there, pair.back), alike / 2);
    for (int i = 0; i < 2; i++)
        solid_outline_unref(whole[i]);
    return pair;
}

// Reach along the runner from the gate of one piece; way -1 to the left.
static double
reach(const MouldWish *wish, const MouldStance *s, int rows, int way)
{
    double left = fmax(s->left + s->attach_u, wish->riser_diameter / 2);
    double right = fmax(s->right - s->attach_u, wish->riser_diameter / 2);
    return rows == 2 ? fmax(left, right) : way < 0 ? left : right;
}

typedef struct {
    int axis, rows, columns;
    double there, back;       // from gate to gate
    double low, high;         // u of both ends, with the first gate at 0
    double runner_v, front_v; // of the runner; of the castings' front from it
} Plan;

static double
offset_of(const Plan *p, int column)
{
    return column / 2 * (p->there + p->back) + column % 2 * p->there;
}

// As many columns as fit; FALSE if none.
static gboolean
fit_rows(const MouldWish *wish, const MouldPair *pair, const MouldPour *pour, Plan *p)
{
    double share = mould_place_share(wish);
    double room_u = (p->axis ? wish->width : wish->length) - 2 * share;
    double room_v = (p->axis ? wish->length : wish->width) - 2 * share;
    double half = SPARE * fmax(pour->runner, fmax(pour->well, pour->sprue_top)) / 2;
    double past = SPARE * (pour->gate_width / 2 + pour->runner);
    double riser = wish->riser_diameter > 0 ? wish->riser_diameter + 0.5 * wish->neck : 0;
    double deep = fmax(pair->stance[0].front + pair->stance[0].back,
                       pair->stance[1].front + pair->stance[1].back);
    double row = half + wish->cover_runner + riser + deep;
    if ((p->rows == 2 ? 2 * row : half + row) > room_v)
        return FALSE;
    p->front_v = half + wish->cover_runner + riser;
    p->runner_v = p->rows == 2 ? 0 : (half - row) / 2;
    p->there = p->rows == 2 ? pair->both : pair->there;
    p->back = p->rows == 2 ? pair->both : pair->back;
    int most = wish->most > 0 ? MIN(MOST_COLUMNS, wish->most / p->rows) : MOST_COLUMNS;
    for (p->columns = most; p->columns >= 2; p->columns--) {
        double last = offset_of(p, p->columns - 1);
        int end = (p->columns - 1) % 2, before = 1 - end;
        p->low = -fmax(past, fmax(reach(wish, &pair->stance[0], p->rows, -1),
                                  reach(wish, &pair->stance[1], p->rows, -1) - p->there));
        double step = end ? p->there : p->back;
        p->high = last + fmax(past, fmax(reach(wish, &pair->stance[end], p->rows, 1),
                                         reach(wish, &pair->stance[before], p->rows, 1) - step));
        if (p->high - p->low <= room_u)
            return TRUE;
    }
    return FALSE;
}

static GArray *
list_spots(const MouldPair *pair, double turn, const Plan *p)
{
    GArray *spots = g_array_new(FALSE, TRUE, sizeof(PlacementSpot));
    MouldWay way = {.axis = p->axis};
    for (int row = 0; row < p->rows; row++)
        for (int i = 0; i < p->columns; i++) {
            int side = row == 0 ? 1 : -1;
            const MouldStance *s = &pair->stance[i % 2];
            double gate = offset_of(p, i) - (p->low + p->high) / 2;
            SolidPoint at = mould_place_point(&way, gate - side * s->attach_u,
                                              p->runner_v + side * (p->front_v + s->front));
            double whole = turn + p->axis * G_PI / 2 + (i % 2 + (side < 0)) * G_PI;
            PlacementSpot spot = {at.x, at.y, whole, FALSE};
            g_array_append_val(spots, spot);
        }
    return spots;
}

static void
find_sprue(const Plan *p, double *x, double *y)
{
    *x = p->axis ? -p->runner_v : NAN;
    *y = p->axis ? NAN : p->runner_v;
}

// Rows and gating until both agree.
static GArray *
solve(const MouldFixed *fixed, const MouldPair *pair, double turn, Plan *p)
{
    const MouldWish *wish = &fixed->wish;
    double width = pair->stance[0].left + pair->stance[0].right;
    if (pair->stance[0].hot)
        width = wish->own.diameter;
    double side = wish->riser_diameter > 0 ? wish->riser_diameter : width;
    MouldPour pour = mould_pour_sizes(wish, 2 * p->rows * wish->cavity_volume, 2 * p->rows, 2,
                                      side);
    g_autoptr(GArray) spots = NULL;
    for (int i = 0; i < ROUNDS; i++) {
        if (!fit_rows(wish, pair, &pour, p))
            return NULL;
        g_clear_pointer(&spots, g_array_unref);
        spots = list_spots(pair, turn, p);
        g_autoptr(MouldLayout) l = mould_layout_new();
        double x, y;
        find_sprue(p, &x, &y);
        mould_fixed_build(l, fixed, (PlacementSpot *)spots->data, spots->len, x, y, p->axis, &pour);
        if (l->gates_missing > 0)
            return NULL;
    }
    return g_steal_pointer(&spots);
}

GArray *
mould_alternate_search(const MouldFixed *fixed, guint least, int *axis, double *sprue_x,
                       double *sprue_y)
{
    g_return_val_if_fail(fixed != NULL, NULL);
    const MouldWish *wish = &fixed->wish;
    g_autoptr(GArray) best = NULL;
    for (int i = 0; i < wish->n_stances && !wish->round && wish->n_stances > 1; i++) {
        double turn = wish->stances[i].turn;
        if (turn >= G_PI - 1e-9) // the same row from its other end
            continue;
        MouldPair pair = mould_alternate_pair(fixed, turn);
        // Where rows can have hot risers, every second would have a cold one.
        if (wish->own.beside && pair.stance[0].hot != pair.stance[1].hot)
            continue;
        for (int how = 0; how < 4; how++) {
            Plan p = {.axis = how & 1, .rows = 1 + (how >> 1)};
            g_autoptr(GArray) spots = solve(fixed, &pair, turn, &p);
            if (!spots || spots->len <= (best ? best->len : least))
                continue;
            g_clear_pointer(&best, g_array_unref);
            best = g_steal_pointer(&spots);
            *axis = p.axis;
            find_sprue(&p, sprue_x, sprue_y);
        }
    }
    return g_steal_pointer(&best);
}
