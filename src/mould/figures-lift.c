// SPDX-License-Identifier: GPL-3.0-or-later
// Lift on the cope, what the cope weighs, and what must be put on it, as figures.
//
// The metal pushes up on all it touches in the cope: on each spot with the head over it, which is
// less by what the metal stands above the parting there. So the push is that of the whole head on
// the area seen along the pull, less the weight of the metal that stands in the cope under a roof.
// The sprue's own mouth has no roof. There are no cores: both halves draw.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "mould/cope-load.h"
#include "mould/figures.h"
#include "mould/gating.h"
#include "mould/lift.h"

#define LEVEL 1e-3 // of the lift, that its tipping adds unseen

static const FigureSpec spec_area = {
    "mould.projected_area",
    N_("Metal seen along the pull"),
    QUANTITY_AREA,
    NULL,
    N_("Area of cavities, risers, necks, gates, runners and well laid over one another, what "
       "overlaps counted once, less the foot of the sprue and open risers."),
    "geometry"};
static const FigureSpec spec_under = {
    "mould.lift_metal",
    N_("Metal standing under the cope"),
    QUANTITY_VOLUME,
    NULL,
    N_("Castings above the parting and risers beside them, which push with less than the whole "
       "head. Necks, gates and runners lie low and count as if they did not stand up at all."),
    "geometry"};
static const FigureSpec spec_static = {
    "mould.lift_static",
    N_("Lift of metal at rest"),
    QUANTITY_FORCE,
    "mould.pour_density * g * (mould.projected_area * mould.head - mould.lift_metal)",
    NULL,
    "lifting-force"};
static const FigureSpec spec_stream = {
    "mould.stream_push",
    N_("Push of the stopped stream"),
    QUANTITY_FORCE,
    "mould.pour_density * mould.peak_flow * job.discharge * sqrt(2 * g * mould.head)",
    NULL,
    "definition"};
static const FigureSpec spec_lift = {
    "mould.lift_force",
    N_("Lift on the cope"),
    QUANTITY_FORCE,
    "max(mould.lift_static * job.lift_factor, mould.lift_static + mould.stream_push)",
    NULL,
    "lifting-force"};
#define LIFT_METHOD                                                                                \
    N_("From the middle of the flask to where the lift acts: the middle of the metal seen along "  \
       "the pull, times the head, less that of what stands under the cope.")
#define COPE_METHOD                                                                                \
    N_("From the middle of the flask to that of the cope's weight. Frame and a cope full of sand " \
       "have theirs in the middle; the room of the metal in it weighs nothing.")
static const FigureSpec spec_lift_x = {"mould.lift_x",  N_("Lift beside the middle, along"),
                                       QUANTITY_LENGTH, NULL,
                                       LIFT_METHOD,     "geometry"};
static const FigureSpec spec_lift_y = {"mould.lift_y",  N_("Lift beside the middle, across"),
                                       QUANTITY_LENGTH, NULL,
                                       LIFT_METHOD,     "geometry"};
static const FigureSpec spec_cope_x = {
    "mould.cope_x",  N_("Cope's weight beside the middle, along"),
    QUANTITY_LENGTH, NULL,
    COPE_METHOD,     "geometry"};
static const FigureSpec spec_cope_y = {
    "mould.cope_y",  N_("Cope's weight beside the middle, across"),
    QUANTITY_LENGTH, NULL,
    COPE_METHOD,     "geometry"};
// The cope tips about an edge of the flask when the moments about it of lift and weights do. With
// the offset e of the lift and half the flask a: L (a + e) = (W + w) a, so that L + L e / a has to
// be held by weights in the middle.
#define OFF(axis)                                                                                  \
    "abs(mould.lift_force * mould.lift_" axis " - mould.cope_mass * g * mould.cope_" axis ")"
static const FigureSpec spec_tipping[2] = {
    {"mould.lift_tipping", N_("Lift with its tipping"), QUANTITY_FORCE,
     "mould.lift_force + 2 * max(" OFF("x") " / flask.length, " OFF("y") " / flask.width)", NULL,
     "statics"},
    {"mould.lift_tipping", N_("Lift with its tipping"), QUANTITY_FORCE,
     "mould.lift_force + 2 * sqrt(" OFF("x") "^2 + " OFF("y") "^2) / flask.length", NULL,
     "statics"}};
static const FigureSpec spec_cope_metal = {
    "mould.cope_metal",
    N_("Metal in the cope"),
    QUANTITY_VOLUME,
    NULL,
    N_("Cavities above the parting by the grid, risers, necks, gates and sprue as drawn."),
    "geometry"};
static const FigureSpec spec_cope_mass = {
    "mould.cope_mass",
    N_("Cope mass"),
    QUANTITY_MASS,
    "(mould.cope_space - mould.cope_metal) * sandkind.rammed_density + flask.frame_mass",
    NULL,
    "geometry"};
