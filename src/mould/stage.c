// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "mould": gathers what is wished, searches the layout, measures it and writes it down.
#include <math.h>

#include "feed/need.h"
#include "mould/cover.h"
#include "mould/figures.h"
#include "mould/fit.h"
#include "mould/room.h"
#include "mould/vents.h"

const char *const mould_reads[] = {"job.contraction",
                                   "job.cavities",
                                   "job.discharge",
                                   "job.fill_time",
                                   "job.pour_factor",
                                   "job.runner_ratio",
                                   "job.gate_ratio",
                                   "job.basin_height",
                                   "job.choke_area",
                                   "job.gate_width",
                                   "job.gate_depth",
                                   "job.runner_width",
                                   "job.runner_shape",
                                   "job.gate_spread",
                                   "people.pour_rate",
                                   "job.lift_factor",
                                   "job.pouring_temperature",
                                   "flask.length",
                                   "flask.width",
                                   "flask.cope_depth",
                                   "flask.drag_depth",
                                   "flask.frame_mass",
                                   "flask.tab_clearance",
                                   "flask.tab_count",
                                   "flask.tab_kind",
                                   "flask.tab_size",
                                   "flask.tab_inset",
                                   "flask.tab_shift",
                                   "flask.tab_draft",
                                   "flask.weights",
                                   "flask.clamps",
                                   "flask.clamp_force",
                                   "flask.count",
                                   "job.loose_tabs",
                                   "sand.box",
                                   "sand.over",
                                   "sand.vent",
                                   "sand.cover_wall",
                                   "sand.cover_between",
                                   "sand.cover_top",
                                   "sand.cover_bottom",
                                   "shop.ambient",
                                   "metal.liquidus",
                                   "metal.density_liquid",
                                   "metal.density_slope",
                                   "metal.cp_liquid",
                                   "metal.latent_heat",
                                   "metal.gate_velocity",
                                   "sandkind.conductivity",
                                   "sandkind.density",
                                   "sandkind.specific_heat",
                                   "sandkind.rammed_density",
                                   NULL};

static const char *const from_earlier[] = {"casting.volume",       "casting.mass",
                                           "casting.modulus",      "feed.riser_count",
                                           "feed.riser_volume",    "feed.riser_height",
                                           "feed.riser_diameter",  "feed.neck",
                                           "feed.section_modulus", NULL};

// Everything about the flask that does not depend on the cavities.
static void
set_flask(const Inputs *inputs, MouldLayout *l)
{
    l->length = inputs_number(inputs, "flask.length");
    l->width = inputs_number(inputs, "flask.width");
    l->cope = inputs_number(inputs, "flask.cope_depth");
    l->drag = inputs_number(inputs, "flask.drag_depth");
    l->tab_clearance = inputs_number(inputs, "flask.tab_clearance");
    l->tab_draft = inputs_number(inputs, "flask.tab_draft");
    l->tabs_loose = g_strcmp0(inputs_text(inputs, "job.loose_tabs"), "loose") == 0;
    MouldTabWish tabs = mould_figures_tab_wish(inputs);
    l->n_tabs = mould_tabs_place(&tabs, l->tabs);
    l->cover_wall = l->cover_between = l->cover_top = l->cover_bottom = NAN;
    l->metal_volume = l->metal_mass = l->castings_mass = l->fill_time = NAN;
}

static void
measure(MouldLayout *l, const PatternResult *pattern, const FigureList *figures, double scale,
        double wire)
{
    const SolidOutline *outline = pattern->shadow ? pattern->shadow : pattern->parting_outline;
    if (outline && outline->n_points > 0) {
        // A hundredth of a millimetre is far below what sand holds, and spares most points.
        g_autoptr(SolidOutline) simple = solid_outline_simplified(outline, 1e-5);
        mould_cover_measure(l, simple ? simple : outline, scale);
        mould_find_mismatch(l, simple ? simple : outline);
    }
    if (pattern->casting)
        mould_vents_find(l, pattern->casting, scale, wire);
    double above = figure_list_value(figures, "mould.height_above");
    l->cover_top = l->cope - MAX(above, l->riser_height);
    l->cover_bottom = l->drag - figure_list_value(figures, "mould.height_below");
    l->castings_mass = l->n_cavities * figure_list_value(figures, "casting.mass");
}

