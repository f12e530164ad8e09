// SPDX-License-Identifier: GPL-3.0-or-later
// Runner, gates and risers for cavities that stand where a person put them.
#include "mould/fixed.h"

#include <math.h>

#include "mould/build.h"
#include "mould/cover.h"
#include "mould/fixed-line.h"
#include "mould/runner.h"

#define MOST_ROUNDS 300
#define BESIDE_WELL 0.005 // m, from the well to the only gate there is
#define MERGED 1e-3       // m; gates closer than this along the runner count as one column

static void
clear_fixed(gpointer data)
{
    MouldFixed *fixed = data;
    solid_outline_unref(fixed->shadow);
    solid_outline_unref(fixed->skin);
    mould_fixed_unref(fixed->guest);
}

MouldFixed *
mould_fixed_new(const MouldWish *wish, const SolidOutline *shadow, const SolidOutline *skin)
{
    g_return_val_if_fail(wish != NULL && shadow != NULL && skin != NULL, NULL);
    MouldFixed *fixed = g_atomic_rc_box_new0(MouldFixed);
    fixed->wish = *wish;
    fixed->shadow = solid_outline_ref(shadow);
    fixed->skin = solid_outline_ref(skin);
    return fixed;
}

MouldFixed *
mould_fixed_with(const MouldFixed *fixed, const MouldWish *wish)
{
    MouldFixed *other = mould_fixed_new(wish, fixed->shadow, fixed->skin);
    other->out = fixed->out;
    other->guest = fixed->guest ? mould_fixed_ref(fixed->guest) : NULL;
    return other;
}

void
mould_fixed_set_guest(MouldFixed *fixed, MouldFixed *guest)
{
    mould_fixed_unref(fixed->guest);
    fixed->guest = guest;
}

const MouldFixed *
mould_fixed_of(const MouldFixed *fixed, gboolean guest)
{
    return guest && fixed->guest ? fixed->guest : fixed;
}

MouldFixed *
mould_fixed_ref(const MouldFixed *fixed)
{
    return g_atomic_rc_box_acquire((gpointer)fixed);
}

void
mould_fixed_unref(const MouldFixed *fixed)
{
    if (fixed)
        g_atomic_rc_box_release_full((gpointer)fixed, clear_fixed);
}

static double
cylinder(double diameter, double height)
{
    return G_PI / 4 * diameter * diameter * height;
}

static double
channel_volume(const MouldChannel *c)
{
    return c->width * c->depth * hypot(c->x2 - c->x1, c->y2 - c->y1);
}

// Of unequal cavities the sizes go by what they hold on average, by the thinner wall and by the
// narrower riser.
static MouldWish
common_wish(const MouldFixed *fixed, guint n, guint guests)
{
    MouldWish wish = fixed->wish;
    if (!fixed->guest || guests == 0)
        return wish;
    const MouldWish *other = &fixed->guest->wish;
    double share = (double)guests / n;
    wish.cavity_volume += share * (other->cavity_volume - wish.cavity_volume);
    wish.cavity_mass += share * (other->cavity_mass - wish.cavity_mass);
    if (fmax(wish.riser_diameter, other->riser_diameter) > 0)
        wish.gates_enter = MOULD_ENTER_RISERS;
    // Where one has no riser beside it, gates enter castings.
    wish.riser_diameter = fmin(wish.riser_diameter, other->riser_diameter);
    wish.above = fmin(wish.above, other->above);
    wish.below = fmin(wish.below, other->below);
    return wish;
}

