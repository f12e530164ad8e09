// SPDX-License-Identifier: GPL-3.0-or-later
// Lift on the cope, what the cope weighs, and what must be put on it, as figures.
//
// The metal pushes up on all it touches in the cope: on each spot with the head over it, which is
// less by what the metal stands above the parting there. So the push is that of the whole head on
// the area seen along the pull, less the weight of the metal that stands in the cope under a roof.
// The sprue's own mouth has no roof. There are no cores: both halves draw.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "mould/figures.h"
#include "mould/gating.h"
#include "mould/lift.h"
#include "mould/roof.h"
#include "mould/union.h"

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
static const FigureSpec spec_offset = {
    "mould.lift_offset",
    N_("Lift beside the middle"),
    QUANTITY_LENGTH,
    NULL,
    N_("From the middle of the flask to the middle of the metal seen along the pull."),
    "geometry"};
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
                                       "max(0, mould.lift_force / g - mould.cope_mass)",
                                       NULL,
                                       "lifting-force"};
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

static double
disc(double diameter)
{
    return G_PI / 4 * diameter * diameter;
}

static double
channel_length(const MouldChannel *c)
{
    return hypot(c->x2 - c->x1, c->y2 - c->y1);
}

// Neck length outside the riser, by the layout's own points.
static double
neck_length(const MouldLayout *l, const MouldCavity *c)
{
    if (isnan(c->riser_x))
        return 0;
    return hypot(c->neck_x - c->riser_x, c->neck_y - c->riser_y) - l->riser_diameter / 2;
}

static guint
count_risers(const MouldLayout *l)
{
    guint n = 0;
    for (guint i = 0; i < l->n_cavities && l->riser_diameter > 0; i++)
        n += !isnan(l->cavities[i].riser_x);
    return n;
}

// Everything laid over one another, seen along the pull.
static MouldUnionArea
measure_seen(const MouldLayout *l, const PatternResult *pattern, double scale)
{
    g_autoptr(MouldUnion) u = mould_union_new();
    const SolidOutline *outline = pattern->shadow ? pattern->shadow : pattern->parting_outline;
    g_autoptr(SolidOutline) simple = outline ? solid_outline_simplified(outline, 1e-5) : NULL;
    const SolidOutline *other = l->guest ? l->guest->pattern->shadow : NULL;
    g_autoptr(SolidOutline) guest = other ? solid_outline_simplified(other, 1e-5) : NULL;
    for (guint i = 0; i < l->n_cavities; i++) {
        const MouldCavity *c = &l->cavities[i];
        const SolidOutline *own = c->guest ? guest : simple;
        if (own)
            mould_union_add_outline(u, own, c->guest ? mould_layout_growth(l, i) : scale, c);
        mould_union_add_disc(u, c->riser_x, c->riser_y, l->riser_diameter);
        MouldChannel neck = {
            c->riser_x, c->riser_y, c->neck_x, c->neck_y, mould_layout_neck(l, i)->width, 0};
        if (!isnan(c->riser_x))
            mould_union_add_channel(u, &neck);
    }
    for (guint i = 0; i < l->n_gates; i++)
        mould_union_add_channel(u, &l->gates[i]);
    for (guint i = 0; i < l->n_runners; i++)
        mould_union_add_channel(u, &l->runners[i]);
    mould_union_add_disc(u, l->sprue_x, l->sprue_y,
                         MAX(l->well_diameter, l->sprue_bottom_diameter));
    MouldUnionArea seen = mould_union_measure(u);
    seen.area -= disc(l->sprue_bottom_diameter);
    if (l->riser_open)
        seen.area -= count_risers(l) * disc(l->riser_diameter);
    return seen;
}

// Volume of the casting above z = 0, m3, with cells cut by the skin or by the plane in part.
static double
volume_above(const SolidGrid *grid)
{
    double sum = 0, cell = grid->cell;
    for (int k = 0; k < grid->nz; k++) {
        double above = CLAMP((grid->origin.z + k * cell) / cell + 0.5, 0, 1);
        double layer = 0;
        for (gsize i = 0; above > 0 && i < (gsize)grid->nx * grid->ny; i++)
            layer += CLAMP(0.5 - grid->value[(gsize)k * grid->nx * grid->ny + i] / cell, 0, 1);
        sum += above * layer;
    }
    return sum * cell * cell * cell;
}

// Of all castings of the flask, m3.
static double
castings_above(const MouldLayout *l, const PatternResult *pattern, double scale)
{
    double own = pattern->casting ? volume_above(pattern->casting) * scale * scale * scale : 0;
    double sum = (l->n_cavities - l->n_guests) * own;
    if (l->n_guests > 0 && l->guest->pattern->casting) {
        double s = l->guest->growth;
        sum += l->n_guests * volume_above(l->guest->pattern->casting) * s * s * s;
    }
    return sum;
}

