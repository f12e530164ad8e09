// SPDX-License-Identifier: GPL-3.0-or-later
// The network of a layout.
#include "mould/flow.h"

#include <math.h>
#include <stdlib.h>

#include "mould/gating.h"
#include "mould/loss.h"

// m; gates nearer than this along the runner turn off at one place.
#define SAME_PLACE 5e-4
#define SHORTEST 1e-4 // m, of a piece of runner

// A gate seen along the runner: signed distance of its mouth from the sprue.
typedef struct {
    double along;
    guint gate;
} Mouth;

typedef struct {
    const MouldLayout *layout;
    MouldFlow *flow;
    double ax, ay; // direction of the runner
    guint well;    // node
} Work;

static double
along(const Work *w, double x, double y)
{
    return (x - w->layout->sprue_x) * w->ax + (y - w->layout->sprue_y) * w->ay;
}

// The runner's channel at `s`; the nearest where none is.
static const MouldChannel *
channel_at(const Work *w, double s)
{
    const MouldChannel *best = NULL;
    double nearest = INFINITY;
    for (guint i = 0; i < w->layout->n_runners; i++) {
        const MouldChannel *c = &w->layout->runners[i];
        double a = along(w, c->x1, c->y1), b = along(w, c->x2, c->y2);
        double off = MAX(0, MAX(MIN(a, b) - s, s - MAX(a, b)));
        if (off < nearest) {
            nearest = off;
            best = c;
        }
    }
    return best;
}

static double
hydraulic(double width, double depth)
{
    return 2 * width * depth / (width + depth);
}

static int
compare_mouths(gconstpointer a, gconstpointer b)
{
    double x = fabs(((const Mouth *)a)->along), y = fabs(((const Mouth *)b)->along);
    if (x != y)
        return x < y ? -1 : 1;
    return (int)((const Mouth *)a)->gate - (int)((const Mouth *)b)->gate;
}

static void
add_sprue(Work *w)
{
    const MouldLayout *l = w->layout;
    MouldFlow *f = w->flow;
    double lower = l->sprue_bottom_diameter, upper = MAX(l->sprue_top_diameter, lower);
    double share = lower * lower / (upper * upper); // of the areas
    guint basin = mould_network_add_head(f->network, f->head);
    w->well = mould_network_add_junction(f->network, 0);
    MouldLink link = {.from = basin,
                      .to = w->well,
                      .area = G_PI / 4 * lower * lower,
                      .diameter = lower,
                      .length = mould_loss_cone(l->sprue_height, upper, lower),
                      .roughness = MOULD_ROUGHNESS,
                      .loss = MOULD_LOSS_ENTRY * share * share + MOULD_LOSS_EXIT,
                      .before = -1};
    f->sprue = mould_network_add_link(f->network, &link);
    f->sprue_area = link.area;
    double reynolds = sqrt(2 * MOULD_GRAVITY * f->head) * lower / MOULD_VISCOSITY;
    f->sprue_loss = link.loss +
                    mould_friction(reynolds, MOULD_ROUGHNESS / lower, NULL) * link.length / lower;
}

static void
add_gate(Work *w, guint index, guint node, int before)
{
    const MouldLayout *l = w->layout;
    const MouldChannel *c = &l->gates[index];
    const MouldChannel *runner = channel_at(w, along(w, c->x1, c->y1));
    double length = hypot(c->x2 - c->x1, c->y2 - c->y1) - (runner ? runner->width / 2 : 0);
    double height = l->gates_in_drag ? -c->depth / 2 : c->depth / 2;
    guint outlet = mould_network_add_head(w->flow->network, height);
    MouldLink link = {.from = node,
                      .to = outlet,
                      .area = c->width * c->depth,
                      .diameter = hydraulic(c->width, c->depth),
                      .length = MAX(length, SHORTEST),
                      .roughness = MOULD_ROUGHNESS,
                      .loss = MOULD_BRANCH_OWN + MOULD_LOSS_EXIT,
                      .one_way = TRUE,
                      .before = before,
                      .side = MOULD_BRANCH_SIDE};
    guint number = mould_network_add_link(w->flow->network, &link);
    w->flow->gates[index] = (MouldGate){number, outlet, index, height, link.area};
}