double
mould_fixed_volume(const MouldLayout *l, const MouldFixed *fixed)
{
    double top = l->sprue_top_diameter, bottom = l->sprue_bottom_diameter;
    double sum = G_PI / 12 * l->sprue_height * (top * top + top * bottom + bottom * bottom);
    sum += cylinder(l->basin_diameter, l->basin_height) + cylinder(l->well_diameter, l->well_depth);
    for (guint i = 0; i < l->n_runners; i++)
        sum += channel_volume(&l->runners[i]);
    for (guint i = 0; i < l->n_cavities; i++) {
        const MouldCavity *c = &l->cavities[i];
        sum += mould_fixed_of(fixed, c->guest)->wish.cavity_volume + channel_volume(&l->gates[i]);
        if (isnan(c->riser_x))
            continue;
        const MouldRiser *r = mould_layout_riser(l, i);
        double radius = r->diameter / 2;
        double neck = hypot(c->neck_x - c->riser_x, c->neck_y - c->riser_y) - radius;
        sum += cylinder(r->diameter, r->height) +
               mould_neck_volume(mould_layout_neck(l, i), fmax(0, neck), radius);
    }
    return sum;
}

// The neck is the same for all castings of a job: no higher and no lower than any of them is where
// it joins. Of castings that none stand of it is that of one as drawn.
static MouldNeck
neck_of(const MouldFixed *fixed, const FixedLine *line, gboolean guest)
{
    const MouldWish *wish = &mould_fixed_of(fixed, guest)->wish;
    double above = INFINITY, below = INFINITY, width = INFINITY;
    for (guint i = 0; i < line->n; i++) {
        if (line->pieces[i].guest != guest)
            continue;
        int way = mould_place_nearest(wish, line->pieces[i].stance.turn);
        above = fmin(above, wish->joint_above[way]);
        if (wish->joint_width[way] > 0)
            width = fmin(width, wish->joint_width[way]);
        below = fmin(below, wish->joint_below[way]);
    }
    return isinf(above) ? mould_place_neck(wish, 0)
                        : mould_place_neck_within(wish, above, below, width);
}

static int
compare_doubles(const void *a, const void *b)
{
    double p = *(const double *)a, q = *(const double *)b;
    return (p > q) - (p < q);
}

// Between two gates that are `apart` (m) where that can be; with as many cavities at one side as at
// the other, or nearly; and of such gaps in the widest. NAN for gates all at one place.
static double
sprue_between(const FixedPiece *pieces, guint n, double apart)
{
    g_autofree double *at = g_new(double, n);
    double widest = 0, u = NAN;
    guint least = G_MAXUINT;
    gboolean room = FALSE;
    for (guint i = 0; i < n; i++)
        at[i] = pieces[i].gate_u;
    qsort(at, n, sizeof *at, compare_doubles);
    for (guint i = 1; i < n; i++) {
        double gap = at[i] - at[i - 1];
        gboolean wide = gap >= apart;
        guint uneven = 2 * i > n ? 2 * i - n : n - 2 * i;
        if (gap <= MERGED || wide < room ||
            (wide == room && (uneven > least || (uneven == least && gap <= widest + MERGED))))
            continue;
        room = wide;
        least = uneven;
        widest = gap;
        u = (at[i] + at[i - 1]) / 2;
    }
    return u;
}

static MouldChannel
channel(const MouldWay *way, double u1, double v1, double u2, double v2, double width, double depth)
{
    SolidPoint a = mould_place_point(way, u1, v1), b = mould_place_point(way, u2, v2);
    return (MouldChannel){a.x, a.y, b.x, b.y, width, depth};
}

// Gates along one arm of the runner, from the well outwards.
typedef struct {
    double *at; // u, distances from the sprue
    guint n;
} FixedArm;

static FixedArm
find_arm(const FixedPiece *pieces, guint n, double u, int side)
{
    FixedArm arm = {g_new(double, n), 0};
    for (guint i = 0; i < n; i++)
        if (side * (pieces[i].gate_u - u) > 0 || (side > 0 && pieces[i].gate_u == u))
            arm.at[arm.n++] = side * (pieces[i].gate_u - u);
    qsort(arm.at, arm.n, sizeof *arm.at, compare_doubles);
    return arm;
}

