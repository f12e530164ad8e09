// SPDX-License-Identifier: GPL-3.0-or-later
// The stepped filling as figures: times, gates, the person's pouring, and what chokes the flow.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "mould/figures.h"

#define FLOW_SOURCE "idelchik+haaland-1983+white-fluid-mechanics"

static const FigureSpec spec_time = {
    "mould.fill_time",
    N_("Filling time"),
    QUANTITY_TIME,
    NULL,
    N_("From the first metal in the sprue until all cavities are full: a steady flow through "
       "sprue, runners and gates at every instant, with friction of sand walls, losses at entry, "
       "branchings and exits, and the cavities' own volume by height; the basin is kept full."),
    FLOW_SOURCE,
    FIGURE_AT_MOST,
    0.1};
static const FigureSpec spec_prime = {
    "mould.prime_time",
    N_("Until metal reaches the gates"),
    QUANTITY_TIME,
    NULL,
    N_("Basin, sprue, runners and gates filled at what the sprue gives alone."),
    FLOW_SOURCE};
static const FigureSpec spec_velocity = {
    "mould.gate_velocity",
    N_("Speed at the gates"),
    QUANTITY_VELOCITY,
    NULL,
    N_("The fastest gate of the stepped filling, its flow over its area, until its cavity is nine "
       "tenths full: the surge into the last tenth passes before the metal in the runner has "
       "sped up."),
    "runyoro-1992+campbell-castings",
    FIGURE_AT_MOST,
    0.05};
static const FigureSpec spec_first = {
    "mould.gate_velocity_start",
    N_("Speed at the gates at first"),
    QUANTITY_VELOCITY,
    NULL,
    N_("The fastest gate when the cavities begin to fill. Later, gates of full cavities leave "
       "their metal to the others."),
    FLOW_SOURCE};
static const FigureSpec spec_last = {
    "mould.gate_velocity_last",
    N_("Speed at the gates at last"),
    QUANTITY_VELOCITY,
    NULL,
    N_("The fastest gate at any time, the surge into the last cavities included."),
    FLOW_SOURCE};
static const FigureSpec spec_spread = {
    "mould.gate_spread",
    N_("Unevenness of the gates"),
    QUANTITY_RATIO,
    NULL,
    N_("Largest over smallest flow of a gate when the cavities begin to fill, less one. A gate "
       "feels only the pressure in the runner that passes it, so the far ones run faster."),
    FLOW_SOURCE,
    FIGURE_AT_MOST,
    0.1};
static const FigureSpec spec_fill_spread = {
    "mould.fill_spread",
    N_("Unevenness of the cavities"),
    QUANTITY_RATIO,
    NULL,
    N_("Time of the last cavity over that of the first, from the first metal at the gates, less "
       "one."),
    FLOW_SOURCE};
static const FigureSpec spec_start = {
    "mould.pour_rate",
    N_("Pouring rate"),
    QUANTITY_FLOW,
    NULL,
    N_("Flow down the sprue when the cavities begin to fill, which the person at the ladle has to "
       "keep up with."),
    FLOW_SOURCE,
    FIGURE_AT_MOST,
    0.1};
static const FigureSpec spec_mean = {"mould.pour_rate_mean",
                                     N_("Mean pouring rate"),
                                     QUANTITY_FLOW,
                                     "mould.metal_volume / mould.fill_time",
                                     NULL,
                                     "definition"};
static const FigureSpec spec_full = {
    "mould.runner_full",
    N_("Head over the runner"),
    QUANTITY_LENGTH,
    NULL,
    N_("Least pressure head over the runner's roof where gates turn off, at any time of "
       "the stepped filling. Above nothing the runner runs full and keeps dross at its roof."),
    FLOW_SOURCE,
    FIGURE_AT_LEAST,
    0.1};
static const FigureSpec spec_choke = {
    "mould.choke_place",
    N_("What chokes the flow"),
    QUANTITY_TEXT,
    NULL,
    N_("Of sprue, runners and gates the one with the smallest effective area: where most of the "
       "head is lost, as a mean over the metal that passes."),
    FLOW_SOURCE};

