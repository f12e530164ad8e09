// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "feed": where a casting is heavy, does it want a riser, and how large.
//
// A casting of even thickness freezes everywhere at about the same time and spreads its shrinkage;
// one with a heavy section keeps liquid there that nothing feeds. So a riser is wanted "where
// needed" when the largest ball that fits in the casting is more than 1.5 times its modulus: a
// plate gives 1 to 1.3, a long bar 2, a cube or a boss on a plate 3. The riser must then freeze
// later than that section and hold enough to fill it, and the larger of the two answers counts.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "feed/figures.h"
#include "feed/inscribed.h"
#include "feed/need.h"

const char *const feed_reads[] = {"job.riser",
                                  "job.riser_margin",
                                  "job.feed_share",
                                  "job.riser_kind",
                                  "job.riser_end",
                                  "job.riser_x",
                                  "job.riser_y",
                                  "job.chills",
                                  "job.chill_half",
                                  "job.chill_width",
                                  "job.chill_thickness",
                                  "job.chill_factor",
                                  "job.contraction",
                                  "job.pouring_temperature",
                                  "flask.cope_depth",
                                  "shop.ambient",
                                  "metal.freezing_shrinkage",
                                  "metal.density_solid",
                                  "metal.latent_heat",
                                  "metal.cp_liquid",
                                  "metal.liquidus",
                                  "metal.solidus",
                                  NULL};

static const FigureSpec spec_inscribed = {
    "feed.inscribed",
    N_("Heaviest section, radius"),
    QUANTITY_LENGTH,
    NULL,
    N_("Radius of the largest ball that fits inside the rough casting, from the exact distance of "
       "every cell to the nearest one outside; good to about a cell."),
    "geometry"};
static const FigureSpec spec_evenness = {"feed.evenness",
                                         N_("Heaviest section over modulus"),
                                         QUANTITY_NUMBER,
                                         "feed.inscribed / casting.modulus",
                                         NULL,
                                         "geometry"};
static const FigureSpec spec_section = {"feed.section_modulus",
                                        N_("Modulus of the heaviest section"),
                                        QUANTITY_LENGTH,
                                        "max(casting.modulus, feed.inscribed / 3)",
                                        NULL,
                                        "wlodawer-1966"};
static void
clear_result(gpointer data)
{
    FeedResult *result = data;
    solid_grid_unref(result->map);
}

FeedResult *
feed_result_ref(const FeedResult *result)
{
    return g_atomic_rc_box_acquire((gpointer)result);
}

void
feed_result_unref(const FeedResult *result)
{
    if (result)
        g_atomic_rc_box_release_full((gpointer)result, clear_result);
}

static void
add_section(FeedWork *w, double inscribed)
{
    FigureList *figures = w->figures;
    double modulus = figure_list_value(figures, "casting.modulus");
    if (isnan(inscribed))
        figure_add_unknown(figures, &spec_inscribed, "casting.modulus");
    else
        figure_add(figures, &spec_inscribed, inscribed, "casting.modulus", NULL);
    w->evenness = inscribed / modulus;
    w->evenness_id = "feed.evenness";
    figure_add(figures, &spec_evenness, w->evenness, "feed.inscribed", "casting.modulus", NULL);
    w->section = MAX(modulus, inscribed / 3);
    w->section_id = "feed.section_modulus";
    figure_add(figures, &spec_section, w->section, "casting.modulus", "feed.inscribed", NULL);
    w->result->casting_modulus = w->section;
}

// FALSE when stopped.
static gboolean
find_shape(const PatternResult *pattern, FeedResult *result, double *inscribed, Progress *progress,
           GError **error)
{
    g_autoptr(GError) stopped = NULL;
    *inscribed = feed_inscribed_radius(pattern->casting, NULL, progress, &stopped);
    if (!stopped)
        result->map = feed_modulus_map(pattern->casting, *inscribed, progress, &stopped);
    if (stopped) {
        g_propagate_error(error, g_steal_pointer(&stopped));
        return FALSE;
    }
    if (result->map)
        result->n_spots = feed_modulus_spots(result->map, result->spots);
    return TRUE;
}

FeedResult *
feed_stage(const Inputs *inputs, const PatternResult *pattern, FigureList *figures,
           Progress *progress, GError **error)
{
    static const char *const from_earlier[] = {"casting.modulus", "casting.volume", "casting.area",
                                               NULL};
    inputs_give(inputs, figures);
    feed_need(figures, feed_reads);
    feed_need(figures, from_earlier);
    double inscribed = NAN;
    g_autoptr(FeedResult) result = g_atomic_rc_box_new0(FeedResult);
    if (pattern && pattern->casting && !find_shape(pattern, result, &inscribed, progress, error))
        return NULL;
    FeedWork work = {.inputs = inputs,
                     .pattern = pattern,
                     .figures = figures,
                     .result = result,
                     .scale = 1 + inputs_number(inputs, "job.contraction")};
    add_section(&work, inscribed);
    feed_figures_spot(&work);
    feed_figures_chill(&work);
    result->fed_modulus = work.section;
    feed_figures_riser(&work);
    return pattern ? g_steal_pointer(&result) : NULL;
}
