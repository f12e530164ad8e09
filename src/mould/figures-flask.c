// SPDX-License-Identifier: GPL-3.0-or-later
// Sand cover as figures, and the order of what follows in the flask.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "mould/figures.h"

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
static const FigureSpec spec_chill = {
    "mould.chill_reach",
    N_("Chill from the parting"),
    QUANTITY_LENGTH,
    NULL,
    N_("From the parting to the chill's outer face: the casting's skin where it lies, and its "
       "thickness."),
    "geometry"};
// With a chill in that half, 1, or without, 0.
#define SPEC_TOP(formula)                                                                          \
    {                                                                                              \
        "mould.sand_cover.top", N_("Sand above"), QUANTITY_LENGTH, formula, NULL, "geometry",      \
            FIGURE_AT_LEAST, 0                                                                     \
    }
#define SPECS_TOP(high)                                                                            \
    {                                                                                              \
        SPEC_TOP("flask.cope_depth - " high),                                                      \
            SPEC_TOP("flask.cope_depth - max(" high ", mould.chill_reach)")                        \
    }
static const FigureSpec spec_top[2] = SPECS_TOP("max(mould.height_above, feed.riser_height)");
static const FigureSpec spec_top_on[2] = SPECS_TOP(
    "max(mould.height_above, feed.riser_base + feed.riser_height)");
static const FigureSpec spec_top_open[2] = SPECS_TOP("mould.height_above");
static const FigureSpec spec_bottom[2] = {
    {"mould.sand_cover.bottom", N_("Sand below"), QUANTITY_LENGTH,
     "flask.drag_depth - mould.height_below", NULL, "geometry", FIGURE_AT_LEAST, 0},
    {"mould.sand_cover.bottom", N_("Sand below"), QUANTITY_LENGTH,
     "flask.drag_depth - max(mould.height_below, mould.chill_reach)", NULL, "geometry",
     FIGURE_AT_LEAST, 0}};

static void
add_cover(const Inputs *inputs, FigureList *figures, const MouldLayout *l)
{
    double above = figure_list_value(figures, "mould.height_above");
    double below = figure_list_value(figures, "mould.height_below");
    double cope_depth = inputs_number(inputs, "flask.cope_depth");
    const char *over = l && mould_layout_chill(l, TRUE) > 0 ? spec_chill.id : NULL;
    const char *under = l && mould_layout_chill(l, FALSE) > 0 ? spec_chill.id : NULL;
    if (over || under)
        mould_figures_measured(figures, &spec_chill, mould_layout_chill(l, over != NULL),
                               "job.chill_thickness");
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
    double high = MAX(above, figure_list_value(figures, "feed.riser_height"));
    if (l)
        high = mould_layout_high(l, above);
    double room = cope_depth - high;
    if (l && l->riser_open)
        f = figure_add(figures, &spec_top_open[over != NULL], room, "flask.cope_depth",
                       "mould.height_above", over, NULL);
    else if (l && l->riser_on_top)
        f = figure_add(figures, &spec_top_on[over != NULL], room, "flask.cope_depth",
                       "mould.height_above", "feed.riser_base", "feed.riser_height", over, NULL);
    else
        f = figure_add(figures, &spec_top[over != NULL], room, "flask.cope_depth",
                       "mould.height_above", "feed.riser_height", over, NULL);
    figure_limit(f, inputs_number(inputs, "sand.cover_top"), "sand.cover_top");
    double most = high + inputs_number(inputs, "sand.cover_top");
    g_autofree char *cope = mould_figures_size(inputs, most);
    if (f->state == FIGURE_FAILS)
        figure_set_note(f, _("A cope %s deep would do."), cope);
    else if (l && l->riser_open)
        figure_set_note(f, _("Over the castings; the risers are open. The basin stands higher than "
                             "they do: stop pouring when metal shows in them."));
    double low = l ? mould_layout_low(l, below) : below;
    f = figure_add(figures, &spec_bottom[under != NULL],
                   inputs_number(inputs, "flask.drag_depth") - low, "flask.drag_depth",
                   "mould.height_below", under, NULL);
    figure_limit(f, inputs_number(inputs, "sand.cover_bottom"), "sand.cover_bottom");
    most = low + inputs_number(inputs, "sand.cover_bottom");
    g_autofree char *drag = mould_figures_size(inputs, most);
    if (f->state == FIGURE_FAILS)
        figure_set_note(f, _("A drag %s deep would do."), drag);
}

void
mould_figures_flask(const Inputs *inputs, const PatternResult *pattern, FigureList *figures,
                    const MouldLayout *layout)
{
    const MouldLayout *l = layout && layout->n_cavities > 0 && pattern ? layout : NULL;
    mould_figures_space(inputs, figures);
    add_cover(inputs, figures, l);
    mould_figures_placing(inputs, pattern, figures, l);
    mould_figures_lift(inputs, pattern, figures, l);
    mould_figures_tabs(inputs, pattern, figures, layout);
    mould_figures_sand(inputs, figures, l);
}