static const FigureSpec spec_weight = {"mould.weight_to_add",
                                       N_("Weight to add"),
                                       QUANTITY_MASS,
                                       "max(0, mould.lift_tipping / g - mould.cope_mass)",
                                       NULL,
                                       "statics"};
#define SPEC_WEIGHT_AT(id, label, axis, size)                                                      \
    {                                                                                              \
        id, label, QUANTITY_LENGTH,                                                                \
            "max(-" size " / 2, min(" size " / 2, (mould.lift_force / g * mould.lift_" axis        \
            " - mould.cope_mass * mould.cope_" axis ") / mould.weight_to_add))",                   \
            NULL, "statics"                                                                        \
    }
static const FigureSpec spec_weight_x = SPEC_WEIGHT_AT(
    "mould.weight_x", N_("Best place of the weight, along"), "x", "flask.length");
static const FigureSpec spec_weight_y[2] = {
    SPEC_WEIGHT_AT("mould.weight_y", N_("Best place of the weight, across"), "y", "flask.width"),
    SPEC_WEIGHT_AT("mould.weight_y", N_("Best place of the weight, across"), "y", "flask.length")};
static const FigureSpec spec_clamps = {"mould.clamps_needed",
                                       N_("Or clamps instead"),
                                       QUANTITY_COUNT,
                                       "ceil(mould.weight_to_add * g / flask.clamp_force)",
                                       NULL,
                                       "definition"};
static const FigureSpec spec_hold = {
    "mould.hold_force",
    N_("Force holding the cope down"),
    QUANTITY_FORCE,
    "(mould.cope_mass + flask.weights) * g + flask.clamps * flask.clamp_force",
    NULL,
    "definition",
    FIGURE_AT_LEAST,
    0.1};

// Where the lift acts: the pressure summed over the roofs.
static SolidPoint
lift_middle(const MouldLoad *seen, const MouldLoad *under, double head)
{
    double all = seen->sum * head - under->sum, volume = under->sum > 0 ? under->sum : 0;
    double x = volume > 0 ? volume * under->x : 0, y = volume > 0 ? volume * under->y : 0;
    return (SolidPoint){(seen->sum * head * seen->x - x) / all,
                        (seen->sum * head * seen->y - y) / all};
}

static double
add_push(const Inputs *inputs, const PatternResult *pattern, FigureList *figures,
         const MouldLayout *l, double scale, SolidPoint *middle)
{
    MouldLoad seen = {NAN, NAN, NAN}, under = seen;
    if (l) {
        seen = mould_cope_seen(l, pattern, scale);
        under = mould_cope_roofed(l, pattern, scale);
    }
    double head = figure_list_value(figures, "mould.head");
    double density = figure_list_value(figures, "mould.pour_density");
    double rest = mould_lift_roofed(density, seen.sum, head, under.sum, MOULD_GRAVITY);
    double push = density * figure_list_value(figures, "mould.peak_flow") *
                  mould_velocity(inputs_number(inputs, "job.discharge"), head, MOULD_GRAVITY);
    double lift = mould_lift_surging(rest, inputs_number(inputs, "job.lift_factor"), push);
    mould_figures_measured(figures, &spec_area, seen.sum, NULL);
    mould_figures_measured(figures, &spec_under, under.sum, NULL);
    figure_add(figures, &spec_static, rest, "mould.pour_density", "mould.projected_area",
               "mould.head", "mould.lift_metal", NULL);
    Figure *f = figure_add(figures, &spec_stream, push, "mould.pour_density", "mould.peak_flow",
                           "job.discharge", "mould.head", NULL);
    figure_set_note(f, _("All of the stream at its fastest, stopped at once under the cope when "
                         "the mould is full; the surge factor has to cover it."));
    figure_add(figures, &spec_lift, lift, "mould.lift_static", "job.lift_factor",
               "mould.stream_push", NULL);
    *middle = lift_middle(&seen, &under, head);
    mould_figures_measured(figures, &spec_lift_x, middle->x, NULL);
    mould_figures_measured(figures, &spec_lift_y, middle->y, NULL);
    return lift;
}

// What weights in the middle have to hold, so that the cope neither lifts nor tips.
static double
add_tipping(const Inputs *inputs, FigureList *figures, const MouldTipping *t)
{
    double needed = mould_lift_tipping(t);
    mould_figures_measured(figures, &spec_cope_x, t->cope_x, NULL);
    mould_figures_measured(figures, &spec_cope_y, t->cope_y, NULL);
    Figure *f = figure_add(figures, &spec_tipping[t->round], needed, "mould.lift_force",
                           "mould.lift_x", "mould.lift_y", "mould.cope_mass", "mould.cope_x",
                           "mould.cope_y", "flask.length", t->round ? NULL : "flask.width", NULL);
    if (needed > t->lift * (1 + LEVEL))
        figure_set_note(f,
                        _("The lift acts beside the middle and would tip the cope about the far "
                          "edge of the flask: so much has to be held by weights in the middle, or "
                          "by clamps on all sides."));
    return needed;
}

