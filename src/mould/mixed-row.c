// SPDX-License-Identifier: GPL-3.0-or-later
// Which ways of standing are worth trying, how close they get by their true outlines, and how many
// then stand on a side.
#include "mould/mixed-row.h"

#include <math.h>
#include <stdlib.h>

#include "mould/place.h"

#define MARGIN 6e-5 // m; what simpler outlines and their skins may lie outside

typedef struct {
    double low, high;
} Stretch;

// Castings of a kind in a row: all alike, or every second one turned by half.
typedef struct {
    int first, second; // pieces
} Run;

static double
margin_of(const MouldFixed *own)
{
    return MARGIN + own->out;
}

static double
riser_room(const MouldWish *wish)
{
    return wish->riser_diameter > 0 ? wish->riser_diameter + 0.5 * wish->neck : 0;
}

static MixedPiece
make_piece(const MouldFixed *own, double turn)
{
    const MouldWish *wish = &own->wish;
    MouldRow row = {wish->riser_diameter, 0.5 * wish->neck, wish->cover_between, NULL};
    MixedPiece p = {.stance = mould_stance_reach(own->shadow, own->skin, turn, NULL)};
    p.front = wish->cover_between + riser_room(wish) + margin_of(own);
    p.whole = mould_stance_whole(own->shadow, &p.stance, &row);
    for (guint i = 0; i < p.whole->n_points; i++)
        p.whole->points[i].y += p.front;
    return p;
}

// What a casting takes of a long row of its like, each in turn by half or not.
static double
find_pitch(const MixedPiece *a, const MixedPiece *b, double sand)
{
    double alike = mould_stance_shift(a->whole, a->whole, sand);
    double pair = mould_stance_shift(a->whole, b->whole, sand) +
                  mould_stance_shift(b->whole, a->whole, sand);
    return fmin(alike, fmax(pair, alike) / 2);
}

// A way of standing with the same turned by half.
typedef struct {
    MixedPiece piece[2];
    double pitch;
    int order;
} Stand;

static gboolean
is_barred(const Stand *s)
{
    return s->piece[0].barred && s->piece[1].barred;
}

// Quarter turns as they come, then what takes least of a row; last what is barred both ways round.
static int
compare_stands(const void *a, const void *b)
{
    const Stand *p = a, *q = b;
    if (is_barred(p) != is_barred(q))
        return is_barred(p) - is_barred(q);
    gboolean between_p = p->order >= MOULD_QUARTERS, between_q = q->order >= MOULD_QUARTERS;
    if (between_p != between_q)
        return between_p - between_q;
    if (between_p && p->pitch != q->pitch)
        return p->pitch < q->pitch ? -1 : 1;
    return p->order - q->order;
}

static void
choose_pieces(MixedRows *m, int kind)
{
    const MouldFixed *own = mould_fixed_of(m->fixed, kind == 1);
    const MouldWish *wish = &own->wish;
    int all = MAX(1, wish->n_stances), n = 0;
    gboolean neck = FALSE;
    for (int i = 0; i < all; i++)
        neck |= mould_place_has_neck(wish, mould_place_turn(wish, i));
    g_autofree Stand *stands = g_new0(Stand, all);
#pragma omp parallel for schedule(dynamic)
    for (int i = 0; i < all; i++) {
        Stand *s = &stands[i];
        for (int half = 0; half < 2; half++) {
            double turn = mould_place_turn(wish, i) + half * G_PI;
            s->piece[half] = make_piece(own, turn);
            s->piece[half].barred = neck && !mould_place_has_neck(wish, turn);
        }
        s->pitch = find_pitch(&s->piece[0], &s->piece[1], wish->cover_between);
        s->order = i;
    }
    qsort(stands, (gsize)all, sizeof *stands, compare_stands);
    for (int i = 0; i < all && n < MIXED_STANDS && !is_barred(&stands[i]); i++)
        n++;
    m->n[kind] = n;
    for (int i = 0; i < all; i++)
        for (int half = 0; half < 2; half++) {
            if (i < n)
                m->pieces[kind][i + half * n] = stands[i].piece[half];
            else
                solid_outline_unref(stands[i].piece[half].whole);
        }
}

void
mixed_rows_init(MixedRows *m, const MouldFixed *fixed)
{
    *m = (MixedRows){.fixed = fixed};
    for (int kind = 0; kind < 2; kind++)
        choose_pieces(m, kind);
    double margin[2] = {margin_of(fixed), margin_of(mould_fixed_of(fixed, TRUE))};
#pragma omp parallel for schedule(dynamic)
    for (int at = 0; at < 2 * MIXED_PIECES; at++) {
        int a = at / MIXED_PIECES, i = at % MIXED_PIECES;
        for (int b = 0; b < 2 && i < 2 * m->n[a]; b++)
            for (int k = 0; k < 2 * m->n[b]; k++)
                m->shift[a][i][b][k] = mould_stance_shift(
                    m->pieces[a][i].whole, m->pieces[b][k].whole,
                    fixed->wish.cover_between + margin[a] + margin[b]);
    }
}

