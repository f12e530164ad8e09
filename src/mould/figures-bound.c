// SPDX-License-Identifier: GPL-3.0-or-later
// How many cavities the flask could hold at most: the least of several upper bounds.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "mould/bound.h"
#include "mould/figures.h"

static const FigureSpec spec_shadow = {"mould.shadow_area",
                                       N_("A cavity seen along the pull"),
                                       QUANTITY_AREA,
                                       "pattern.projected_area * (1 + job.contraction)^2",
                                       NULL,
                                       "geometry"};
// Each cavity takes its shadow, the riser beside it, and half the sand between all round both; the
// well likewise. None of it reaches nearer to the wall than the sand there less that half.
static const FigureSpec spec_room = {
    "mould.cavity_room",
    N_("Room of a cavity"),
    QUANTITY_AREA,
    NULL,
    N_("A cavity seen along the pull, with a riser that stands beside it and half the sand between "
       "cavities round both. A neck counts nothing: no sand is asked for beside it."),
    "geometry"};
static const FigureSpec spec_well = {
    "mould.least_well",
    N_("Least well"),
    QUANTITY_LENGTH,
    NULL,
    N_("Well of the least choke through which so many cavities or more can be filled, however they "
       "stand: for the metal of the cavities alone, gates drawn for a twentieth of the speed limit "
       "and no wider than the narrowest side they may enter."),
    "derived"};
static const FigureSpec spec_well_room = {
    "mould.well_room",
    N_("Room of the well"),
    QUANTITY_AREA,
    "pi / 4 * max(0, mould.least_well + 2 * " MOULD_LEAST_RUNNER " - " MOULD_LEAST_BETWEEN ")^2",
    NULL,
    "geometry"};
#define SIDE(of) "max(0, " of " - 2 * " MOULD_LEAST_WALL " + " MOULD_LEAST_BETWEEN ")"
#define LEFT(room) "floor(max(0, " room " - mould.well_room) / mould.cavity_room + 0.000001)"
static const FigureSpec spec_area[2] = {
    {"mould.bound_area", N_("Cavities by area"), QUANTITY_COUNT,
     LEFT(SIDE("flask.length") " * " SIDE("flask.width")), NULL, "geometry"},
    {"mould.bound_area", N_("Cavities by area"), QUANTITY_COUNT,
     LEFT("pi / 4 * " SIDE("flask.length") "^2"), NULL, "geometry"}};
static const FigureSpec spec_disc = {
    "mould.inscribed_radius",
    N_("Radius of a disc in a cavity"),
    QUANTITY_LENGTH,
    NULL,
    N_("Of the largest disc found inside a cavity seen along the pull."),
    "geometry"};
// Middles of such discs lie in what is left of the flask inside sand and radius, and one radius,
// the sand and one radius apart.
#define ROOM(of) "max(0, " of " - 2 * " MOULD_LEAST_WALL " - 2 * mould.inscribed_radius)"
#define APART "(2 * mould.inscribed_radius + " MOULD_LEAST_BETWEEN ")"
static const FigureSpec spec_discs[2] = {
    {"mould.bound_discs", N_("Cavities by the discs in them"), QUANTITY_COUNT,
     "floor(2 / sqrt(3) * " ROOM("flask.length") " * " ROOM(
         "flask.width") " / " APART
                        "^2 + (" ROOM("flask.length") " + " ROOM("flask.width") ") / " APART
                                                                                " + 1 + 0.000001)",
     NULL, "oler-groemer"},
    {"mould.bound_discs", N_("Cavities by the discs in them"), QUANTITY_COUNT,
     "floor(2 / sqrt(3) * pi / 4 * " ROOM("flask.length") "^2 / " APART "^2 + pi / 2 * " ROOM(
         "flask.length") " / " APART " + 1 + 0.000001)",
     NULL, "oler-groemer"}};
static const FigureSpec spec_strips = {
    "mould.bound_strips",
    N_("Cavities by strips"),
    QUANTITY_COUNT,
    NULL,
    N_("Strips along and across the flask are given a worth by a linear program so that a cavity "
       "with its riser and half the sand round both covers at least 1, however it is turned and "
       "wherever it stands; 120 angles of half a turn, 160 rows each way, 24 worths. No more "
       "cavities fit than all strips together are worth without the least that the well covers."),
    "geometry"};
static const FigureSpec spec_bound[2] = {
    {"mould.cavities_bound", N_("Cavities at most"), QUANTITY_COUNT,
     "min(mould.bound_area, mould.bound_discs)", NULL, "definition"},
    {"mould.cavities_bound", N_("Cavities at most"), QUANTITY_COUNT,
     "min(min(mould.bound_area, mould.bound_discs), mould.bound_strips)", NULL, "definition"}};
static const FigureSpec spec_quality = {"mould.placement_quality",
                                        N_("Cavities of those at most"),
                                        QUANTITY_RATIO,
                                        "mould.cavities / mould.cavities_bound",
                                        NULL,
                                        "definition"};

