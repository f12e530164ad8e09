// SPDX-License-Identifier: GPL-3.0-or-later
// Sizes of choke, sprue, well, runners and gates for a volume of metal.
#include <math.h>

#include "mould/gating.h"
#include "mould/place.h"

#define GATE_THIN 0.003  // m; thinner ones freeze before the mould is full (common practice)
#define GATE_THICK 0.008 // m; thicker ones are hard to saw off (common practice)
#define MUCH_MORE 2.0
#define NEARLY 1e-12
#define LEAST_FACE 0.5     // of a gate's depth, that a casting has to meet it with
#define NARROW 0.4         // of its width, that a gate may be made to keep off the well
#define WELL_TO_CHOKE 5.0  // area (common practice)
#define WELL_DEEPER 1.5    // times the runner's depth (common practice)
#define BASIN_TO_SPRUE 2.5 // diameter (common practice)

static double
disc_diameter(double area)
{
    return sqrt(4 * area / G_PI);
}

// Least depth of a gate of area `area` that can wait for the filling, with a little to spare: of
// d, area/d the area over outline is at least m when 2 m d^2 - area d + 2 m area <= 0. Square when
// none is enough.
static double
waiting_depth(const MouldWish *wish, double fill_time, double area)
{
    double m = wish->wall / 2 * sqrt(MOULD_GATE_WAIT * fill_time / wish->wall_time);
    double square = area * area - 16 * m * m * area;
    return square > 0 ? (area - sqrt(square)) / (4 * m) : sqrt(area);
}

// m; how thick gates are to be where they can.
static double
thin_gate(const MouldWish *wish)
{
    return CLAMP(0.6 * wish->wall, GATE_THIN, GATE_THICK);
}

static void
size_gates(const MouldWish *wish, MouldPour *p, int n, double side, double thick)
{
    double wanted = p->gate_ratio * p->choke;
    if (!isnan(wish->velocity_limit))
        wanted = MAX(wanted, p->peak_flow / (p->gate_share * wish->velocity_limit));
    wanted = MAX(wanted, p->gate_wait);
    p->gate_area = MIN(p->gate_most, wanted);
    if (wish->gate_width > 0 && wish->gate_depth > 0)
        p->gate_area = n * wish->gate_width * wish->gate_depth;
    double one = p->gate_area / n;
    double thin = MIN(thin_gate(wish), thick);
    thin = MAX(thin, MIN(waiting_depth(wish, p->fill_time, one), thick));
    p->gate_width = MIN(one / thin, MOULD_GATE_SIDE * side);
    if (wish->gate_width > 0)
        p->gate_width = wish->gate_width;
    else if (wish->gate_depth > 0)
        p->gate_width = one / wish->gate_depth;
    p->gate_depth = one / p->gate_width;
}

// Area over outline: how slowly a long channel cools.
static double
channel_modulus(const MouldPour *p)
{
    double gate = p->gate_width * p->gate_depth / (2 * (p->gate_width + p->gate_depth));
    return MIN(p->sprue_bottom / 4, MIN(p->runner / 4, gate));
}

// What a cavity takes is the casting's mass: while it shrinks, riser, runner and basin fill it up.
static double
mass_of(const MouldWish *wish, double volume, int n)
{
    return n * wish->cavity_mass + wish->density * (volume - n * wish->cavity_volume);
}

// Does a gate enter a riser? Those stand in the cope.
static gboolean
is_hot(const MouldWish *wish)
{
    gboolean hot = wish->riser_diameter > 0;
    if (wish->gates_enter != MOULD_ENTER_BY_STANCE)
        return wish->gates_enter == MOULD_ENTER_RISERS;
    for (int i = 0; i < wish->n_stances && !hot; i++)
        hot = wish->stances[i].hot;
    return hot;
}

// A casting with less over the parting than its gates are to be thick is met from the drag, if
// there is much more of it there: with the runner in the cope it is harder to keep that full.
static gboolean
is_met_in_drag(const MouldWish *wish)
{
    double thick = wish->gate_depth > 0 ? wish->gate_depth : thin_gate(wish);
    return !is_hot(wish) && wish->above < MIN(thick, wish->below / MUCH_MORE);
}

// A gate is no thicker than half the riser, or than the wall it enters and what of it stands in the
// gate's half of the mould.
static double
gate_thick(const MouldWish *wish, gboolean in_drag)
{
    if (wish->riser_diameter > 0)
        return wish->riser_diameter / 2;
    double high = is_hot(wish) ? INFINITY : in_drag ? wish->below : wish->above;
    return MAX(GATE_THIN, MIN(wish->wall, high));
}

