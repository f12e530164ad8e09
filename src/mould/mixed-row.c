// SPDX-License-Identifier: GPL-3.0-or-later
// Which ways of standing are worth trying, how close they get by their true outlines, and how many
// then stand on a side.
#include "mould/mixed-row.h"

#include <math.h>
#include <stdlib.h>

#include "mould/rest-stretch.h"

// Castings of a kind in a row: all alike, or every second one turned by half.
typedef struct {
    int first, second; // pieces
} Run;

static MixedPiece
make_piece(const MouldFixed *own, double turn)
{
    const MouldWish *wish = &own->wish;
    MouldRow row = {wish->riser_diameter, 0.5 * wish->neck, wish->cover_between, NULL};
    MixedPiece p = {.stance = mould_stance_reach(own->shadow, own->skin, turn, NULL)};
    p.front = wish->cover_runner + rest_shape_riser(wish) + rest_shape_margin(own);
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
mixed_rows_init(MixedRows *m, const MouldRestTask *task)
{
    const MouldFixed *fixed = task->fixed;
    *m = (MixedRows){.task = task, .fixed = fixed};
    for (int kind = 0; kind < 2; kind++)
        choose_pieces(m, kind);
    double margin[2] = {rest_shape_margin(fixed), rest_shape_margin(mould_fixed_of(fixed, TRUE))};
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

// What keeps pieces from standing anywhere along a side.
typedef struct {
    RestStretch room[2][MIXED_PIECES];
    GArray *bans[2][MIXED_PIECES]; // of RestStretch, by what is locked on this side
    gboolean locked;               // something is
} Space;

// A locked one on a side, seen from there, at u = 0.
typedef struct {
    SolidOutline *outline;
    double u, margin;
} Near;

static guint
list_near(const MixedRows *m, RestSide side, double half, Near *near)
{
    guint n = 0;
    for (guint i = 0; i < m->task->n_locked; i++) {
        const PlacementSpot *p = &m->task->locked[i];
        const MouldFixed *own = mould_fixed_of(m->fixed, p->guest);
        RestSeen seen = rest_shape_seen(own, p, side);
        if (seen.v > 0)
            near[n++] = (Near){rest_shape_outline(own, &seen.stance, 0, seen.v - half, -half),
                               seen.u, rest_shape_margin(own)};
    }
    return n;
}

// Where u may be so that a piece, and the runner's end at its gate, lie inside the walls; low >
// high when nowhere, as for one that is barred.
static RestStretch
find_room(const MixedRows *m, const MouldFixed *own, const MixedPiece *p, RestSide side,
          double half)
{
    RestStretch gate = {p->stance.attach_u - m->past, p->stance.attach_u + m->past};
    if (p->barred)
        return (RestStretch){1, 0};
    return rest_stretch_room(&own->wish, mould_place_share(&own->wish) + rest_shape_margin(own),
                             side, p->whole, half, gate);
}

static void
find_space(const MixedRows *m, RestSide side, double half, Space *s)
{
    g_autofree Near *near = g_new(Near, m->task->n_locked + 1);
    guint n = list_near(m, side, half, near);
    *s = (Space){.locked = n > 0};
#pragma omp parallel for schedule(dynamic)
    for (int at = 0; at < 2 * MIXED_PIECES; at++) {
        int kind = at / MIXED_PIECES, i = at % MIXED_PIECES;
        const MouldFixed *own = mould_fixed_of(m->fixed, kind == 1);
        if (i >= 2 * m->n[kind])
            continue;
        const MixedPiece *p = &m->pieces[kind][i];
        s->room[kind][i] = find_room(m, own, p, side, half);
        s->bans[kind][i] = g_array_new(FALSE, FALSE, sizeof(RestStretch));
        for (guint k = 0; k < n && s->room[kind][i].low <= s->room[kind][i].high; k++)
            rest_stretch_ban(s->bans[kind][i], near[k].outline, near[k].u, p->whole,
                             own->wish.cover_between + rest_shape_margin(own) + near[k].margin);
    }
    for (guint i = 0; i < n; i++)
        solid_outline_unref(near[i].outline);
}

static void
clear_space(Space *s)
{
    for (int kind = 0; kind < 2; kind++)
        for (int i = 0; i < MIXED_PIECES; i++)
            g_clear_pointer(&s->bans[kind][i], g_array_unref);
}

static Run
run_of(const MixedRows *m, int kind, int i)
{
    int n = m->n[kind], a = i / 4 % n, b = a + n;
    const Run runs[4] = {{a, a}, {b, b}, {a, b}, {b, a}};
    return runs[i % 4];
}

// The least u for a piece past what stands there; `passed` (may be NULL) tells whether a locked one
// pushed it on.
static double
find_u(const MixedRows *m, const Space *s, const MixedRow *row, int kind, int piece,
       gboolean *passed)
{
    double u = s->room[kind][piece].low;
    for (guint i = 0; i < row->n; i++) {
        const MixedPut *p = &row->put[i];
        u = fmax(u, p->u + m->shift[p->kind][p->piece][kind][piece]);
    }
    double clear = rest_stretch_pass(s->bans[kind][piece], u);
    if (passed)
        *passed = clear > u;
    return clear;
}

// Adds castings of a run until there are `most` of them or no room is left; returns how many. Past
// a locked one the run goes on with whichever of its two ends first.
static guint
add_run(const MixedRows *m, const Space *s, int kind, Run run, guint most, MixedRow *row)
{
    const int ways[2] = {run.first, run.second};
    guint added = 0;
    for (int next = 0; added < most && row->n < MIXED_MOST; added++, next = !next) {
        gboolean passed;
        double u = find_u(m, s, row, kind, ways[next], &passed);
        double other = passed ? find_u(m, s, row, kind, ways[!next], NULL) : INFINITY;
        if (other + m->pieces[kind][ways[!next]].stance.right <
            u + m->pieces[kind][ways[next]].stance.right) {
            u = other;
            next = !next;
        }
        if (!(u <= s->room[kind][ways[next]].high + 1e-12))
            break;
        row->put[row->n++] = (MixedPut){kind, ways[next], u};
    }
    return added;
}

// Half of what is left free goes before the first, where nothing is locked.
static void
centre(const Space *s, MixedRow *row)
{
    double slack = INFINITY;
    for (guint i = 0; i < row->n; i++)
        slack = fmin(slack, s->room[row->put[i].kind][row->put[i].piece].high - row->put[i].u);
    for (guint i = 0; i < row->n && !s->locked; i++)
        row->put[i].u += fmax(0, slack / 2);
}

void
mixed_rows_fill(const MixedRows *m, const MixedLine *line, int side, guint most, MixedRow *best)
{
    Space space;
    find_space(m, (RestSide){line->axis, side, line->v}, line->half, &space);
    for (guint k = 0; k <= most; k++)
        best[k] = (MixedRow){.n = 0};
    for (int g = 0; g < 4 * m->n[1]; g++)
        for (guint k = g == 0 ? 0 : 1; k <= most; k++) {
            MixedRow start = {.n = 0};
            start.guests = add_run(m, &space, 1, run_of(m, 1, g), k, &start);
            if (start.guests < k)
                break;
            for (int h = 0; h < 4 * m->n[0]; h++) {
                MixedRow row = start;
                add_run(m, &space, 0, run_of(m, 0, h), MIXED_MOST, &row);
                if (row.n > best[k].n)
                    best[k] = row;
            }
        }
    for (guint k = 0; k <= most; k++)
        centre(&space, &best[k]);
    clear_space(&space);
}
