// SPDX-License-Identifier: GPL-3.0-or-later
// From a solved way to the shapes that are drawn, counted and measured.
#include "mould/layout.h"

#include <math.h>

#include "mould/build.h"
#include "mould/fixed.h"
#include "mould/runner.h"
#include "mould/space.h"

#define NEARLY 1e-6 // m
#define COLD 1e-4   // m, that a gate may end from a riser it enters

static void
clear_layout(gpointer data)
{
    MouldLayout *layout = data;
    g_free(layout->cavities);
    g_free(layout->runners);
    g_free(layout->gates);
    g_free(layout->vents);
    mould_filling_free(layout->filling);
    mould_body_unref(layout->body);
    mould_body_unref(layout->guest_body);
    mould_guest_unref(layout->guest);
    mould_space_unref(layout->space);
    mould_fixed_unref(layout->fixed);
}

MouldLayout *
mould_layout_new(void)
{
    return g_atomic_rc_box_new0(MouldLayout);
}

void
mould_layout_take_flask(MouldLayout *l, const MouldLayout *from)
{
    l->length = from->length;
    l->width = from->width;
    l->cope = from->cope;
    l->drag = from->drag;
    l->round = from->round;
    l->wall_draft = from->wall_draft;
    l->growth = from->growth;
    l->n_tabs = from->n_tabs;
    for (guint i = 0; i < G_N_ELEMENTS(l->tabs); i++)
        l->tabs[i] = from->tabs[i];
    l->tab_clearance = from->tab_clearance;
    l->tab_draft = from->tab_draft;
    l->tabs_loose = from->tabs_loose;
    l->gates_in_drag = from->gates_in_drag;
    l->guest = from->guest ? mould_guest_ref(from->guest) : NULL;
    l->guest_body = from->guest_body ? mould_body_ref(from->guest_body) : NULL;
}

const PatternResult *
mould_layout_pattern(const MouldLayout *l, guint cavity, const PatternResult *pattern)
{
    g_return_val_if_fail(l != NULL && cavity < l->n_cavities, NULL);
    return l->cavities[cavity].guest && l->guest ? l->guest->pattern : pattern;
}

double
mould_layout_growth(const MouldLayout *l, guint cavity)
{
    g_return_val_if_fail(l != NULL && cavity < l->n_cavities, 1);
    if (l->cavities[cavity].guest && l->guest)
        return l->guest->growth;
    return l->growth > 0 ? l->growth : 1;
}

MouldLayout *
mould_layout_ref(const MouldLayout *layout)
{
    return g_atomic_rc_box_acquire((gpointer)layout);
}

void
mould_layout_unref(const MouldLayout *layout)
{
    if (layout)
        g_atomic_rc_box_release_full((gpointer)layout, clear_layout);
}

const MouldRiser *
mould_layout_riser(const MouldLayout *l, guint cavity)
{
    g_return_val_if_fail(l != NULL && cavity < l->n_cavities, NULL);
    return l->cavities[cavity].guest ? &l->guest_riser : &l->riser;
}

const MouldNeck *
mould_layout_neck(const MouldLayout *l, guint cavity)
{
    g_return_val_if_fail(l != NULL && cavity < l->n_cavities, NULL);
    return l->cavities[cavity].guest ? &l->guest_neck : &l->neck;
}

const FeedChill *
mould_layout_chill(const MouldLayout *l, guint cavity)
{
    g_return_val_if_fail(l != NULL && cavity < l->n_cavities, NULL);
    return l->cavities[cavity].guest ? &l->guest_chill : &l->chill;
}

gboolean
mould_layout_has_riser(const MouldLayout *l, guint cavity)
{
    g_return_val_if_fail(l != NULL && cavity < l->n_cavities, FALSE);
    const MouldCavity *c = &l->cavities[cavity];
    return mould_layout_riser(l, cavity)->diameter > 0 && isfinite(c->riser_x + c->riser_y);
}

double
mould_chill_reach(const FeedChill *c, gboolean in_cope)
{
    g_return_val_if_fail(c != NULL, NAN);
    if (!(c->thickness > 0) || c->in_cope != in_cope)
        return 0;
    return MAX(0, c->thickness + (in_cope ? c->face : -c->face));
}

// Of metal under sand only: an open riser has none over it.
static double
riser_high(const MouldRiser *r)
{
    return r->open || !(r->diameter > 0) ? 0 : r->base + r->height;
}

