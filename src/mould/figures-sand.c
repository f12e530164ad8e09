// SPDX-License-Identifier: GPL-3.0-or-later
// Sand of a flask, what of it is more than needed, and vents, as figures.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "mould/figures.h"
#include "mould/sand.h"

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
static const FigureSpec spec_boxes = {"mould.sand_boxes",
                                      N_("Boxes of sand for a flask"),
                                      QUANTITY_COUNT,
                                      "ceil(mould.sand_mass / sand.box)",
                                      NULL,
                                      "definition"};
static const FigureSpec spec_all = {"mould.sand_all",
                                    N_("Sand of all flasks"),
                                    QUANTITY_MASS,
                                    "flask.count * mould.sand_mass",
                                    NULL,
                                    "definition"};
static const FigureSpec spec_over = {"mould.sand_over",
                                     N_("Needless sand above"),
                                     QUANTITY_LENGTH,
                                     "max(0, mould.sand_cover.top - " MOULD_LEAST_TOP ")",
                                     NULL,
                                     "geometry",
                                     FIGURE_AT_MOST,
                                     0,
                                     TRUE};
static const FigureSpec spec_below = {"mould.sand_over_below",
                                      N_("Needless sand below"),
                                      QUANTITY_LENGTH,
                                      "max(0, mould.sand_cover.bottom - " MOULD_LEAST_BOTTOM ")",
                                      NULL,
                                      "geometry",
                                      FIGURE_AT_MOST,
                                      0,
                                      TRUE};
static const FigureSpec spec_wasted = {
    "mould.sand_wasted",
    N_("Sand rammed needlessly"),
    QUANTITY_MASS,
    "mould.flask_area * (mould.sand_over + mould.sand_over_below) * sandkind.rammed_density",
    NULL,
    "geometry"};
static const FigureSpec spec_tall = {
    "mould.metal_over",
    N_("Metal of the sprue in it"),
    QUANTITY_MASS,
    "mould.pour_density * mould.sand_over * (mould.choke_area + mould.sprue_top_area) / 2",
    NULL,
    "geometry"};
static const FigureSpec spec_vents = {
    "mould.vents",
    N_("Vents to prick"),
    QUANTITY_COUNT,
    NULL,
    N_("Over each place of a cavity's upper surface that is higher, by a millimetre or more, than "
       "every way from it to a higher one; over each blind riser; and where the way from the gate "
       "is longest, from 40 mm on. Places within 15 mm share one."),
    "common-practice"};
static const FigureSpec spec_vent_depth = {"mould.vent_depth",
                                           N_("Deepest vent"),
                                           QUANTITY_LENGTH,
                                           NULL,
                                           N_("Most sand over a place to vent."),
                                           "geometry"};

static double
disc(double diameter)
{
    return G_PI / 4 * diameter * diameter;
}

static void
add_mass(const Inputs *inputs, FigureList *figures, const MouldLayout *l)
{
    double basin = l ? disc(l->basin_diameter) * l->basin_height : NAN;
    mould_figures_measured(figures, &spec_basin, basin, NULL);
    double flask = figure_list_value(figures, "mould.cope_space") +
                   figure_list_value(figures, "mould.drag_space");
    double sand = mould_sand_mass(flask, figure_list_value(figures, "mould.metal_volume") - basin,
                                  inputs_number(inputs, "sandkind.rammed_density"));
    figure_add(figures, &spec_sand, sand, "mould.cope_space", "mould.drag_space",
               "mould.metal_volume", "mould.basin_volume", "sandkind.rammed_density", NULL);
    figure_add(figures, &spec_boxes, mould_sand_boxes(sand, inputs_number(inputs, "sand.box")),
               "mould.sand_mass", "sand.box", NULL);
    figure_add(figures, &spec_all, inputs_number(inputs, "flask.count") * sand, "flask.count",
               "mould.sand_mass", NULL);
}