// One piece, or as many as there are places where gates turn off when the runner is stepped: each
// as wide as the share of all gates that still lie ahead.
static void
draw_arm(MouldLayout *l, const MouldWish *wish, const MouldWay *way, const FixedArm *arm, guint all,
         double u, int side, double v, MouldPour *pour)
{
    double from = pour->well / 2;
    for (guint i = 0; i < arm->n; i++) {
        gboolean last = i + 1 == arm->n, together = !last && arm->at[i + 1] - arm->at[i] < MERGED;
        if (together || (!wish->stepped && !last))
            continue;
        double to = arm->at[i] + pour->gate_width / 2, width = pour->runner;
        guint ahead = arm->n - i;
        while (ahead < arm->n && arm->at[arm->n - ahead] - arm->at[arm->n - ahead - 1] < MERGED)
            ahead++; // those at the same place too
        if (wish->stepped)
            width = fmax(pour->arms * pour->runner * ahead / all, MOULD_LEAST_STEP * pour->runner);
        if (last) // as far on as it is wide, to keep the first cold metal
            to += width;
        if (to <= from)
            continue;
        l->runners[l->n_runners++] = channel(way, u + side * from, v, u + side * to, v, width,
                                             pour->runner);
        pour->channel = fmin(pour->channel, width * pour->runner / (2 * (width + pour->runner)));
        from = to;
    }
}

static void
draw_runners(MouldLayout *l, const MouldWish *wish, const MouldWay *way, const FixedLine *line,
             double u, MouldPour *pour)
{
    l->n_runners = 0;
    for (int side = 1; side >= -1; side -= 2) {
        FixedArm arm = find_arm(line->pieces, line->n, u, side);
        draw_arm(l, wish, way, &arm, line->n, u, side, line->v, pour);
        g_free(arm.at);
    }
}

static void
draw_piece(MouldLayout *l, const MouldWay *way, const FixedPiece *p, guint i, double v,
           const MouldFixed *fixed, const MouldPour *pour)
{
    const MouldWish *wish = &mould_fixed_of(fixed, p->guest)->wish;
    MouldCavity *c = &l->cavities[i];
    SolidPoint neck = mould_place_point(way, p->gate_u, p->attach_v);
    *c = (MouldCavity){p->x, p->y, p->turn, NAN, NAN, neck.x, neck.y, 0, p->guest};
    l->n_guests += p->guest;
    if (wish->riser_diameter > 0) {
        SolidPoint riser = mould_place_point(way, p->gate_u, p->riser_v);
        c->riser_x = riser.x;
        c->riser_y = riser.y;
    }
    mould_build_own(c, wish);
    l->gates[i] = channel(way, p->gate_u, v, p->gate_u, p->gate_v, pour->gate_width,
                          pour->gate_depth);
}

// How guests are fed.
static void
set_guest(MouldLayout *l, const MouldFixed *fixed, const FixedLine *line)
{
    const MouldWish *wish = &fixed->guest->wish;
    l->guest_riser = mould_build_riser(wish);
    l->guest_neck = neck_of(fixed, line, TRUE);
    l->guest_chill = wish->chill;
}

// m along the runner from the sprue to the nearest gate.
static double
least_aside(const FixedLine *line, double sprue)
{
    double least = INFINITY;
    for (guint i = 0; i < line->n; i++)
        least = fmin(least, fabs(line->pieces[i].gate_u - sprue));
    return least;
}

static const MouldWish *
own_wish(const MouldFixed *fixed, const FixedPiece *piece)
{
    return &mould_fixed_of(fixed, piece->guest)->wish;
}

static gboolean
enters_riser(const MouldFixed *fixed, const FixedPiece *piece)
{
    return own_wish(fixed, piece)->riser_diameter > 0 || piece->stance.hot;
}

// What the sizes of a line's gating go by.
typedef struct {
    MouldWish wish; // of both kinds together
    const FixedLine *line;
    double side;      // m, the narrowest that a gate enters
    double low, high; // u of the outermost gates
    double sprue;     // u, as put; NAN: found
    int arms;
    gboolean crowded; // gates lie over the well, however narrow
} Sizing;