MouldPour
mould_pour_sizes(const MouldWish *wish, double volume, int n, int arms, double side)
{
    MouldPour p = {.volume = volume,
                   .arms = arms,
                   .gate_time = NAN,
                   .gate_share = wish->gate_share > 0 ? wish->gate_share : MOULD_GATE_SHARE,
                   .runner_ratio = wish->runner_ratio,
                   .gate_ratio = wish->gate_ratio,
                   .gates_in_drag = is_met_in_drag(wish)};
    double thick = gate_thick(wish, p.gates_in_drag);
    p.gate_most = n * MOULD_GATE_SIDE * side * thick;
    p.mass = mass_of(wish, volume, n);
    double flow = p.mass / wish->density;
    p.slow_time = mould_fill_top(flow, MOULD_LEAST_CHOKE, wish->discharge, wish->mean_head,
                                 MOULD_GRAVITY);
    p.mass_time = wish->pour_factor * cbrt(p.mass);
    double wished = MIN(0.5 * wish->wall_time, p.mass_time);
    p.fill_time = MIN(wished, p.slow_time);
    if (!isnan(wish->velocity_limit)) {
        p.gate_time = flow * sqrt(wish->head / wish->mean_head) /
                      (p.gate_share * wish->velocity_limit * p.gate_most);
        p.fill_time = MAX(p.fill_time, p.gate_time);
    }
    if (!isnan(wish->fill_time))
        p.fill_time = wish->fill_time;
    if (wish->choke > 0)
        p.fill_time = mould_fill_top(flow, wish->choke, wish->discharge, wish->mean_head,
                                     MOULD_GRAVITY);
    // A square gate of side a has a/4 of area over outline.
    p.gate_wait = 4 * MOULD_GATE_WAIT * n * wish->wall * wish->wall * p.fill_time / wish->wall_time;
    p.choke = mould_choke_area(p.mass, wish->density, p.fill_time, wish->discharge, wish->mean_head,
                               MOULD_GRAVITY);
    p.peak_flow = p.choke * mould_velocity(wish->discharge, wish->head, MOULD_GRAVITY);
    size_gates(wish, &p, n, side, thick);
    p.runner_area = wish->runner_ratio * p.choke;
    if (wish->runner > 0)
        p.runner_area = arms * wish->runner * wish->runner;
    p.runner = sqrt(p.runner_area / arms);
    p.sprue_bottom = disc_diameter(p.choke);
    p.sprue_top = disc_diameter(
        mould_sprue_area(p.choke, wish->head, MAX(wish->basin_height, MOULD_LEAST_BASIN)));
    p.well = disc_diameter(WELL_TO_CHOKE * p.choke);
    p.well_depth = WELL_DEEPER * p.runner;
    p.basin = BASIN_TO_SPRUE * p.sprue_top;
    p.channel = channel_modulus(&p);
    return p;
}

MouldPour
mould_pour_clear(const MouldWish *wish, double volume, int n, int arms, double side, double apart,
                 gboolean *clear)
{
    MouldPour p = mould_pour_sizes(wish, volume, n, arms, side);
    *clear = mould_pour_room(&p) <= apart;
    if (*clear)
        return p;
    double low = NARROW * side, high = side;
    p = mould_pour_sizes(wish, volume, n, arms, low);
    *clear = mould_pour_room(&p) <= apart * (1 + NEARLY);
    // The wider the gates the faster the filling, and the larger the well.
    while (*clear && high - low > NEARLY * side) {
        double middle = (low + high) / 2;
        MouldPour tried = mould_pour_sizes(wish, volume, n, arms, middle);
        gboolean fits = mould_pour_room(&tried) <= apart;
        *(fits ? &low : &high) = middle;
        if (fits)
            p = tried;
    }
    return p;
}

double
mould_pour_room(const MouldPour *pour)
{
    return pour->well + pour->gate_width;
}

gboolean
mould_pour_meets(const MouldWish *own, gboolean riser, const MouldPour *pour)
{
    MouldWish wish = *own;
    wish.gates_enter = riser ? MOULD_ENTER_RISERS : MOULD_ENTER_CASTINGS;
    if (is_met_in_drag(&wish) == pour->gates_in_drag)
        return TRUE;
    double face = pour->gates_in_drag ? own->below : own->above;
    return !riser && face >= LEAST_FACE * pour->gate_depth;
}