static double
add_area(const Inputs *inputs, FigureList *figures, gboolean round, const MouldLayout *l)
{
    double between = figure_list_value(figures, MOULD_LEAST_BETWEEN);
    double less = between - 2 * figure_list_value(figures, MOULD_LEAST_WALL);
    double a = fmax(0, inputs_number(inputs, "flask.length") + less);
    double b = fmax(0, inputs_number(inputs, "flask.width") + less);
    double each = l ? l->cavity_room : NAN, well = l ? l->least_well : NAN;
    double across = fmax(0, well + 2 * figure_list_value(figures, MOULD_LEAST_RUNNER) - between);
    double well_room = isnan(well) ? NAN : G_PI / 4 * across * across;
    double room = (round ? G_PI / 4 * a * a : a * b) - well_room;
    double bound = isnan(room) || !(each > 0) ? NAN : floor(fmax(0, room) / each + 1e-6);
    mould_figures_measured(figures, &spec_room, each, "mould.shadow_area");
    mould_figures_measured(figures, &spec_well, well, NULL);
    figure_add(figures, &spec_well_room, well_room, "mould.least_well", MOULD_LEAST_RUNNER,
               MOULD_LEAST_BETWEEN, NULL);
    // The width of a round flask is no input of it.
    if (round)
        figure_add(figures, &spec_area[1], bound, "flask.length", MOULD_LEAST_WALL,
                   MOULD_LEAST_BETWEEN, "mould.cavity_room", "mould.well_room", NULL);
    else
        figure_add(figures, &spec_area[0], bound, "flask.length", "flask.width", MOULD_LEAST_WALL,
                   MOULD_LEAST_BETWEEN, "mould.cavity_room", "mould.well_room", NULL);
    return bound;
}

static double
add_discs(const Inputs *inputs, FigureList *figures, gboolean round, double radius)
{
    double wall = 2 * figure_list_value(figures, MOULD_LEAST_WALL);
    MouldBoundTask task = {.round = round,
                           .clearance = figure_list_value(figures, MOULD_LEAST_BETWEEN)};
    // No room at all would still be room for one disc in the formula.
    task.length = fmax(2 * radius, inputs_number(inputs, "flask.length") - wall);
    task.width = round ? task.length
                       : fmax(2 * radius, inputs_number(inputs, "flask.width") - wall);
    double bound = floor(mould_bound_discs(&task, radius) + 1e-6);
    mould_figures_measured(figures, &spec_disc, radius, "mould.shadow_area");
    if (round)
        figure_add(figures, &spec_discs[1], bound, "flask.length", MOULD_LEAST_WALL,
                   MOULD_LEAST_BETWEEN, "mould.inscribed_radius", NULL);
    else
        figure_add(figures, &spec_discs[0], bound, "flask.length", "flask.width", MOULD_LEAST_WALL,
                   MOULD_LEAST_BETWEEN, "mould.inscribed_radius", NULL);
    return bound;
}

static void
note_bound(Figure *f, double area, double discs, double strips, double cavities)
{
    const char *which = strips < fmin(area, discs) ? _("the bound by strips")
                        : discs < area             ? _("the bound by the discs in the cavities")
                                                   : _("the bound by area");
    if (cavities >= f->value)
        figure_set_note(f, _("By %s; the flask holds that many, so no arrangement is better."),
                        which);
    else
        figure_set_note(f,
                        _("By %s. Of the gating it counts the least well alone, since runners can "
                          "be short, so that many need not fit."),
                        which);
}

void
mould_figures_bound(const Inputs *inputs, const PatternResult *pattern, FigureList *figures,
                    const MouldLayout *l)
{
    // Bounds are of equal castings.
    if (l && l->n_guests > 0)
        return;
    gboolean round = g_strcmp0(inputs_text(inputs, "flask.shape"), "round") == 0;
    double grown = 1 + inputs_number(inputs, "job.contraction");
    double shadow = pattern ? pattern->projected_area * grown * grown : NAN;
    figure_add(figures, &spec_shadow, shadow, "pattern.projected_area", "job.contraction", NULL);
    double area = add_area(inputs, figures, round, l);
    double discs = add_discs(inputs, figures, round, l ? l->disc_radius : NAN);
    double strips = l ? l->strips_bound : NAN,
           bound = isnan(discs + area) ? NAN : fmin(area, discs);
    Figure *f;
    if (isnan(strips)) {
        f = figure_add(figures, &spec_bound[0], bound, "mould.bound_area", "mould.bound_discs",
                       NULL);
    } else {
        mould_figures_measured(figures, &spec_strips, strips, "mould.shadow_area");
        bound = fmin(bound, strips);
        f = figure_add(figures, &spec_bound[1], bound, "mould.bound_area", "mould.bound_discs",
                       "mould.bound_strips", NULL);
    }
    double cavities = figure_list_value(figures, "mould.cavities");
    if (!isnan(bound) && !isnan(cavities))
        note_bound(f, area, discs, isnan(strips) ? INFINITY : strips, cavities);
    double quality = cavities / bound;
    figure_add(figures, &spec_quality, isfinite(quality) ? quality : NAN, "mould.cavities",
               "mould.cavities_bound", NULL);
}