static Sizing
start_sizing(const MouldFixed *fixed, const FixedLine *line, double sprue, double *volume)
{
    Sizing s = {.line = line, .side = INFINITY, .low = INFINITY, .high = -INFINITY, .sprue = sprue};
    guint guests = 0;
    gboolean riser = FALSE;
    *volume = 0;
    for (guint i = 0; i < line->n; i++) {
        const FixedPiece *piece = &line->pieces[i];
        const MouldWish *own = own_wish(fixed, piece);
        double width = piece->stance.left + piece->stance.right;
        s.low = fmin(s.low, piece->gate_u);
        s.high = fmax(s.high, piece->gate_u);
        if (piece->stance.hot)
            width = own->own.diameter;
        s.side = fmin(s.side, own->riser_diameter > 0 ? own->riser_diameter : width);
        riser = riser || enters_riser(fixed, piece);
        *volume += own->cavity_volume;
        guests += piece->guest;
    }
    s.arms = s.high - s.low > MERGED ? 2 : 1;
    s.wish = common_wish(fixed, line->n, guests);
    s.wish.gates_enter = riser ? MOULD_ENTER_RISERS : MOULD_ENTER_CASTINGS;
    return s;
}

static MouldPour
sizes_of(const Sizing *s, double volume, double side)
{
    return mould_pour_sizes(&s->wish, volume, (int)s->line->n, s->arms, side);
}

// Sizes for so much metal, and where the sprue then stands along the runner.
static MouldPour
size_line(Sizing *s, double volume, double *u)
{
    const FixedLine *line = s->line;
    gboolean clear;
    *u = s->sprue;
    if (isnan(*u)) {
        MouldPour narrow = mould_pour_clear(&s->wish, volume, (int)line->n, s->arms, s->side, 0,
                                            &clear);
        *u = sprue_between(line->pieces, line->n, mould_pour_room(&narrow));
    }
    if (isnan(*u)) { // beside the one place where all gates are
        const FixedPiece *first = &line->pieces[0];
        MouldPour wide = sizes_of(s, volume, s->side);
        *u = first->gate_u - fmax((first->stance.left + first->stance.right) / 4,
                                  mould_pour_room(&wide) / 2 + BESIDE_WELL);
        return wide;
    }
    MouldPour pour = mould_pour_clear(&s->wish, volume, (int)line->n, s->arms, s->side,
                                      2 * least_aside(line, *u), &clear);
    // Gates that lie over the well anyway are as wide as they should be; once they are they stay.
    s->crowded = s->crowded || !clear;
    return s->crowded ? sizes_of(s, volume, s->side) : pour;
}

static guint
count_unmet(const MouldFixed *fixed, const FixedLine *line, const MouldPour *pour)
{
    guint count = 0;
    for (guint i = 0; i < line->n; i++)
        count += !mould_pour_meets(own_wish(fixed, &line->pieces[i]),
                                   enters_riser(fixed, &line->pieces[i]), pour);
    return count;
}

// Gating sized until the metal no longer changes.
static void
size_and_draw(MouldLayout *l, const MouldFixed *fixed, const FixedLine *line, double sprue,
              MouldPour *pour)
{
    const MouldWish *wish = &fixed->wish;
    MouldWay way = {line->axis, 0, 0, 0};
    MouldNeck neck = neck_of(fixed, line, FALSE);
    if (fixed->guest && line->pieces[line->n - 1].guest) // guests come last
        set_guest(l, fixed, line);
    double volume, u;
    Sizing sizing = start_sizing(fixed, line, sprue, &volume);
    for (int round = 0; round < MOST_ROUNDS; round++) {
        *pour = size_line(&sizing, volume, &u);
        int reached = MAX((sizing.high > u) + (sizing.low < u), 1);
        if (reached != sizing.arms) {
            sizing.arms = reached;
            continue;
        }
        SolidPoint at = mould_place_point(&way, u, line->v);
        l->sprue_x = at.x;
        l->sprue_y = at.y;
        draw_runners(l, wish, &way, line, u, pour);
        l->n_guests = 0;
        for (guint i = 0; i < line->n; i++)
            draw_piece(l, &way, &line->pieces[i], i, line->v, fixed, pour);
        mould_build_pour(l, wish, pour, &neck);
        double next = mould_fixed_volume(l, fixed);
        gboolean settled = !(fabs(next - volume) > 1e-14 * volume);
        volume = next;
        if (settled)
            break;
    }
    l->gates_missing += line->missing + count_unmet(fixed, line, pour);
}

