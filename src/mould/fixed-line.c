// SPDX-License-Identifier: GPL-3.0-or-later
// Finding the runner's line: in the middle of a gap between cavities, or outside of all.
#include "mould/fixed-line.h"

#include <math.h>

#define LACK 20.0 // length of gate one would give for as much room

void
fixed_line_free(FixedLine *line)
{
    if (!line)
        return;
    g_free(line->pieces);
    g_free(line);
}

typedef struct {
    const MouldFixed *fixed;
    guint n;
    FixedPiece *up, *down; // every cavity as fed from -v and from +v
    SolidOutline **turned; // its shadow, along the runner's axes
    double half;           // m, of the runner or the well
    double wide;           // m, of the flask across the runner
} Finder;

static FixedPiece
make_piece(const MouldFixed *fixed, const PlacementSpot *spot, int axis, int side)
{
    FixedPiece p = {.x = spot->x, .y = spot->y, .turn = spot->turn, .side = side};
    p.guest = spot->guest && fixed->guest;
    fixed = mould_fixed_of(fixed, spot->guest);
    const MouldWish *wish = &fixed->wish;
    p.u = axis ? spot->y : spot->x;
    p.v = axis ? -spot->x : spot->y;
    double turn = spot->turn - axis * G_PI / 2 + (side < 0 ? G_PI : 0);
    MouldBeside beside = mould_place_beside(wish);
    p.stance = mould_stance_reach(fixed->shadow, fixed->skin, turn, &beside);
    p.gate_u = p.u + side * p.stance.attach_u;
    p.attach_v = p.v + side * p.stance.attach_v;
    p.gate_v = p.attach_v;
    p.riser_v = NAN;
    double r = wish->riser_diameter / 2;
    if (r > 0) {
        p.riser_v = p.v - side * (p.stance.front + 0.5 * wish->neck + r);
        p.gate_v = p.riser_v - side * r;
    }
    return p;
}

static const FixedPiece *
piece_at(const Finder *f, guint i, double v)
{
    return f->up[i].v >= v ? &f->up[i] : &f->down[i];
}

// Does the gate's line run through another cavity or its riser?
static gboolean
is_blocked(const Finder *f, guint which, const FixedPiece *p, double v)
{
    double low = fmin(v, p->gate_v), high = fmax(v, p->gate_v);
    for (guint i = 0; i < f->n; i++) {
        const SolidOutline *o = f->turned[i];
        double u = p->gate_u - f->up[i].u;
        const MouldStance *s = &f->up[i].stance;
        double riser = f->up[i].v + s->riser_v;
        if (i != which && fabs(u - s->riser_u) < s->riser_r && riser > low && riser < high)
            return TRUE;
        for (guint loop = 0; i != which && loop < o->n_loops; loop++)
            for (guint k = o->starts[loop]; k < o->starts[loop + 1]; k++) {
                SolidPoint a = o->points[k];
                SolidPoint b = o->points[k + 1 < o->starts[loop + 1] ? k + 1 : o->starts[loop]];
                if ((a.x <= u) == (b.x <= u))
                    continue;
                double at = f->up[i].v + a.y + (b.y - a.y) * (u - a.x) / (b.x - a.x);
                if (at > low && at < high)
                    return TRUE;
            }
    }
    return FALSE;
}

// What a riser between gate and casting takes of the way, m.
static double
riser_room(const MouldWish *wish)
{
    double r = wish->riser_diameter;
    return r > 0 ? r + 0.5 * wish->neck : 0;
}