double
mould_layout_guest_high(const MouldLayout *l)
{
    g_return_val_if_fail(l != NULL, NAN);
    if (l->n_guests == 0 || !l->guest)
        return 0;
    return fmax(l->guest->above,
                fmax(mould_chill_reach(&l->guest_chill, TRUE), riser_high(&l->guest_riser)));
}

double
mould_layout_guest_low(const MouldLayout *l)
{
    g_return_val_if_fail(l != NULL, NAN);
    if (l->n_guests == 0 || !l->guest)
        return 0;
    return fmax(l->guest->below, mould_chill_reach(&l->guest_chill, FALSE));
}

double
mould_layout_low(const MouldLayout *l, double below)
{
    g_return_val_if_fail(l != NULL, NAN);
    if (isnan(below))
        return NAN;
    return fmax(below, fmax(mould_chill_reach(&l->chill, FALSE), mould_layout_guest_low(l)));
}

double
mould_layout_high(const MouldLayout *l, double above)
{
    g_return_val_if_fail(l != NULL, NAN);
    if (isnan(above))
        return NAN;
    double own = fmax(mould_chill_reach(&l->chill, TRUE), riser_high(&l->riser));
    return fmax(above, fmax(own, mould_layout_guest_high(l)));
}

gboolean
mould_layout_joint(const MouldLayout *l, Vec3 *joint)
{
    g_return_val_if_fail(l != NULL && joint != NULL, FALSE);
    if (l->n_cavities == 0 || l->cavities[0].guest || !mould_layout_has_riser(l, 0))
        return FALSE;
    const MouldCavity *c = &l->cavities[0];
    double x = (l->riser.on_top ? c->riser_x : c->neck_x) - c->x;
    double y = (l->riser.on_top ? c->riser_y : c->neck_y) - c->y;
    double growth = l->growth > 0 ? l->growth : 1, z = (l->neck.up - l->neck.down) / 2;
    *joint = vec3(cos(c->turn) * x + sin(c->turn) * y, cos(c->turn) * y - sin(c->turn) * x,
                  l->riser.on_top ? l->riser.base : z);
    *joint = vec3_scale(*joint, 1 / growth);
    return TRUE;
}

MouldRiser
mould_build_riser(const MouldWish *wish)
{
    const MouldOwnRiser *o = &wish->own;
    if (o->diameter > 0)
        return (MouldRiser){o->diameter, o->height, o->base, !o->beside, wish->riser_open};
    return (MouldRiser){wish->riser_diameter, wish->riser_height, 0, FALSE, wish->riser_open};
}

void
mould_build_own(MouldCavity *cavity, const MouldWish *wish)
{
    const MouldOwnRiser *o = &wish->own;
    if (!(o->diameter > 0))
        return;
    double c = cos(cavity->turn), s = sin(cavity->turn);
    cavity->riser_x = cavity->x + c * o->x - s * o->y;
    cavity->riser_y = cavity->y + s * o->x + c * o->y;
    if (!o->beside)
        return;
    cavity->neck_x = cavity->x + c * o->joint_x - s * o->joint_y;
    cavity->neck_y = cavity->y + s * o->joint_x + c * o->joint_y;
}

guint
mould_layout_cold(const MouldLayout *l)
{
    g_return_val_if_fail(l != NULL, 0);
    guint cold = 0;
    for (guint i = 0; i < l->n_cavities && i < l->n_gates; i++) {
        const MouldCavity *c = &l->cavities[i];
        const MouldRiser *r = mould_layout_riser(l, i);
        if (r->on_top || !mould_layout_has_riser(l, i))
            continue;
        double away = hypot(l->gates[i].x2 - c->riser_x, l->gates[i].y2 - c->riser_y);
        cold += away > r->diameter / 2 + COLD;
    }
    return cold;
}

static MouldChannel
channel(const MouldWay *way, double u1, double v1, double u2, double v2, double width, double depth)
{
    SolidPoint a = mould_place_point(way, u1, v1), b = mould_place_point(way, u2, v2);
    return (MouldChannel){a.x, a.y, b.x, b.y, width, depth};
}