void
mould_fixed_build(MouldLayout *l, const MouldFixed *fixed, const PlacementSpot *spots, guint n,
                  double sprue_x, double sprue_y, int axis, MouldPour *pour)
{
    g_return_if_fail(l != NULL && fixed != NULL && spots != NULL && n > 0 && pour != NULL);
    // Widths of the runner before it is known where it goes.
    *pour = mould_pour_sizes(&fixed->wish, n * fixed->wish.cavity_volume, (int)n, 2,
                             fmin(fixed->wish.box_x, fixed->wish.box_y));
    g_autoptr(FixedLine) best = NULL;
    for (int a = 0; a < 2; a++) {
        if (axis >= 0 && a != axis)
            continue;
        double v = a ? -sprue_x : sprue_y;
        g_autoptr(FixedLine) line = fixed_line_find(fixed, spots, n, a, v, pour);
        if (!best || line->missing < best->missing ||
            (line->missing == best->missing && line->cost < best->cost * (1 - 1e-9))) {
            fixed_line_free(best);
            best = g_steal_pointer(&line);
        }
    }
    l->n_cavities = l->n_gates = n;
    l->cavities = g_new0(MouldCavity, n);
    l->gates = g_new0(MouldChannel, n);
    l->runners = g_new0(MouldChannel, n + 1);
    l->axis = best->axis;
    l->by_hand = TRUE;
    size_and_draw(l, fixed, best, best->axis ? sprue_y : sprue_x, pour);
}

// Does every cavity stand where the program put it? Then only the sprue is moved.
static gboolean
is_still(const MouldLayout *l, const PlacementSpot *spots, guint n)
{
    gboolean still = !l->by_hand && n == l->n_cavities;
    for (guint i = 0; i < n && still; i++)
        still = spots[i].x == l->cavities[i].x && spots[i].y == l->cavities[i].y &&
                spots[i].turn == l->cavities[i].turn;
    return still;
}

MouldLayout *
mould_layout_moved(const MouldLayout *layout, const PlacementSpot *spots, guint n, double sprue_x,
                   double sprue_y)
{
    g_return_val_if_fail(layout != NULL && (spots != NULL || n == 0), NULL);
    if (!layout->fixed || n == 0)
        return NULL;
    MouldLayout *l = mould_layout_new();
    mould_layout_take_flask(l, layout);
    l->fixed = mould_fixed_ref(layout->fixed);
    MouldPour pour;
    gboolean still = is_still(layout, spots, n);
    mould_fixed_build(l, l->fixed, spots, n, sprue_x, sprue_y, still ? layout->axis : -1, &pour);
    l->by_hand = !still;
    l->cover_wall = l->cover_between = l->cover_sprue = l->cover_runner = NAN;
    if (layout->body)
        mould_cover_measure(l, layout->body, layout->space);
    const MouldWish *wish = &l->fixed->wish;
    const MouldWish *other = &mould_fixed_of(l->fixed, l->n_guests > 0)->wish;
    l->cover_top = l->cope - mould_layout_high(l, fmax(wish->above, other->above));
    l->cover_bottom = l->drag - mould_layout_low(l, fmax(wish->below, other->below));
    l->castings_mass = (n - l->n_guests) * wish->cavity_mass;
    if (l->n_guests > 0)
        l->castings_mass += l->n_guests * l->fixed->guest->wish.cavity_mass;
    return l;
}