void
mixed_rows_clear(MixedRows *m)
{
    for (int kind = 0; kind < 2; kind++)
        for (int i = 0; i < MIXED_PIECES; i++)
            g_clear_pointer(&m->pieces[kind][i].whole, solid_outline_unref);
}

// What sand and lean of a wall take of the flask.
static double
wall_share(const MouldFixed *own)
{
    const MouldWish *wish = &own->wish;
    double high = fmax(wish->above, fmax(wish->riser_height, wish->own.base + wish->own.height));
    return wish->cover_wall / cos(wish->wall_draft) + high * tan(wish->wall_draft) + margin_of(own);
}

// Where u may be so that a piece, and the runner's end at its gate, lie inside the walls; low >
// high when nowhere, as for one that is barred.
static Stretch
find_room(const MixedRows *m, int kind, int piece, int axis, int side, double v)
{
    const MouldFixed *own = mould_fixed_of(m->fixed, kind == 1);
    const MixedPiece *p = &m->pieces[kind][piece];
    const MouldWish *wish = &own->wish;
    double share = wall_share(own), radius = wish->length / 2 - share;
    double long_u = (axis ? wish->width : wish->length) / 2 - share;
    double long_v = (axis ? wish->length : wish->width) / 2 - share;
    const double ends[2] = {p->stance.attach_u - m->past, p->stance.attach_u + m->past};
    if (p->barred)
        return (Stretch){1, 0};
    Stretch room = {-INFINITY, INFINITY};
    guint n = p->whole->n_points - 2; // the gate does not count
    for (guint i = 0; i < n + 2; i++) {
        double u = i < n ? p->whole->points[i].x : ends[i - n];
        double w = side * v + (i < n ? m->half + p->whole->points[i].y : 0), reach = long_u;
        if (wish->round)
            reach = fabs(w) <= radius ? sqrt(radius * radius - w * w) : -1;
        else if (fabs(w) > long_v)
            reach = -1;
        if (reach < 0)
            return (Stretch){1, 0};
        room.low = fmax(room.low, -reach - u);
        room.high = fmin(room.high, reach - u);
    }
    return room;
}

static Run
run_of(const MixedRows *m, int kind, int i)
{
    int n = m->n[kind], a = i / 4 % n, b = a + n;
    const Run runs[4] = {{a, a}, {b, b}, {a, b}, {b, a}};
    return runs[i % 4];
}

// Adds castings of a run until there are `most` of them or no room is left; returns how many.
static guint
add_run(const MixedRows *m, const Stretch room[2][MIXED_PIECES], int kind, Run run, guint most,
        MixedRow *row)
{
    guint added = 0;
    while (added < most && row->n < MIXED_MOST) {
        int piece = added % 2 ? run.second : run.first;
        double u = room[kind][piece].low;
        for (guint i = 0; i < row->n; i++) {
            const MixedPut *p = &row->put[i];
            u = fmax(u, p->u + m->shift[p->kind][p->piece][kind][piece]);
        }
        if (!(u <= room[kind][piece].high + 1e-12))
            break;
        row->put[row->n++] = (MixedPut){kind, piece, u};
        added++;
    }
    return added;
}

// Half of what is left free goes before the first.
static void
centre(const Stretch room[2][MIXED_PIECES], MixedRow *row)
{
    double slack = INFINITY;
    for (guint i = 0; i < row->n; i++)
        slack = fmin(slack, room[row->put[i].kind][row->put[i].piece].high - row->put[i].u);
    for (guint i = 0; i < row->n; i++)
        row->put[i].u += fmax(0, slack / 2);
}

void
mixed_rows_fill(const MixedRows *m, int axis, int side, double v, guint most, MixedRow *best)
{
    Stretch room[2][MIXED_PIECES];
    for (int kind = 0; kind < 2; kind++)
        for (int i = 0; i < 2 * m->n[kind]; i++)
            room[kind][i] = find_room(m, kind, i, axis, side, v);
    for (guint k = 0; k <= most; k++)
        best[k] = (MixedRow){.n = 0};
    for (int g = 0; g < 4 * m->n[1]; g++)
        for (guint k = g == 0 ? 0 : 1; k <= most; k++) {
            MixedRow start = {.n = 0};
            start.guests = add_run(m, room, 1, run_of(m, 1, g), k, &start);
            if (start.guests < k)
                break;
            for (int h = 0; h < 4 * m->n[0]; h++) {
                MixedRow row = start;
                add_run(m, room, 0, run_of(m, 0, h), MIXED_MOST, &row);
                if (row.n > best[k].n)
                    best[k] = row;
            }
        }
    for (guint k = 0; k <= most; k++)
        centre(room, &best[k]);
}