// One cavity with its riser and gate. `side` is 1 for the row at +v, -1 for the one at -v, which is
// the same turned by half a turn.
static void
build_cavity(MouldLayout *l, const MouldWish *wish, const MouldWay *way, const MouldPlace *p,
             guint index, double u, int side)
{
    double attach_u = side * wish->attach_u[way->quarter];
    double attach_v = p->cavity_v + wish->attach_v[way->quarter];
    MouldCavity *cavity = &l->cavities[index];
    SolidPoint at = mould_place_point(way, u, p->runner_v + side * p->cavity_v);
    SolidPoint neck = mould_place_point(way, u + attach_u, p->runner_v + side * attach_v);
    *cavity = (MouldCavity){
        .x = at.x, .y = at.y, .riser_x = NAN, .riser_y = NAN, .neck_x = neck.x, .neck_y = neck.y};
    cavity->turn = way->axis * G_PI / 2 + mould_place_turn(wish, way->quarter) +
                   (side < 0 ? G_PI : 0);
    double gate_to = attach_v;
    if (wish->riser_diameter > 0) {
        SolidPoint riser = mould_place_point(way, u + attach_u, p->runner_v + side * p->riser_v);
        cavity->riser_x = riser.x;
        cavity->riser_y = riser.y;
        gate_to = p->riser_v - wish->riser_diameter / 2;
    }
    mould_build_own(cavity, wish);
    l->gates[index] = channel(way, u + attach_u, p->runner_v, u + attach_u,
                              p->runner_v + side * gate_to, p->pour.gate_width, p->pour.gate_depth);
}

static void
build_runners(MouldLayout *l, const MouldWish *wish, const MouldWay *way, const MouldPlace *p)
{
    double first = p->middle - (way->columns - 1) * p->pitch / 2 + wish->attach_u[way->quarter];
    l->runners = g_new0(MouldChannel, 2 * (guint)way->columns);
    l->n_runners = mould_runner_pieces(wish, way, p, first, l->runners);
    for (guint i = 0; i < l->n_runners; i++) {
        const MouldChannel *c = &l->runners[i];
        l->runners[i] = channel(way, c->x1, c->y1, c->x2, c->y2, c->width, c->depth);
    }
}

void
mould_build(MouldLayout *l, const MouldWish *wish, const MouldWay *way, const MouldPlace *p)
{
    const MouldPour *pour = &p->pour;
    l->n_cavities = (guint)(way->rows * way->columns);
    l->n_gates = l->n_cavities;
    l->cavities = g_new0(MouldCavity, l->n_cavities);
    l->gates = g_new0(MouldChannel, l->n_gates);
    guint index = 0;
    for (int row = 0; row < way->rows; row++) {
        int side = row == 0 ? 1 : -1;
        // Turned by half a turn, a cavity's own middle lies on the other side of its gate.
        double shift = side < 0 ? 2 * wish->attach_u[way->quarter] : 0;
        for (int i = 0; i < way->columns; i++) {
            double u = p->middle + (i - (way->columns - 1) / 2.0) * p->pitch + shift;
            build_cavity(l, wish, way, p, index++, u, side);
        }
    }
    build_runners(l, wish, way, p);
    SolidPoint sprue = mould_place_point(way, p->sprue, p->runner_v);
    l->sprue_x = sprue.x;
    l->sprue_y = sprue.y;
    l->axis = way->axis;
    mould_build_pour(l, wish, pour, &p->neck);
}

static guint
count_at_well(const MouldLayout *l)
{
    guint count = 0;
    for (guint i = 0; i < l->n_gates; i++) {
        const MouldChannel *g = &l->gates[i];
        double aside = l->axis ? g->y1 - l->sprue_y : g->x1 - l->sprue_x;
        count += fabs(aside) + NEARLY < (l->well_diameter + g->width) / 2;
    }
    return count;
}

void
mould_build_pour(MouldLayout *l, const MouldWish *wish, const MouldPour *pour,
                 const MouldNeck *neck)
{
    l->sprue_top_diameter = pour->sprue_top;
    l->sprue_bottom_diameter = pour->sprue_bottom;
    l->sprue_height = wish->cope;
    l->well_diameter = pour->well;
    l->well_depth = pour->well_depth;
    l->basin_height = wish->basin_height;
    l->basin_diameter = pour->basin;
    l->riser = mould_build_riser(wish);
    l->chill = wish->chill;
    l->neck = *neck;
    l->metal_volume = pour->volume;
    l->metal_mass = pour->mass;
    l->fill_time = pour->fill_time;
    l->gates_in_drag = pour->gates_in_drag;
    l->gates_missing = l->gates_at_well = count_at_well(l);
}
