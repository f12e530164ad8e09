// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "mould": gathers what is wished, searches the layout, measures it and writes it down.
#include <math.h>

#include "feed/need.h"
#include "mould/alternate.h"
#include "mould/cover.h"
#include "mould/figures.h"
#include "mould/fixed.h"
#include "mould/tabs.h"

const char *const mould_reads[] = {"job.contraction",
                                   "job.cavities",
                                   "job.turning",
                                   "job.placement",
                                   "job.sprue_x",
                                   "job.sprue_y",
                                   "job.discharge",
                                   "job.fill_time",
                                   "job.pour_factor",
                                   "job.runner_ratio",
                                   "job.gate_ratio",
                                   "job.basin_height",
                                   "job.lift_factor",
                                   "job.pouring_temperature",
                                   "flask.length",
                                   "flask.width",
                                   "flask.cope_depth",
                                   "flask.drag_depth",
                                   "flask.shape",
                                   "flask.wall_draft",
                                   "flask.frame_mass",
                                   "flask.tab_clearance",
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

static const char *const from_earlier[] = {"casting.volume",
                                           "casting.mass",
                                           "casting.modulus",
                                           "pattern.projected_area",
                                           "feed.riser_count",
                                           "feed.riser_volume",
                                           "feed.riser_height",
                                           "feed.riser_diameter",
                                           "feed.neck",
                                           "feed.section_modulus",
                                           NULL};

// Everything about the flask that does not depend on the cavities.
static void
set_flask(const Inputs *inputs, MouldLayout *l)
{
    l->length = inputs_number(inputs, "flask.length");
    l->round = g_strcmp0(inputs_text(inputs, "flask.shape"), "round") == 0;
    l->width = l->round ? l->length : inputs_number(inputs, "flask.width");
    l->wall_draft = inputs_number(inputs, "flask.wall_draft");
    l->cope = inputs_number(inputs, "flask.cope_depth");
    l->drag = inputs_number(inputs, "flask.drag_depth");
    l->tab_clearance = inputs_number(inputs, "flask.tab_clearance");
    l->n_tabs = mould_tabs_place(l->length, l->width, inputs_number(inputs, "sand.cover_wall"),
                                 l->tabs);
    l->cover_wall = l->cover_between = l->cover_top = l->cover_bottom = NAN;
    l->cover_sprue = l->cover_runner = NAN;
    l->metal_volume = l->metal_mass = l->castings_mass = l->fill_time = NAN;
}

static void
measure(MouldLayout *l, const MouldBody *body, const FigureList *figures)
{
    if (body)
        mould_cover_measure(l, body, NULL);
    double above = figure_list_value(figures, "mould.height_above");
    l->cover_top = l->cope - MAX(above, l->riser_height);
    l->cover_bottom = l->drag - figure_list_value(figures, "mould.height_below");
    l->castings_mass = l->n_cavities * figure_list_value(figures, "casting.mass");
}

// Everything between what is wished and the figures.
typedef struct {
    MouldWish wish;
    MouldWay way;
    MouldPlace place;
    MouldLayout *layout; // NULL: too little is known
    gboolean fits;
} Work;

static GArray *
spots_of(const MouldLayout *l)
{
    GArray *spots = g_array_new(FALSE, TRUE, sizeof(PlacementSpot));
    for (guint i = 0; i < l->n_cavities; i++) {
        const MouldCavity *c = &l->cavities[i];
        PlacementSpot spot = {c->x, c->y, c->turn, FALSE};
        g_array_append_val(spots, spot);
    }
    return spots;
}

// Gates and runners drawn to the program's own places.
static void
rebuild(Work *w, const GArray *spots, int axis, double x, double y)
{
    MouldLayout *l = w->layout;
    g_clear_pointer(&l->cavities, g_free);
    g_clear_pointer(&l->gates, g_free);
    g_clear_pointer(&l->runners, g_free);
    l->n_runners = 0;
    // The way's columns need not stand evenly about the sprue.
    w->way = (MouldWay){.axis = axis, .rows = 1, .columns = 1};
    mould_fixed_build(l, l->fixed, (const PlacementSpot *)spots->data, spots->len, x, y, axis,
                      &w->place.pour);
    l->by_hand = FALSE;
    w->fits = TRUE;
}

// By hand where cavities or the sprue have places; a sprue alone moves the program's own cavities
// onto a runner through it.
static void
place_cavities(const Inputs *inputs, const PatternResult *pattern, Work *w)
{
    UnitSet units = inputs_units(inputs);
    const char *text = inputs_text(inputs, "job.placement");
    double x = inputs_number(inputs, "job.sprue_x"), y = inputs_number(inputs, "job.sprue_y");
    g_autoptr(GArray) spots = text ? placement_read(text, &units, NULL) : NULL;
    MouldLayout *l = w->layout;
    w->wish.by_hand = spots && spots->len > 0;
    if (!mould_place_is_deep_enough(&w->wish))
        return;
    const SolidOutline *shadow = pattern->shadow, *skin = pattern->parting_outline;
    if (!shadow || shadow->n_points == 0)
        shadow = skin;
    if (!skin || skin->n_points == 0)
        skin = shadow;
    if (shadow && shadow->n_points > 0) {
        g_autoptr(SolidOutline) all = mould_stance_scaled(shadow, l->growth);
        g_autoptr(SolidOutline) parting = mould_stance_scaled(skin, l->growth);
        l->fixed = mould_fixed_new(&w->wish, all, parting);
    }
    if (w->wish.by_hand && l->fixed) {
        mould_fixed_build(l, l->fixed, (PlacementSpot *)spots->data, spots->len, x, y, -1,
                          &w->place.pour);
        w->fits = TRUE;
        return;
    }
    w->fits = mould_place_search(&w->wish, &w->way, &w->place);
    if (w->fits)
        mould_build(l, &w->wish, &w->way, &w->place);
    int axis = w->way.axis;
    double sprue_x, sprue_y;
    g_autoptr(GArray) closer = !l->fixed ? NULL
                                         : mould_alternate_search(l->fixed, l->n_cavities, &axis,
                                                                  &sprue_x, &sprue_y);
    if (closer) {
        x = isnan(x) ? sprue_x : x;
        y = isnan(y) ? sprue_y : y;
    } else if (!w->fits || !l->fixed || (isnan(x) && isnan(y))) {
        return;
    } else {
        closer = spots_of(l);
    }
    rebuild(w, closer, axis, x, y);
}

static gboolean
place_and_measure(const Inputs *inputs, const PatternResult *pattern, const FigureList *figures,
                  Work *w, Progress *progress, GError **error)
{
    w->layout = mould_layout_new();
    set_flask(inputs, w->layout);
    w->layout->growth = 1 + inputs_number(inputs, "job.contraction");
    place_cavities(inputs, pattern, w);
    if (!w->fits)
        return TRUE;
    g_autoptr(GError) stopped = NULL;
    g_autoptr(MouldBody) body = mould_body_of(pattern, w->layout->growth, progress, &stopped);
    if (stopped) {
        g_propagate_error(error, g_steal_pointer(&stopped));
        return FALSE;
    }
    // A casting with less above the parting than its gate is thick is met from the drag.
    double above = figure_list_value(figures, "mould.height_above");
    double below = figure_list_value(figures, "mould.height_below");
    w->layout->gates_in_drag = above < w->place.pour.gate_depth && below > above;
    measure(w->layout, body, figures);
    return TRUE;
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
    Work w = {0};
    if (mould_figures_wish(inputs, pattern, feed, figures, &w.wish) &&
        !place_and_measure(inputs, pattern, figures, &w, progress, error)) {
        mould_layout_unref(w.layout);
        return NULL;
    }
    g_autoptr(MouldLayout) layout = w.layout;
    mould_figures_cavities(inputs, &w.wish, pattern, figures, layout, &w.way, &w.place);
    mould_figures_pour(inputs, figures, w.fits ? layout : NULL, w.fits ? &w.place.pour : NULL);
    mould_figures_neck(inputs, figures, w.fits ? layout : NULL);
    mould_figures_flask(inputs, pattern, figures, layout);
    return g_steal_pointer(&layout);
}