// `needed`: for another reason than sand, so that no limit is set.
static Figure *
add_over(const Inputs *inputs, FigureList *figures, const FigureSpec *spec, const char *cover,
         const char *least, gboolean needed, double *over)
{
    double have = figure_list_value(figures, cover), asked = figure_list_value(figures, least);
    *over = isnan(have) ? NAN : mould_sand_over(have, asked);
    Figure *f = figure_add(figures, spec, *over, cover, least, NULL);
    if (!needed)
        figure_limit(f, inputs_number(inputs, "sand.over"), "sand.over");
    return f;
}

static void
add_waste(const Inputs *inputs, FigureList *figures, const MouldLayout *l)
{
    double over, below;
    gboolean open = l && (l->riser.open || l->guest_riser.open);
    Figure *f = add_over(inputs, figures, &spec_over, "mould.sand_cover.top", MOULD_LEAST_TOP, open,
                         &over);
    if (open)
        figure_set_note(f, _("The open riser stands as high as the cope: a lower one would feed "
                             "less."));
    if (figure_is_past(f)) {
        double least = inputs_number(inputs, "flask.cope_depth") - over;
        g_autofree char *cope = mould_figures_size(inputs, least);
        figure_set_note(f, _("A cope %s deep would do, with a shorter sprue; mind the head."),
                        cope);
    }
    f = add_over(inputs, figures, &spec_below, "mould.sand_cover.bottom", MOULD_LEAST_BOTTOM, FALSE,
                 &below);
    if (figure_is_past(f)) {
        double least = inputs_number(inputs, "flask.drag_depth") - below;
        g_autofree char *drag = mould_figures_size(inputs, least);
        figure_set_note(f, _("A drag %s deep would do."), drag);
    }
    double plan = figure_list_value(figures, "mould.flask_area");
    figure_add(figures, &spec_wasted,
               plan * (over + below) * inputs_number(inputs, "sandkind.rammed_density"),
               "mould.flask_area", "mould.sand_over", "mould.sand_over_below",
               "sandkind.rammed_density", NULL);
    double sprue = (figure_list_value(figures, "mould.choke_area") +
                    figure_list_value(figures, "mould.sprue_top_area")) /
                   2;
    figure_add(figures, &spec_tall, figure_list_value(figures, "mould.pour_density") * over * sprue,
               "mould.pour_density", "mould.sand_over", "mould.choke_area", "mould.sprue_top_area",
               NULL);
}

// The vents of the first cavity, in words.
static void
note_vents(const Inputs *inputs, Figure *figure, const MouldLayout *l)
{
    static const char *const where[] = {N_("high point"), N_("blind riser"),
                                        N_("far from the gate")};
    UnitSet units = inputs_units(inputs);
    g_autoptr(GString) words = g_string_new(NULL);
    for (guint i = 0; i < l->n_vents && l->vents[i].cavity == 0; i++) {
        const MouldVent *v = &l->vents[i];
        g_autofree char *diameter = quantity_format(QUANTITY_LENGTH, v->diameter, &units);
        g_autofree char *depth = quantity_format(QUANTITY_LENGTH, v->depth, &units);
        g_string_append_printf(words, words->len > 0 ? "; %s %s, %s" : "%s %s, %s",
                               _(where[v->kind]), diameter, depth);
    }
    if (words->len > 0)
        figure_set_note(figure, _("Of the first cavity (what, wire, sand above): %s."), words->str);
    else if (l->n_vents == 0)
        figure_set_note(figure, _("No place traps air: it leaves by the sprue and the parting."));
}

static void
add_vents(FigureList *figures, const Inputs *inputs, const MouldLayout *l)
{
    double deepest = l && l->n_vents > 0 ? 0 : NAN;
    for (guint i = 0; l && i < l->n_vents; i++)
        deepest = MAX(deepest, l->vents[i].depth);
    Figure *f = mould_figures_measured(figures, &spec_vents, l ? l->n_vents : NAN, "sand.vent");
    if (l)
        note_vents(inputs, f, l);
    if (!l || l->n_vents > 0)
        mould_figures_measured(figures, &spec_vent_depth, deepest, "flask.cope_depth");
}

void
mould_figures_sand(const Inputs *inputs, FigureList *figures, const MouldLayout *l)
{
    add_mass(inputs, figures, l);
    add_waste(inputs, figures, l);
    add_vents(figures, inputs, l);
}
