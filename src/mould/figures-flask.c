// SPDX-License-Identifier: GPL-3.0-or-later
// Sand cover, lift, weight, index tabs and sand as figures.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "mould/figures.h"
#include "mould/gating.h"
#include "mould/lift.h"
#include "mould/tabs.h"

static const FigureSpec spec_wall = {
    "mould.sand_cover.wall",
    N_("Sand to the wall"),
    QUANTITY_LENGTH,
    NULL,
    N_("Least distance from any cavity or riser to the flask's wall, in all three directions."),
    "geometry",
    FIGURE_AT_LEAST,
    0};
static const FigureSpec spec_between = {
    "mould.sand_cover.between",
    N_("Sand between"),
    QUANTITY_LENGTH,
    NULL,
    N_("Least distance between two cavities with their risers, in all three directions: from "
       "points over the one in the distance field of the other, then between the true skins."),
    "geometry",
    FIGURE_AT_LEAST,
    0};
static const FigureSpec spec_to_sprue = {
    "mould.sand_cover.sprue",
    N_("Sand to the sprue"),
    QUANTITY_LENGTH,
    NULL,
    N_("Least distance from any cavity or riser to the sprue and its well, in all three "
       "directions."),
    "geometry",
    FIGURE_AT_LEAST,
    0};
static const FigureSpec spec_to_runner = {
    "mould.sand_cover.runner",
    N_("Sand to the runner"),
    QUANTITY_LENGTH,
    NULL,
    N_("Least distance from any cavity or riser to a runner, in all three directions; its own "
       "gate and neck not counted."),
    "geometry",
    FIGURE_AT_LEAST,
    0};
static const FigureSpec spec_top = {"mould.sand_cover.top",
                                    N_("Sand above"),
                                    QUANTITY_LENGTH,
                                    "flask.cope_depth - max(mould.height_above, feed.riser_height)",
                                    NULL,
                                    "geometry",
                                    FIGURE_AT_LEAST,
                                    0};
static const FigureSpec spec_top_on = {
    "mould.sand_cover.top",
    N_("Sand above"),
    QUANTITY_LENGTH,
    "flask.cope_depth - max(mould.height_above, feed.riser_base + feed.riser_height)",
    NULL,
    "geometry",
    FIGURE_AT_LEAST,
    0};
static const FigureSpec spec_top_open = {"mould.sand_cover.top",
                                         N_("Sand above"),
                                         QUANTITY_LENGTH,
                                         "flask.cope_depth - mould.height_above",
                                         NULL,
                                         "geometry",
                                         FIGURE_AT_LEAST,
                                         0};
static const FigureSpec spec_bottom = {"mould.sand_cover.bottom",
                                       N_("Sand below"),
                                       QUANTITY_LENGTH,
                                       "flask.drag_depth - mould.height_below",
                                       NULL,
                                       "geometry",
                                       FIGURE_AT_LEAST,
                                       0};
static const FigureSpec spec_area = {
    "mould.projected_area",
    N_("Metal seen along the pull"),
    QUANTITY_AREA,
    NULL,
    N_("Area at the parting of cavities, risers, necks, gates, runners and well, as drawn."),
    "geometry"};
static const FigureSpec spec_lift = {
    "mould.lift_force",
    N_("Lift on the cope"),
    QUANTITY_FORCE,
    "mould.pour_density * g * mould.projected_area * mould.head * job.lift_factor",
    NULL,
    "lifting-force"};
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
static const FigureSpec spec_wrong = {
    "mould.wrong_closings",
    N_("Wrong ways the flask closes"),
    QUANTITY_COUNT,
    NULL,
    N_("Cope turned end for end, or turned over lengthwise or crosswise: how many of the three let "
       "every tab into a socket within the clearance."),
    "geometry",
    FIGURE_AT_MOST,
    0};
static const FigureSpec spec_mismatch = {"mould.mismatch",
                                         N_("Mismatch the tabs allow"),
                                         QUANTITY_LENGTH,
                                         "sqrt(2) * flask.tab_clearance",
                                         NULL,
                                         "geometry"};
static const FigureSpec spec_basin = {"mould.basin_volume",
                                      N_("Metal in the basin"),
                                      QUANTITY_VOLUME,
                                      NULL,
                                      N_("A round basin 2.5 times as wide as the sprue's mouth."),
                                      "common-practice"};
