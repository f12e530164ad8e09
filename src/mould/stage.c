// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "mould": gathers what is wished, searches the layout, measures it and writes it down.
#include <math.h>

#include "feed/need.h"
#include "mould/arrange.h"
#include "mould/closer.h"
#include "mould/cover.h"
#include "mould/figures.h"
#include "mould/room.h"
#include "mould/tabs.h"
#include "mould/vents.h"

const char *const mould_reads[] = {"job.contraction",
                                   "job.cavities",
                                   "job.turning",
                                   "job.placement",
                                   "job.shares_with",
                                   "job.share_count",
                                   "job.sprue_x",
                                   "job.sprue_y",
                                   "job.discharge",
                                   "job.fill_time",
                                   "job.pour_factor",
                                   "job.runner_ratio",
                                   "job.gate_ratio",
                                   "job.choke_area",
                                   "job.gate_width",
                                   "job.gate_depth",
                                   "job.runner_width",
                                   "job.runner_shape",
                                   "job.gate_spread",
                                   "people.pour_rate",
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
                                   "sand.cover_runner",
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

static const char *const from_earlier[] = {
    "casting.volume",   "casting.mass",      "casting.modulus",      "pattern.projected_area",
    "feed.riser_count", "feed.riser_volume", "feed.riser_height",    "feed.riser_diameter",
    "feed.riser_base",  "feed.neck",         "feed.section_modulus", NULL};

// Everything about the flask that does not depend on the cavities.
static void
set_flask(const Inputs *inputs, const FigureList *figures, MouldLayout *l)
{
    l->length = inputs_number(inputs, "flask.length");
    l->round = g_strcmp0(inputs_text(inputs, "flask.shape"), "round") == 0;
    l->width = l->round ? l->length : inputs_number(inputs, "flask.width");
    l->wall_draft = inputs_number(inputs, "flask.wall_draft");
    l->cope = inputs_number(inputs, "flask.cope_depth");
    l->drag = inputs_number(inputs, "flask.drag_depth");
    l->tab_clearance = inputs_number(inputs, "flask.tab_clearance");
    l->tab_draft = inputs_number(inputs, "flask.tab_draft");
    l->tabs_loose = g_strcmp0(inputs_text(inputs, "job.loose_tabs"), "loose") == 0;
    MouldTabWish tabs = mould_figures_tab_wish(inputs, figures);
    l->n_tabs = mould_tabs_place(&tabs, l->tabs);
    l->cover_wall = l->cover_between = l->cover_top = l->cover_bottom = NAN;
    l->cover_sprue = l->cover_runner = NAN;
    l->metal_volume = l->metal_mass = l->castings_mass = l->fill_time = NAN;
}

static void
measure(MouldLayout *l, const MouldBody *body, const PatternResult *pattern,
        const FigureList *figures, double wire)
{
    const SolidOutline *outline = pattern->shadow ? pattern->shadow : pattern->parting_outline;
    if (body)
        mould_cover_measure(l, body, NULL);
    if (outline && outline->n_points > 0) {
        // A hundredth of a millimetre is far below what sand holds, and spares most points.
        g_autoptr(SolidOutline) simple = solid_outline_simplified(outline, 1e-5);
        mould_find_mismatch(l, simple ? simple : outline);
    }
    if (pattern->casting)
        mould_vents_find(l, pattern->casting, l->growth, wire);
    double above = figure_list_value(figures, "mould.height_above");
    l->cover_top = l->cope - mould_layout_high(l, above);
    l->cover_bottom = l->drag -
                      mould_layout_low(l, figure_list_value(figures, "mould.height_below"));
    l->castings_mass = (l->n_cavities - l->n_guests) * figure_list_value(figures, "casting.mass");
    if (l->n_guests > 0)
        l->castings_mass += l->n_guests * l->guest->mass;
}

// How many cavities there could be at most; the strips only where it is still open. The sand is
// that which is asked for, not what rows add to it for risers that reach out over a casting.
static void
find_bound(MouldLayout *l, const MouldWish *wish, const Progress *progress)
{
    l->strips_bound = l->disc_radius = l->cavity_room = l->least_well = NAN;
    if (!l->fixed || l->n_guests > 0) // bounds are of equal castings
        return;
    g_autoptr(SolidOutline) outline = mould_closer_outline(l->fixed, TRUE);
    MouldBoundTask t = mould_closer_bound(l->fixed, outline);
    t.clearance = wish->asked_between;
    t.length = l->length - 2 * wish->asked_wall;
    t.width = (l->round ? l->length : l->width) - 2 * wish->asked_wall;
    l->disc_radius = mould_bound_inscribed(l->fixed->shadow);
    l->cavity_room = mould_bound_grown(outline, t.clearance / 2);
    l->least_well = mould_bound_well(wish, l->n_cavities, l->disc_radius);
    t.well = fmax(0, l->least_well + 2 * (wish->asked_runner - t.clearance));
    double a = t.length + t.clearance, b = t.width + t.clearance, well = t.well + t.clearance;
    double area = (t.round ? G_PI / 4 * a * a : a * b) - G_PI / 4 * well * well;
    double quick = fmin(area / l->cavity_room, mould_bound_discs(&t, l->disc_radius));
    gboolean open = floor(quick + 1e-6) > l->n_cavities;
    if (open && !(wish->most > 0 && l->n_cavities >= (guint)wish->most))
        l->strips_bound = floor(mould_bound_strips(&t, l->n_cavities, progress) + 1e-6);
    if (isinf(l->strips_bound))
        l->strips_bound = NAN;
}

static gboolean
set_guest(MouldWork *w, const Inputs *inputs, Progress *progress, GError **error)
{
    MouldLayout *l = w->layout;
    g_autoptr(GError) stopped = NULL;
    double count = inputs_number(inputs, "job.share_count");
    w->guest_wish = mould_figures_guest_wish(inputs, w->guest, &w->wish);
    // Between the two there is sand for risers of both that reach out over their castings.
    double reach = w->wish.cover_between - w->wish.asked_between;
    w->guest_wish.cover_between += reach;
    w->guest_wish.cover_runner += reach;
    w->wish.cover_between = w->guest_wish.cover_between;
    w->wish.cover_runner = w->guest_wish.cover_runner;
    w->guests = isnan(count) ? 0 : (guint)CLAMP(count, 1, PLACEMENT_MOST);
    w->wanted[0] = w->guest->own_wanted;
    w->wanted[1] = w->guest->wanted;
    l->guest = mould_guest_ref(w->guest);
    l->guest_body = mould_body_of(w->guest->pattern, w->guest->growth, progress, &stopped);
    if (stopped)
        g_propagate_error(error, g_steal_pointer(&stopped));
    return stopped == NULL;
}

static gboolean
place_and_measure(const Inputs *inputs, const PatternResult *pattern, const FigureList *figures,
                  MouldWork *w, Progress *progress, GError **error)
{
    MouldLayout *l = w->layout = mould_layout_new();
    set_flask(inputs, figures, l);
    l->growth = 1 + inputs_number(inputs, "job.contraction");
    if (w->guest && !set_guest(w, inputs, progress, error))
        return FALSE;
    mould_arrange(w, inputs, pattern, progress);
    if (!progress_check(progress, error))
        return FALSE;
    if (!w->fits)
        return TRUE;
    g_autoptr(GError) stopped = NULL;
    g_autoptr(MouldBody) body = mould_body_of(pattern, l->growth, progress, &stopped);
    if (stopped) {
        g_propagate_error(error, g_steal_pointer(&stopped));
        return FALSE;
    }
    measure(l, body, pattern, figures, inputs_number(inputs, "sand.vent"));
    find_bound(l, &w->wish, progress);
    // What cannot be solved stays unknown, and the figures say so.
    l->filling = mould_fit_run(l, w->level, w->guest_level, progress, NULL);
    if (l->filling && !isnan(l->filling->time))
        l->fill_time = l->filling->time;
    return progress_check(progress, error);
}

MouldLayout *
mould_stage(const Inputs *inputs, const PatternResult *pattern, const FeedResult *feed,
            const MouldGuest *guest, const char *trouble, FigureList *figures, Progress *progress,
            GError **error)
{
    if (!progress_check(progress, error))
        return NULL;
    inputs_give(inputs, figures);
    feed_need(figures, mould_reads);
    feed_need(figures, from_earlier);
    g_auto(MouldWork) w = {.guest = guest};
    gboolean known = mould_figures_wish(inputs, pattern, feed, guest, figures, &w.wish);
    if (known && guest)
        w.alone = mould_figures_alone_wish(inputs, pattern, feed, &w.wish);
    if (known && !place_and_measure(inputs, pattern, figures, &w, progress, error))
        return NULL;
    MouldLayout *layout = w.layout;
    const MouldPour *pour = w.fits ? &w.place.pour : NULL;
    mould_figures_cavities(inputs, &w.wish, pattern, figures, layout, &w.way, &w.place);
    mould_figures_guest(inputs, figures, layout, guest, trouble);
    mould_figures_pour(inputs, figures, w.fits ? layout : NULL, pour);
    mould_figures_fill(inputs, figures, layout, w.has_better ? &w.better : NULL,
                       pattern ? pattern->pull : vec3(0, 0, 0));
    mould_figures_channels(figures, pour);
    mould_figures_neck(inputs, figures, w.fits ? layout : NULL);
    mould_figures_flask(inputs, pattern, figures, layout);
    return g_steal_pointer(&w.layout);
}