static Figure *
add(FigureList *figures, const FigureSpec *spec, double value, gboolean known)
{
    if (!known)
        return figure_add_unknown(figures, spec, "mould.cavities");
    return figure_add(figures, spec, value, "mould.choke_area", "mould.gate_area",
                      "mould.runner_area", "mould.sprue_top_area", "mould.head", "mould.cavities",
                      "mould.cavity_volume", "mould.height_above", "mould.height_below",
                      "mould.metal_volume", NULL);
}

static void
add_times(FigureList *figures, const MouldFilling *f)
{
    gboolean known = f && !isnan(f->time);
    add(figures, &spec_prime, f ? f->prime_time : NAN, f != NULL);
    Figure *figure = add(figures, &spec_time, known ? f->time : NAN, f != NULL);
    double wall = figure_list_value(figures, "mould.wall_time");
    if (!isnan(wall))
        figure_limit(figure, wall, "mould.wall_time");
    if (f && !known)
        figure_set_note(figure, _("The cavities stand as high as the metal in the basin: they are "
                                  "never full. Raise the basin, or use a deeper cope."));
    else if (figure->state == FIGURE_FAILS)
        figure_set_note(figure, _("The thinnest wall may stop running first: pour hotter, thicken "
                                  "it, or put fewer cavities in a flask."));
    else if (figure->state == FIGURE_CLOSE)
        figure_set_note(figure, _("The thinnest wall hardly waits so long: pour without a halt, "
                                  "and not cooler."));
}

static void
note_fastest(const Inputs *inputs, Figure *figure, const MouldFilling *f)
{
    UnitSet units = inputs_units(inputs);
    g_autofree char *time = quantity_format(QUANTITY_TIME, f->fastest_time, &units);
    if (f->gate_velocity > 1.001 * f->gate_velocity_start)
        figure_set_note(figure,
                        _("The gate of cavity %u, after %s: others are full by then and "
                          "leave it their metal."),
                        f->fastest + 1, time);
    else
        figure_set_note(figure, _("The gate of cavity %u, at first."), f->fastest + 1);
}

static void
note_better(const Inputs *inputs, Figure *figure, const MouldPour *better)
{
    UnitSet units = inputs_units(inputs);
    g_autofree char *choke = quantity_format(QUANTITY_AREA, better->choke, &units);
    g_autofree char *width = quantity_format(QUANTITY_LENGTH, better->gate_width, &units);
    g_autofree char *depth = quantity_format(QUANTITY_LENGTH, better->gate_depth, &units);
    g_autofree char *runner = quantity_format(QUANTITY_LENGTH, better->runner, &units);
    figure_set_note(figure,
                    _("A choke of %s, gates %s by %s and a stepped runner %s square at the well "
                      "would do."),
                    choke, width, depth, runner);
}

static void
add_gates(FigureList *figures, const Inputs *inputs, const MouldFilling *f, const MouldPour *better)
{
    double limit = figure_list_value(figures, "metal.gate_velocity");
    Figure *figure = add(figures, &spec_velocity, f ? f->gate_velocity : NAN, f != NULL);
    if (!isnan(limit))
        figure_limit(figure, limit, "metal.gate_velocity");
    if (isnan(limit))
        figure_set_note(figure, _("No limit is known for this metal."));
    else if (better && figure->state == FIGURE_FAILS)
        note_better(inputs, figure, better);
    else if (f)
        note_fastest(inputs, figure, f);
    add(figures, &spec_first, f ? f->gate_velocity_start : NAN, f != NULL);
    add(figures, &spec_last, f ? f->gate_velocity_last : NAN, f != NULL);
    figure = add(figures, &spec_spread, f ? f->gate_spread : NAN, f != NULL);
    figure_limit(figure, inputs_number(inputs, "job.gate_spread"), "job.gate_spread");
    if (f && f->gate_spread > 998)
        figure_set_note(figure, _("A gate stays dry at first: the metal runs past it. A wider or "
                                  "a stepped runner helps."));
    else if (better && figure->state == FIGURE_FAILS)
        note_better(inputs, figure, better);
    else if (figure->state == FIGURE_FAILS)
        figure_set_note(figure, _("A wider or a stepped runner, or smaller gates, share the metal "
                                  "more evenly."));
    else if (figure->state == FIGURE_CLOSE)
        figure_set_note(figure, _("Nearly as uneven as is borne: a wider or a stepped runner, or "
                                  "smaller gates, share the metal more evenly."));
    add(figures, &spec_fill_spread, f ? f->fill_spread : NAN, f != NULL);
}