// What stands under a roof in the cope, m3: castings, and risers beside them.
static double
roofed_metal(const MouldLayout *l, const PatternResult *pattern, double scale)
{
    if (!pattern->casting)
        return 0;
    g_autoptr(MouldRoof) roof = mould_roof_new(pattern->casting, scale);
    g_autoptr(MouldRoof) guest = l->n_guests > 0 && l->guest->pattern->casting
                                     ? mould_roof_new(l->guest->pattern->casting, l->guest->growth)
                                     : NULL;
    double sum = castings_above(l, pattern, scale);
    for (guint i = 0; i < l->n_cavities; i++) {
        const MouldCavity *c = &l->cavities[i];
        if (!(l->riser_diameter > 0) || isnan(c->riser_x))
            continue;
        // An open one has no roof, nor has what stands under it.
        if (l->riser_open) {
            sum -= disc(l->riser_diameter) * l->riser_base;
            continue;
        }
        SolidPoint at = mould_roof_into(c, c->riser_x, c->riser_y);
        sum += mould_roof_beside(c->guest && guest ? guest : roof, at.x, at.y, l->riser_diameter,
                                 l->riser_base + l->riser_height);
    }
    return sum;
}

static double
cope_metal(const MouldLayout *l, const PatternResult *pattern, double scale)
{
    double top = l->sprue_top_diameter, bottom = l->sprue_bottom_diameter;
    double volume = G_PI / 12 * l->sprue_height * (top * top + top * bottom + bottom * bottom);
    volume += castings_above(l, pattern, scale) +
              count_risers(l) * disc(l->riser_diameter) * l->riser_height;
    for (guint i = 0; i < l->n_cavities; i++)
        volume += mould_layout_neck(l, i)->width * mould_layout_neck(l, i)->up *
                  neck_length(l, &l->cavities[i]);
    const MouldChannel *c = l->gates_in_drag ? l->runners : l->gates;
    for (guint i = 0; i < (l->gates_in_drag ? l->n_runners : l->n_gates); i++)
        volume += c[i].width * c[i].depth * channel_length(&c[i]);
    return volume;
}

static double
add_push(const Inputs *inputs, const PatternResult *pattern, FigureList *figures,
         const MouldLayout *l, double scale)
{
    MouldUnionArea seen = {NAN, {NAN, NAN}};
    if (l)
        seen = measure_seen(l, pattern, scale);
    double under = l ? roofed_metal(l, pattern, scale) : NAN;
    double head = figure_list_value(figures, "mould.head");
    double density = figure_list_value(figures, "mould.pour_density");
    double rest = mould_lift_roofed(density, seen.area, head, under, MOULD_GRAVITY);
    double push = density * figure_list_value(figures, "mould.peak_flow") *
                  mould_velocity(inputs_number(inputs, "job.discharge"), head, MOULD_GRAVITY);
    double lift = mould_lift_surging(rest, inputs_number(inputs, "job.lift_factor"), push);
    mould_figures_measured(figures, &spec_area, seen.area, NULL);
    mould_figures_measured(figures, &spec_under, under, NULL);
    figure_add(figures, &spec_static, rest, "mould.pour_density", "mould.projected_area",
               "mould.head", "mould.lift_metal", NULL);
    Figure *f = figure_add(figures, &spec_stream, push, "mould.pour_density", "mould.peak_flow",
                           "job.discharge", "mould.head", NULL);
    figure_set_note(f, _("All of the stream at its fastest, stopped at once under the cope when "
                         "the mould is full; the surge factor has to cover it."));
    figure_add(figures, &spec_lift, lift, "mould.lift_static", "job.lift_factor",
               "mould.stream_push", NULL);
    mould_figures_measured(figures, &spec_offset, hypot(seen.centre.x, seen.centre.y), NULL);
    return lift;
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
    figure_limit(f, lift, "mould.lift_force");
    if (f->state != FIGURE_FAILS)
        return;
    UnitSet units = inputs_units(inputs);
    g_autofree char *mass = quantity_format(QUANTITY_MASS, weight, &units);
    figure_set_note(f,
                    _("The metal would lift the cope and run out: put %s on it, over the "
                      "cavities, or clamp it."),
                    mass);
}

void
mould_figures_lift(const Inputs *inputs, const PatternResult *pattern, FigureList *figures,
                   const MouldLayout *l)
{
    double scale = 1 + inputs_number(inputs, "job.contraction");
    double lift = add_push(inputs, pattern, figures, l, scale);
    double metal = l ? cope_metal(l, pattern, scale) : NAN;
    mould_figures_measured(figures, &spec_cope_metal, metal, NULL);
    double mass = (figure_list_value(figures, "mould.cope_space") - metal) *
                      inputs_number(inputs, "sandkind.rammed_density") +
                  inputs_number(inputs, "flask.frame_mass");
    figure_add(figures, &spec_cope_mass, mass, "mould.cope_space", "mould.cope_metal",
               "sandkind.rammed_density", "flask.frame_mass", NULL);
    double weight = isnan(lift) ? NAN : mould_weight_needed(lift, mass, MOULD_GRAVITY);
    figure_add(figures, &spec_weight, weight, "mould.lift_force", "mould.cope_mass", NULL);
    add_hold(inputs, figures, lift, mass, weight);
}
