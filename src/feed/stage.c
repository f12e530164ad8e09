// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "feed": does the casting want a riser, and how large.
//
// A casting of even thickness freezes everywhere at about the same time and spreads its shrinkage;
// one with a heavy section keeps liquid there that nothing feeds. So a riser is wanted "where
// needed" when the largest ball that fits in the casting is more than 1.5 times its modulus: a
// plate gives 1 to 1.3, a long bar 2, a cube or a boss on a plate 3. The riser must then freeze
// later than that section and hold enough to fill it, and the larger of the two answers counts.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "feed/feed.h"
#include "feed/inscribed.h"
#include "feed/need.h"
#include "feed/riser.h"

#define NECK_MARGIN 1.1

const char *const feed_reads[] = {"job.riser", "job.riser_margin", "job.feed_share",
                                  "metal.freezing_shrinkage", NULL};

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
static const FigureSpec spec_count = {
    "feed.riser_count",
    N_("Risers a casting"),
    QUANTITY_COUNT,
    NULL,
    N_("One when risers are set to always. Where needed: one when the alloy shrinks on freezing "
       "and "
       "the heaviest section's radius is more than 1.5 times the modulus of the casting, for then "
       "it freezes well after the rest. The 1.5 is this program's own choice."),
    "common-practice"};
static const FigureSpec spec_modulus = {"feed.riser_modulus",
                                        N_("Modulus the riser needs"),
                                        QUANTITY_LENGTH,
                                        "job.riser_margin * feed.section_modulus",
                                        NULL,
                                        "wlodawer-1966"};
static const FigureSpec spec_by_modulus = {"feed.riser_by_modulus",
                                           N_("Riser diameter to freeze last"),
                                           QUANTITY_LENGTH,
                                           "6 * feed.riser_modulus",
                                           NULL,
                                           "wlodawer-1966"};
static const FigureSpec spec_by_volume = {
    "feed.riser_by_volume",
    N_("Riser diameter to hold enough"),
    QUANTITY_LENGTH,
    "(4 / pi * metal.freezing_shrinkage * casting.volume / (job.feed_share - "
    "metal.freezing_shrinkage))^(1 / 3)",
    NULL,
    "campbell-castings"};
static const FigureSpec spec_share = {"feed.usable_share",
                                      N_("Usable share against shrinkage"),
                                      QUANTITY_RATIO,
                                      "job.feed_share",
                                      NULL,
                                      "campbell-castings",
                                      FIGURE_AT_LEAST,
                                      0.1};
static const FigureSpec spec_diameter = {"feed.riser_diameter",
                                         N_("Riser diameter"),
                                         QUANTITY_LENGTH,
                                         "max(feed.riser_by_modulus, feed.riser_by_volume)",
                                         NULL,
                                         "wlodawer-1966+campbell-castings"};
static const FigureSpec spec_diameter_modulus = {
    "feed.riser_diameter", N_("Riser diameter"), QUANTITY_LENGTH, "feed.riser_by_modulus", NULL,
    "wlodawer-1966"};
static const FigureSpec spec_diameter_none = {
    "feed.riser_diameter", N_("Riser diameter"), QUANTITY_LENGTH, "0 * feed.riser_count", NULL,
    "definition"};
static const FigureSpec spec_height = {
    "feed.riser_height", N_("Riser height"), QUANTITY_LENGTH, "feed.riser_diameter", NULL,
    "common-practice"};
static const FigureSpec spec_volume = {"feed.riser_volume",
                                       N_("Riser volume"),
                                       QUANTITY_VOLUME,
                                       "pi / 4 * feed.riser_diameter^2 * feed.riser_height",
                                       NULL,
                                       "geometry"};
static const FigureSpec spec_neck = {"feed.neck",
                                     N_("Riser neck diameter"),
                                     QUANTITY_LENGTH,
                                     "4 * 1.1 * feed.section_modulus",
                                     NULL,
                                     "wlodawer-1966"};
static const FigureSpec spec_neck_none = {
    "feed.neck", N_("Riser neck diameter"), QUANTITY_LENGTH, "0 * feed.riser_count", NULL,
    "definition"};

FeedResult *
feed_result_ref(const FeedResult *result)
{
    return g_atomic_rc_box_acquire((gpointer)result);
}

void
feed_result_unref(const FeedResult *result)
{
    if (result)
        g_atomic_rc_box_release((gpointer)result);
}

static int
count_risers(const char *choice, double shrinkage, double evenness)
{
    if (g_strcmp0(choice, "always") == 0)
        return 1;
    if (g_strcmp0(choice, "none") == 0)
        return 0;
    // An alloy whose shrinkage is not known is taken to shrink, as nearly all do.
    return (isnan(shrinkage) || shrinkage > 0) && feed_is_uneven(evenness);
}