static void
add_pouring(FigureList *figures, const Inputs *inputs, const MouldFilling *f)
{
    UnitSet units = inputs_units(inputs);
    double time = figure_list_value(figures, "mould.fill_time");
    double density = figure_list_value(figures, "mould.pour_density");
    Figure *figure = add(figures, &spec_start, f ? f->start_flow : NAN, f != NULL);
    figure_limit(figure, inputs_number(inputs, "people.pour_rate"), "people.pour_rate");
    if (f) {
        g_autofree char *mass = quantity_format(QUANTITY_MASS, f->start_flow * density, &units);
        double limit = inputs_number(inputs, "people.pour_rate");
        g_autofree char *slower = quantity_format(
            QUANTITY_TIME,
            figure_list_value(figures, "mould.fill_time_rule") * f->start_flow / limit, &units);
        if (figure->state == FIGURE_FAILS)
            figure_set_note(figure, _("That is %s a second. A filling time of %s would do."), mass,
                            slower);
        else
            figure_set_note(figure, _("That is %s a second."), mass);
    }
    figure_add(figures, &spec_mean, figure_list_value(figures, "mould.metal_volume") / time,
               "mould.metal_volume", "mould.fill_time", NULL);
}

static void
add_choke(FigureList *figures, const MouldFilling *f)
{
    static const char *const words[3] = {N_("sprue"), N_("runners"), N_("gates")};
    gboolean known = f && f->lost[0] + f->lost[1] + f->lost[2] > 0;
    if (!known) {
        figure_add_unknown(figures, &spec_choke, "mould.cavities");
        return;
    }
    int most = 0;
    double sum = 0;
    for (int i = 0; i < 3; i++) {
        most = f->lost[i] > f->lost[most] ? i : most;
        sum += f->lost[i];
    }
    Figure *figure = figure_add_text(figures, &spec_choke, _(words[most]), "mould.choke_area",
                                     "mould.gate_area", "mould.runner_area", NULL);
    figure_set_note(figure,
                    _("Of the head %.0f %% is lost in the sprue, %.0f %% in the runners and "
                      "%.0f %% in the gates."),
                    100 * f->lost[0] / sum, 100 * f->lost[1] / sum, 100 * f->lost[2] / sum);
}

// Turned over, the casting has its gates in the cope and the runner, in the drag, under them.
static void
note_turned(const Inputs *inputs, FigureList *figures, Figure *figure, Vec3 pull)
{
    UnitSet units = inputs_units(inputs);
    g_autofree char *above = quantity_format(
        QUANTITY_LENGTH, figure_list_value(figures, "mould.height_above"), &units);
    double below = figure_list_value(figures, "mould.height_below");
    g_autofree char *cope = mould_figures_size(inputs,
                                               below + mould_figures_sand_over(inputs, below));
    g_autofree char *turned = field_vector_text((const double[3]){-pull.x, -pull.y, -pull.z});
    figure_set_note(figure,
                    _("The casting has only %s over the parting, so that its gates lie in the drag "
                      "and the runner in the cope, over them. The other way up, with Pull %s in a "
                      "cope %s deep, the runner lies in the drag and runs full."),
                    above, turned, cope);
}

static void
add_head(FigureList *figures, const Inputs *inputs, const MouldLayout *l, const MouldPour *better,
         Vec3 pull)
{
    const MouldFilling *f = l ? l->filling : NULL;
    Figure *figure = add(figures, &spec_full, f ? f->runner_full : NAN, f != NULL);
    figure_limit(figure, 0, NULL);
    if (figure->state != FIGURE_FAILS)
        return;
    if (better)
        note_better(inputs, figure, better);
    else if (l->gates_in_drag)
        note_turned(inputs, figures, figure, pull);
    else
        figure_set_note(figure, _("The metal runs past too fast to fill the runner: smaller gates "
                                  "raise the pressure in it, a wider runner slows it."));
}

void
mould_figures_fill(const Inputs *inputs, FigureList *figures, const MouldLayout *l,
                   const MouldPour *better, Vec3 pull)
{
    const MouldFilling *f = l ? l->filling : NULL;
    add_times(figures, f);
    add_gates(figures, inputs, f, better);
    add_pouring(figures, inputs, f);
    add_head(figures, inputs, l, better, pull);
    add_choke(figures, f);
}