// One arm of the runner with the gates that turn off it, nearest first.
static void
add_arm(Work *w, Mouth *mouths, guint n)
{
    const MouldLayout *l = w->layout;
    MouldFlow *f = w->flow;
    guint node = w->well;
    int before = -1;
    double from = l->well_diameter / 2;
    for (guint i = 0; i < n;) {
        double s = mouths[i].along, at = fabs(s);
        const MouldChannel *c = channel_at(w, copysign((from + at) / 2, s));
        if (!c) { // no runner at all: straight from the well
            add_gate(w, mouths[i++].gate, node, before);
            continue;
        }
        guint next = mould_network_add_junction(f->network, 0);
        MouldLink link = {.from = node,
                          .to = next,
                          .area = c->width * c->depth,
                          .diameter = hydraulic(c->width, c->depth),
                          .length = MAX(at - from, SHORTEST),
                          .roughness = MOULD_ROUGHNESS,
                          .loss = before < 0 ? MOULD_LOSS_ENTRY : 0,
                          .before = before,
                          .through = before < 0 ? 0 : MOULD_BRANCH_THROUGH};
        before = (int)mould_network_add_link(f->network, &link);
        f->reaches[f->n_reaches++] = (MouldReach){(guint)before, next, link.area,
                                                  l->gates_in_drag ? c->depth : 0};
        for (node = next, from = at; i < n && fabs(mouths[i].along) <= at + SAME_PLACE; i++)
            add_gate(w, mouths[i].gate, node, before);
    }
}

static void
set_volumes(Work *w)
{
    const MouldLayout *l = w->layout;
    MouldFlow *f = w->flow;
    double a = l->sprue_top_diameter / 2, b = l->sprue_bottom_diameter / 2;
    double basin = G_PI / 4 * l->basin_diameter * l->basin_diameter * l->basin_height;
    f->sprue_volume = basin + G_PI / 3 * l->sprue_height * (a * a + a * b + b * b);
    double rest = l->metal_volume - f->sprue_volume;
    for (guint i = 0; i < l->n_cavities; i++)
        rest -= mould_level_volume(mould_flow_level(f, i));
    f->runner_volume = MAX(0, rest);
    f->runner_height = 0;
    for (guint i = 0; i < f->n_reaches; i++)
        f->runner_height = MAX(f->runner_height, f->reaches[i].top);
}

MouldFlow *
mould_flow_build(const MouldLayout *l, const MouldLevel *level, const MouldLevel *guest)
{
    g_return_val_if_fail(l->n_gates > 0 && l->n_gates == l->n_cavities && level, NULL);
    g_autoptr(MouldFlow) flow = mould_flow_new();
    Work w = {l, flow, 1, 0, 0};
    if (l->n_runners > 0) {
        double dx = l->runners[0].x2 - l->runners[0].x1, dy = l->runners[0].y2 - l->runners[0].y1;
        double length = hypot(dx, dy);
        w.ax = length > 0 ? dx / length : 1;
        w.ay = length > 0 ? dy / length : 0;
    }
    flow->network = mould_network_new(MOULD_GRAVITY, MOULD_VISCOSITY);
    flow->gravity = MOULD_GRAVITY;
    flow->head = l->cope + l->basin_height;
    flow->level = level;
    flow->n_cavities = l->n_cavities;
    if (guest && l->n_guests > 0) {
        flow->levels = g_new(const MouldLevel *, l->n_cavities);
        for (guint i = 0; i < l->n_cavities; i++)
            flow->levels[i] = l->cavities[i].guest ? guest : level;
    }
    flow->n_gates = l->n_gates;
    flow->gates = g_new0(MouldGate, l->n_gates);
    flow->reaches = g_new0(MouldReach, l->n_gates);
    g_autofree Mouth *ahead = g_new(Mouth, l->n_gates);
    g_autofree Mouth *behind = g_new(Mouth, l->n_gates);
    Mouth *mouths[2] = {ahead, behind};
    guint n[2] = {0, 0};
    for (guint i = 0; i < l->n_gates; i++) {
        double s = along(&w, l->gates[i].x1, l->gates[i].y1);
        mouths[s < 0][n[s < 0]++] = (Mouth){s, i};
    }
    add_sprue(&w);
    for (int arm = 0; arm < 2; arm++) {
        qsort(mouths[arm], n[arm], sizeof(Mouth), compare_mouths);
        add_arm(&w, mouths[arm], n[arm]);
    }
    set_volumes(&w);
    return g_steal_pointer(&flow);
}