static const FigureSpec spec_sand = {
    "mould.sand_mass",
    N_("Sand of a flask"),
    QUANTITY_MASS,
    "(mould.cope_space + mould.drag_space - mould.metal_volume + mould.basin_volume) * "
    "sandkind.rammed_density",
    NULL,
    "geometry"};

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

static double
projected_area(const MouldLayout *l, double casting)
{
    double area = disc(l->well_diameter);
    for (guint i = 0; i < l->n_cavities; i++) {
        area += casting + l->riser_seen + l->neck.width * neck_length(l, &l->cavities[i]);
        area += l->gates[i].width * channel_length(&l->gates[i]);
    }
    for (guint i = 0; i < l->n_runners; i++)
        area += l->runners[i].width * channel_length(&l->runners[i]);
    return area;
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

static double
cope_metal(const MouldLayout *l, const PatternResult *pattern, double scale)
{
    double top = l->sprue_top_diameter, bottom = l->sprue_bottom_diameter;
    double volume = G_PI / 12 * l->sprue_height * (top * top + top * bottom + bottom * bottom);
    double casting = pattern->casting ? volume_above(pattern->casting) : 0;
    volume += l->n_cavities *
              (casting * scale * scale * scale + disc(l->riser_diameter) * l->riser_height);
    for (guint i = 0; i < l->n_cavities; i++)
        volume += l->neck.width * l->neck.up * neck_length(l, &l->cavities[i]);
    const MouldChannel *c = l->gates_in_drag ? l->runners : l->gates;
    for (guint i = 0; i < (l->gates_in_drag ? l->n_runners : l->n_gates); i++)
        volume += c[i].width * c[i].depth * channel_length(&c[i]);
    return volume;
}

static void
add_cover(const Inputs *inputs, FigureList *figures, const MouldLayout *l)
{
    double above = figure_list_value(figures, "mould.height_above");
    double below = figure_list_value(figures, "mould.height_below");
    double cope_depth = inputs_number(inputs, "flask.cope_depth");
    double bottom = inputs_number(inputs, "flask.drag_depth") - below;
    Figure *f = mould_figures_measured(figures, &spec_wall, l ? l->cover_wall : NAN, NULL);
    figure_limit(f, inputs_number(inputs, "sand.cover_wall"), "sand.cover_wall");
    double least = inputs_number(inputs, "sand.cover_between");
    // A single cavity has no other beside it: then the figure says how far its gating is.
    double between = l ? l->cover_between : NAN;
    if (l && isnan(between))
        between = fmin(l->cover_sprue, l->cover_runner);
    f = mould_figures_measured(figures, &spec_between, between, NULL);
    figure_limit(f, least, "sand.cover_between");
    if (l && isnan(l->cover_between) && !isnan(between))
        figure_set_note(f, _("There is one cavity: this is the sand to its sprue and runner."));
    f = mould_figures_measured(figures, &spec_to_sprue, l ? l->cover_sprue : NAN, NULL);
    figure_limit(f, least, "sand.cover_between");
    f = mould_figures_measured(figures, &spec_to_runner, l ? l->cover_runner : NAN, NULL);
    figure_limit(f, least, "sand.cover_between");
    double high = above;
    if (l && l->riser_open) {
        f = figure_add(figures, &spec_top_open, cope_depth - high, "flask.cope_depth",
                       "mould.height_above", NULL);
    } else if (l && l->riser_on_top) {
        high = mould_layout_high(l, above);
        f = figure_add(figures, &spec_top_on, cope_depth - high, "flask.cope_depth",
                       "mould.height_above", "feed.riser_base", "feed.riser_height", NULL);
    } else {
        high = MAX(above, figure_list_value(figures, "feed.riser_height"));
        f = figure_add(figures, &spec_top, cope_depth - high, "flask.cope_depth",
                       "mould.height_above", "feed.riser_height", NULL);
    }
    figure_limit(f, inputs_number(inputs, "sand.cover_top"), "sand.cover_top");
    double most = high + inputs_number(inputs, "sand.cover_top");
    g_autofree char *cope = mould_figures_size(inputs, most);
    if (f->state == FIGURE_FAILS)
        figure_set_note(f, _("A cope %s deep would do."), cope);
    else if (l && l->riser_open)
        figure_set_note(f, _("Over the castings; the risers are open. The basin stands higher than "
                             "they do: stop pouring when metal shows in them."));
    f = figure_add(figures, &spec_bottom, bottom, "flask.drag_depth", "mould.height_below", NULL);
    figure_limit(f, inputs_number(inputs, "sand.cover_bottom"), "sand.cover_bottom");
    most = below + inputs_number(inputs, "sand.cover_bottom");
    g_autofree char *drag = mould_figures_size(inputs, most);
    if (f->state == FIGURE_FAILS)
        figure_set_note(f, _("A drag %s deep would do."), drag);
}

static void
add_lift(const Inputs *inputs, const PatternResult *pattern, FigureList *figures,
         const MouldLayout *l, double scale)
{
    double area = l ? projected_area(l, pattern->projected_area * scale * scale) : NAN;
    double lift = mould_lift(figure_list_value(figures, "mould.pour_density"), area,
                             figure_list_value(figures, "mould.head"), MOULD_GRAVITY) *
                  inputs_number(inputs, "job.lift_factor");
    mould_figures_measured(figures, &spec_area, area, NULL);
    figure_add(figures, &spec_lift, lift, "mould.pour_density", "mould.projected_area",
               "mould.head", "job.lift_factor", NULL);
    double metal = l ? cope_metal(l, pattern, scale) : NAN;
    mould_figures_measured(figures, &spec_cope_metal, metal, NULL);
    double mass = (figure_list_value(figures, "mould.cope_space") - metal) *
                      inputs_number(inputs, "sandkind.rammed_density") +
                  inputs_number(inputs, "flask.frame_mass");
    figure_add(figures, &spec_cope_mass, mass, "mould.cope_space", "mould.cope_metal",
               "sandkind.rammed_density", "flask.frame_mass", NULL);
    double weight = isnan(lift) ? NAN : mould_weight_needed(lift, mass, MOULD_GRAVITY);
    figure_add(figures, &spec_weight, weight, "mould.lift_force", "mould.cope_mass", NULL);
}

static void
add_tabs(const Inputs *inputs, FigureList *figures, const MouldLayout *l)
{
    double clearance = inputs_number(inputs, "flask.tab_clearance");
    if (!l) {
        figure_add_unknown(figures, &spec_wrong, "mould.cavities");
    } else if (l->n_tabs == 0) {
        Figure *f = figure_add_unknown(figures, &spec_wrong, "sand.cover_wall");
        figure_set_note(f, _("The sand at the wall leaves no room for index tabs."));
    } else {
        const int way[3][2] = {{-1, -1}, {-1, 1}, {1, -1}};
        int wrong = 0;
        for (int i = 0; i < 3; i++)
            wrong += mould_tabs_fit(l->tabs, l->n_tabs, clearance, way[i][0], way[i][1]);
        Figure *f = figure_add(figures, &spec_wrong, wrong, "flask.length", "flask.width",
                               "sand.cover_wall", "flask.tab_clearance", NULL);
        figure_limit(f, 0, NULL);
    }
    // Cavities lie inside the tabs, where sliding cornerwise is the worst that can happen: see
    // mould_mismatch_at().
    figure_add(figures, &spec_mismatch, sqrt(2) * clearance, "flask.tab_clearance", NULL);
}

static void
add_sand(const Inputs *inputs, FigureList *figures, const MouldLayout *l)
{
    double basin = l ? disc(l->basin_diameter) * l->basin_height : NAN;
    mould_figures_measured(figures, &spec_basin, basin, NULL);
    double flask = figure_list_value(figures, "mould.cope_space") +
                   figure_list_value(figures, "mould.drag_space");
    double sand = (flask - figure_list_value(figures, "mould.metal_volume") + basin) *
                  inputs_number(inputs, "sandkind.rammed_density");
    figure_add(figures, &spec_sand, sand, "mould.cope_space", "mould.drag_space",
               "mould.metal_volume", "mould.basin_volume", "sandkind.rammed_density", NULL);
}

void
mould_figures_flask(const Inputs *inputs, const PatternResult *pattern, FigureList *figures,
                    const MouldLayout *layout)
{
    double scale = 1 + inputs_number(inputs, "job.contraction");
    const MouldLayout *l = layout && layout->n_cavities > 0 && pattern ? layout : NULL;
    mould_figures_space(inputs, figures);
    add_cover(inputs, figures, l);
    mould_figures_placing(inputs, pattern, figures, l);
    add_lift(inputs, pattern, figures, l, scale);
    add_tabs(inputs, figures, layout);
    add_sand(inputs, figures, l);
}