static void
add_no_riser(FigureList *figures)
{
    figure_add(figures, &spec_diameter_none, 0, "feed.riser_count", NULL);
    figure_add(figures, &spec_neck_none, 0, "feed.riser_count", NULL);
}

static void
add_sizes(FigureList *figures, double volume, double shrinkage, double share)
{
    double by_modulus = figure_list_value(figures, "feed.riser_by_modulus");
    double needed = feed_riser_volume(volume, shrinkage, share);
    double by_volume = feed_riser_by_volume(needed);
    Figure *figure = figure_add(figures, &spec_share, share, "job.feed_share", NULL);
    if (!isnan(shrinkage))
        figure_limit(figure, shrinkage, "metal.freezing_shrinkage");
    figure = figure_add(figures, &spec_by_volume, by_volume, "metal.freezing_shrinkage",
                        "casting.volume", "job.feed_share", NULL);
    if (!isnan(shrinkage) && isnan(needed))
        figure_set_note(figure,
                        _("A riser that can give only %.1f %% of itself never makes up %.1f %% "
                          "shrinkage, however large; an insulating sleeve gives more."),
                        100 * share, 100 * shrinkage);
    if (isnan(shrinkage)) {
        figure = figure_add(figures, &spec_diameter_modulus, by_modulus, "feed.riser_by_modulus",
                            NULL);
        figure_set_note(figure, _("Sized to freeze last only: the alloy's shrinkage is unknown."));
    } else {
        figure_add(figures, &spec_diameter, MAX(by_modulus, by_volume), "feed.riser_by_modulus",
                   "feed.riser_by_volume", NULL);
    }
    double section = figure_list_value(figures, "feed.section_modulus");
    figure_add(figures, &spec_neck, feed_neck(section, NECK_MARGIN), "feed.section_modulus", NULL);
}

static void
add_figures(const Inputs *inputs, FigureList *figures, double inscribed)
{
    double modulus = figure_list_value(figures, "casting.modulus");
    double volume = figure_list_value(figures, "casting.volume");
    double shrinkage = inputs_number(inputs, "metal.freezing_shrinkage");
    if (isnan(inscribed))
        figure_add_unknown(figures, &spec_inscribed, "casting.modulus");
    else
        figure_add(figures, &spec_inscribed, inscribed, "casting.modulus", NULL);
    double evenness = inscribed / modulus;
    figure_add(figures, &spec_evenness, evenness, "feed.inscribed", "casting.modulus", NULL);
    double section = MAX(modulus, inscribed / 3);
    figure_add(figures, &spec_section, section, "casting.modulus", "feed.inscribed", NULL);
    int count = count_risers(inputs_text(inputs, "job.riser"), shrinkage, evenness);
    figure_add(figures, &spec_count, count, "feed.evenness", NULL);
    double needed = inputs_number(inputs, "job.riser_margin") * section;
    figure_add(figures, &spec_modulus, needed, "job.riser_margin", "feed.section_modulus", NULL);
    figure_add(figures, &spec_by_modulus, feed_riser_by_modulus(needed, TRUE), "feed.riser_modulus",
               NULL);
    if (count == 0)
        add_no_riser(figures);
    else
        add_sizes(figures, volume, shrinkage, inputs_number(inputs, "job.feed_share"));
    double diameter = figure_list_value(figures, "feed.riser_diameter");
    figure_add(figures, &spec_height, diameter, "feed.riser_diameter", NULL);
    figure_add(figures, &spec_volume, G_PI / 4 * diameter * diameter * diameter,
               "feed.riser_diameter", "feed.riser_height", NULL);
}

FeedResult *
feed_stage(const Inputs *inputs, const PatternResult *pattern, FigureList *figures,
           Progress *progress, GError **error)
{
    static const char *const needed[] = {"metal.freezing_shrinkage", "job.riser_margin",
                                         "job.feed_share",           "casting.modulus",
                                         "casting.volume",           NULL};
    inputs_give(inputs, figures);
    feed_need(figures, needed);
    double inscribed = NAN;
    if (pattern && pattern->casting) {
        inscribed = feed_inscribed_radius(pattern->casting, NULL, progress, error);
        if (inscribed < 0)
            return NULL;
    }
    add_figures(inputs, figures, inscribed);
    if (!pattern)
        return NULL;
    FeedResult *result = g_atomic_rc_box_new0(FeedResult);
    result->casting_modulus = figure_list_value(figures, "feed.section_modulus");
    double count = figure_list_value(figures, "feed.riser_count");
    result->risers = isnan(count) ? 0 : (int)count;
    result->diameter = figure_list_value(figures, "feed.riser_diameter");
    result->height = figure_list_value(figures, "feed.riser_height");
    result->neck = figure_list_value(figures, "feed.neck");
    result->volume = figure_list_value(figures, "feed.riser_volume");
    result->modulus = feed_cylinder_modulus(result->diameter, result->height, TRUE);
    return result;
}