static void
judge(const Finder *f, double v, guint *missing, double *cost)
{
    const MouldWish *wish = &f->fixed->wish;
    // Out of the flask no gate is worth anything.
    *missing = fabs(v) + f->half > f->wide / 2 ? f->n + 1 : 0;
    *cost = LACK * fmax(0, fabs(v) + f->half + wish->cover_wall - f->wide / 2);
    for (guint i = 0; i < f->n; i++) {
        const FixedPiece *p = piece_at(f, i, v);
        double gate = p->side * (p->gate_v - v);
        // A riser stands behind its front, so only the casting has to clear the line.
        double free = p->side * (p->v - v) - p->stance.front;
        if (mould_fixed_of(f->fixed, p->guest)->wish.riser_diameter > 0)
            free = gate;
        *missing += gate < f->half || is_blocked(f, i, p, v);
        *cost += fabs(gate) + LACK * fmax(0, f->half + wish->cover_runner - free);
    }
}

typedef struct {
    double low, high;
} Span;

static int
compare_spans(const void *a, const void *b)
{
    const Span *p = a, *q = b;
    return (p->low > q->low) - (p->low < q->low);
}

// Middles of the gaps, and lines beyond both ends.
static GArray *
list_lines(const Finder *f)
{
    const MouldWish *wish = &f->fixed->wish;
    double riser = fmax(riser_room(wish), riser_room(&mould_fixed_of(f->fixed, TRUE)->wish));
    double away = f->half + wish->cover_runner + riser;
    GArray *lines = g_array_new(FALSE, FALSE, sizeof(double));
    g_autofree Span *spans = g_new(Span, f->n);
    for (guint i = 0; i < f->n; i++)
        spans[i] = (Span){f->up[i].v - f->up[i].stance.front, f->up[i].v + f->up[i].stance.back};
    qsort(spans, f->n, sizeof *spans, compare_spans);
    double v = spans[0].low - away, high = spans[0].high;
    g_array_append_val(lines, v);
    for (guint i = 1; i < f->n; i++) {
        if (spans[i].low > high) {
            v = (spans[i].low + high) / 2;
            g_array_append_val(lines, v);
        }
        high = fmax(high, spans[i].high);
    }
    v = high + away;
    g_array_append_val(lines, v);
    return lines;
}

FixedLine *
fixed_line_find(const MouldFixed *fixed, const PlacementSpot *spots, guint n, int axis, double v,
                const MouldPour *pour)
{
    Finder f = {.fixed = fixed, .n = n};
    f.half = fmax(pour->runner, fmax(pour->well, pour->sprue_top)) / 2;
    f.wide = axis ? fixed->wish.length : fixed->wish.width;
    f.up = g_new(FixedPiece, n);
    f.down = g_new(FixedPiece, n);
    f.turned = g_new(SolidOutline *, n);
    for (guint i = 0; i < n; i++) {
        f.up[i] = make_piece(fixed, &spots[i], axis, 1);
        f.down[i] = make_piece(fixed, &spots[i], axis, -1);
        f.turned[i] = mould_stance_turned(mould_fixed_of(fixed, spots[i].guest)->shadow,
                                          f.up[i].stance.turn);
    }
    if (fixed->wish.round)
        f.wide = fixed->wish.length;
    FixedLine *line = g_new0(FixedLine, 1);
    *line = (FixedLine){.axis = axis, .v = v, .n = n, .cost = INFINITY, .missing = G_MAXUINT};
    g_autoptr(GArray) lines = isnan(v) ? list_lines(&f) : g_array_new(FALSE, FALSE, sizeof(double));
    if (!isnan(v))
        g_array_append_val(lines, v);
    for (guint i = 0; i < lines->len; i++) {
        double at = g_array_index(lines, double, i), cost;
        guint missing;
        judge(&f, at, &missing, &cost);
        if (missing > line->missing || (missing == line->missing && cost >= line->cost))
            continue;
        line->v = at;
        line->missing = missing;
        line->cost = cost;
    }
    line->missing = MIN(line->missing, n);
    line->pieces = g_new(FixedPiece, n);
    for (guint i = 0; i < n; i++) {
        line->pieces[i] = *piece_at(&f, i, line->v);
        solid_outline_unref(f.turned[i]);
    }
    g_free(f.up);
    g_free(f.down);
    g_free(f.turned);
    return line;
}