// How the cavities fill, from the voxels of the pattern.
static MouldLevel *
make_level(const PatternResult *pattern, const MouldWish *wish, double growth)
{
    MouldLevel *level = NULL;
    if (pattern->casting)
        level = mould_level_grid(pattern->casting, growth, -wish->below, wish->above,
                                 wish->cavity_volume);
    if (!level)
        level = mould_level_prism(wish->cavity_volume / (wish->above + wish->below), -wish->below,
                                  wish->above);
    return level;
}

static void
make_layout(const Inputs *inputs, const PatternResult *pattern, const FigureList *figures,
            MouldLayout *layout, MouldWish *wish, const MouldWay *way, MouldPlace *place,
            MouldPlace *better, const Progress *progress)
{
    double growth = 1 + inputs_number(inputs, "job.contraction");
    g_autoptr(MouldLevel) level = make_level(pattern, wish, growth);
    // A casting with less above the parting than its gate is thick is met from the drag.
    gboolean in_drag = wish->above < place->pour.gate_depth && wish->below > wish->above;
    MouldFit fit = {level, inputs_number(inputs, "job.gate_spread"),
                    inputs_is_blank(inputs, "job.runner_ratio") && !(wish->runner > 0), in_drag,
                    progress};
    if (!mould_fit_sizes(&fit, wish, way, place))
        mould_fit_suggest(&fit, wish, way, better);
    mould_build(layout, wish, way, place);
    layout->growth = growth;
    layout->gates_in_drag = wish->above < place->pour.gate_depth && wish->below > wish->above;
    measure(layout, pattern, figures, growth, inputs_number(inputs, "sand.vent"));
    // What cannot be solved stays unknown, and the figures say so.
    layout->filling = mould_fit_run(layout, level, progress, NULL);
    if (layout->filling && !isnan(layout->filling->time))
        layout->fill_time = layout->filling->time;
}

MouldLayout *
mould_stage(const Inputs *inputs, const PatternResult *pattern, const FeedResult *feed,
            FigureList *figures, Progress *progress, GError **error)
{
    if (!progress_check(progress, error))
        return NULL;
    inputs_give(inputs, figures);
    feed_need(figures, mould_reads);
    feed_need(figures, from_earlier);
    MouldWish wish = {0};
    MouldWay way = {0};
    MouldPlace place = {0}, better = {0};
    g_autoptr(MouldLayout) layout = NULL;
    gboolean fits = FALSE;
    if (mould_figures_wish(inputs, pattern, feed, figures, &wish)) {
        layout = mould_layout_new();
        set_flask(inputs, layout);
        fits = mould_place_is_deep_enough(&wish) && mould_place_search(&wish, &way, &place);
        if (fits)
            make_layout(inputs, pattern, figures, layout, &wish, &way, &place, &better, progress);
    }
    if (!progress_check(progress, error))
        return NULL;
    mould_figures_cavities(inputs, &wish, pattern, figures, layout, &way, &place);
    mould_figures_pour(inputs, figures, fits ? layout : NULL, fits ? &place.pour : NULL);
    mould_figures_fill(inputs, figures, layout ? layout->filling : NULL,
                       better.fits ? &better.pour : NULL);
    mould_figures_channels(figures, fits ? &place.pour : NULL);
    mould_figures_neck(inputs, figures, fits ? layout : NULL);
    mould_figures_flask(inputs, pattern, figures, layout);
    return g_steal_pointer(&layout);
}