static void
add_weight(const Inputs *inputs, FigureList *figures, const MouldTipping *t, double weight)
{
    Figure *f = figure_add(figures, &spec_weight, weight, "mould.lift_tipping", "mould.cope_mass",
                           NULL);
    if (!(weight > 0))
        return;
    double g = MOULD_GRAVITY, across = t->round ? t->length : t->width;
    double x = (t->lift / g * t->lift_x - t->weight / g * t->cope_x) / weight;
    double y = (t->lift / g * t->lift_y - t->weight / g * t->cope_y) / weight;
    x = CLAMP(x, -t->length / 2, t->length / 2);
    y = CLAMP(y, -across / 2, across / 2);
    figure_add(figures, &spec_weight_x, x, "flask.length", "mould.lift_force", "mould.lift_x",
               "mould.cope_mass", "mould.cope_x", "mould.weight_to_add", NULL);
    figure_add(figures, &spec_weight_y[t->round], y, t->round ? "flask.length" : "flask.width",
               "mould.lift_force", "mould.lift_y", "mould.cope_mass", "mould.cope_y",
               "mould.weight_to_add", NULL);
    UnitSet units = inputs_units(inputs);
    g_autofree char *along = quantity_format(QUANTITY_LENGTH, x, &units);
    g_autofree char *side = quantity_format(QUANTITY_LENGTH, y, &units);
    g_autofree char *least = quantity_format(
        QUANTITY_MASS, mould_weight_needed(t->lift, t->weight / g, g), &units);
    figure_set_note(f,
                    _("In the middle of the cope it holds the lift and its tipping. Best stands "
                      "%s along and %s across from the middle, where the cope then presses evenly "
                      "on the drag; against the lift alone, without tipping, it takes %s."),
                    along, side, least);
}

static void
add_hold(const Inputs *inputs, FigureList *figures, double lift, double cope, double weight)
{
    double clamp = inputs_number(inputs, "flask.clamp_force");
    double hold = (cope + inputs_number(inputs, "flask.weights")) * MOULD_GRAVITY +
                  inputs_number(inputs, "flask.clamps") * clamp;
    figure_add(figures, &spec_clamps, mould_clamps_needed(weight, clamp, MOULD_GRAVITY),
               "mould.weight_to_add", "flask.clamp_force", NULL);
    Figure *f = figure_add(figures, &spec_hold, hold, "mould.cope_mass", "flask.weights",
                           "flask.clamps", "flask.clamp_force", NULL);
    figure_limit(f, lift, "mould.lift_tipping");
    if (f->state == FIGURE_CLOSE)
        figure_set_note(f, _("It holds with little to spare: a further weight or clamp makes it "
                             "sure."));
    if (f->state != FIGURE_FAILS)
        return;
    UnitSet units = inputs_units(inputs);
    g_autofree char *mass = quantity_format(QUANTITY_MASS, weight, &units);
    figure_set_note(f,
                    _("The metal would lift or tip the cope and run out: put %s on its middle, "
                      "or clamp it on all sides."),
                    mass);
}

void
mould_figures_lift(const Inputs *inputs, const PatternResult *pattern, FigureList *figures,
                   const MouldLayout *l)
{
    double scale = 1 + inputs_number(inputs, "job.contraction");
    SolidPoint middle;
    double lift = add_push(inputs, pattern, figures, l, scale, &middle);
    MouldLoad metal = {NAN, NAN, NAN};
    if (l)
        metal = mould_cope_metal(l, pattern, scale);
    mould_figures_measured(figures, &spec_cope_metal, metal.sum, NULL);
    double sand = inputs_number(inputs, "sandkind.rammed_density");
    double mass = (figure_list_value(figures, "mould.cope_space") - metal.sum) * sand +
                  inputs_number(inputs, "flask.frame_mass");
    figure_add(figures, &spec_cope_mass, mass, "mould.cope_space", "mould.cope_metal",
               "sandkind.rammed_density", "flask.frame_mass", NULL);
    MouldTipping t = {.lift = lift,
                      .lift_x = middle.x,
                      .lift_y = middle.y,
                      .weight = mass * MOULD_GRAVITY,
                      .cope_x = -sand * metal.sum * metal.x / mass,
                      .cope_y = -sand * metal.sum * metal.y / mass,
                      .length = inputs_number(inputs, "flask.length"),
                      .width = inputs_number(inputs, "flask.width"),
                      .round = l && l->round};
    double needed = add_tipping(inputs, figures, &t);
    double weight = isnan(needed) ? NAN : mould_weight_needed(needed, mass, MOULD_GRAVITY);
    add_weight(inputs, figures, &t, weight);
    add_hold(inputs, figures, needed, mass, weight);
}
