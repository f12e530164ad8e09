// SPDX-License-Identifier: GPL-3.0-or-later
// Whether a casting gets a riser, where it stands and how large it is, as figures.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "book/field.h"
#include "feed/figures.h"
#include "feed/riser.h"
#include "feed/seat.h"

#define NECK_MARGIN 1.1
#define EQUAL 0.95  // of the heaviest place
#define NEARLY 0.75 // of it, between equal ones

static const FigureSpec spec_count = {
    "feed.riser_count",
    N_("Risers a casting"),
    QUANTITY_COUNT,
    NULL,
    N_("One when risers are set to always. Where needed: one when the alloy shrinks on freezing "
       "and the heaviest section's radius, less what a chill does, is more than 1.5 times the "
       "modulus of the casting, for then it freezes well after the rest. The 1.5 is this program's "
       "own choice."),
    "common-practice"};
#define SPEC_NEEDED(section)                                                                       \
    {                                                                                              \
        "feed.riser_modulus", N_("Modulus the riser needs"), QUANTITY_LENGTH,                      \
            "job.riser_margin * " section, NULL, "wlodawer-1966"                                   \
    }
static const FigureSpec spec_needed = SPEC_NEEDED("feed.section_modulus");
static const FigureSpec spec_needed_chilled = SPEC_NEEDED("feed.chilled_modulus");

static const FigureSpec spec_by_hand_x = {"feed.riser_along",
                                          N_("Riser along the casting"),
                                          QUANTITY_LENGTH,
                                          "job.riser_x * (1 + job.contraction)",
                                          NULL,
                                          "user"};
static const FigureSpec spec_by_hand_y = {"feed.riser_across",
                                          N_("Riser across the casting"),
                                          QUANTITY_LENGTH,
                                          "job.riser_y * (1 + job.contraction)",
                                          NULL,
                                          "user"};
#define OVER_METHOD                                                                                \
    N_("At the highest place of the modulus map; between several within 5 % of it when the "       \
       "casting is three quarters as heavy there. From the middle of the casting's plan, larger "  \
       "by the contraction. A riser beside the casting stands at the side nearest to it.")
static const FigureSpec spec_along = {"feed.riser_along", N_("Riser along the casting"),
                                      QUANTITY_LENGTH,    NULL,
                                      OVER_METHOD,        "geometry"};
static const FigureSpec spec_across = {"feed.riser_across", N_("Riser across the casting"),
                                       QUANTITY_LENGTH,     NULL,
                                       OVER_METHOD,         "geometry"};
static const FigureSpec spec_base = {
    "feed.riser_base",
    N_("Foot of the riser over the parting"),
    QUANTITY_LENGTH,
    NULL,
    N_("Height of the casting's upper skin under the riser's middle, larger by the contraction."),
    "geometry"};
static const FigureSpec spec_base_side = {"feed.riser_base",
                                          N_("Foot of the riser over the parting"),
                                          QUANTITY_LENGTH,
                                          "0 * feed.riser_count",
                                          NULL,
                                          "definition"};
static const FigureSpec spec_seat = {
    "feed.riser_seat",
    N_("Foot of the riser on metal"),
    QUANTITY_RATIO,
    NULL,
    N_("Share of the riser's foot with the casting's metal within a tenth of its diameter below."),
    "geometry",
    FIGURE_AT_LEAST,
    0};

#define SPEC_BY_MODULUS(formula)                                                                   \
    {                                                                                              \
        "feed.riser_by_modulus", N_("Riser diameter to freeze last"), QUANTITY_LENGTH, formula,    \
            NULL, "wlodawer-1966"                                                                  \
    }
static const FigureSpec spec_by_modulus = SPEC_BY_MODULUS("6 * feed.riser_modulus");
static const FigureSpec spec_by_modulus_top = SPEC_BY_MODULUS("5 * feed.riser_modulus");
static const FigureSpec spec_by_modulus_open = SPEC_BY_MODULUS(
    "4 * feed.riser_modulus * feed.riser_height / (feed.riser_height - 2 * feed.riser_modulus)");
static const FigureSpec spec_by_modulus_open_top = SPEC_BY_MODULUS(
    "4 * feed.riser_modulus * feed.riser_height / (feed.riser_height - feed.riser_modulus)");

#define SPEC_BY_VOLUME(formula)                                                                    \
    {                                                                                              \
        "feed.riser_by_volume", N_("Riser diameter to hold enough"), QUANTITY_LENGTH, formula,     \
            NULL, "campbell-castings"                                                              \
    }
static const FigureSpec spec_by_volume = SPEC_BY_VOLUME(
    "(4 / pi * metal.freezing_shrinkage * casting.volume / (job.feed_share - "
    "metal.freezing_shrinkage))^(1 / 3)");
static const FigureSpec spec_by_volume_open = SPEC_BY_VOLUME(
    "sqrt(4 / pi * metal.freezing_shrinkage * casting.volume / ((job.feed_share - "
    "metal.freezing_shrinkage) * feed.riser_height))");

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
static const FigureSpec spec_height_open = {"feed.riser_height",
                                            N_("Riser height"),
                                            QUANTITY_LENGTH,
                                            "flask.cope_depth - feed.riser_base",
                                            NULL,
                                            "definition"};
static const FigureSpec spec_volume = {"feed.riser_volume",
                                       N_("Riser volume"),
                                       QUANTITY_VOLUME,
                                       "pi / 4 * feed.riser_diameter^2 * feed.riser_height",
                                       NULL,
                                       "geometry"};
#define SPEC_DRAWN(ends)                                                                           \
    {                                                                                              \
        "feed.riser_drawn_modulus", N_("Modulus of the riser as drawn"), QUANTITY_LENGTH,          \
            "feed.riser_diameter * feed.riser_height / (4 * feed.riser_height + " ends             \
            " * feed.riser_diameter)",                                                             \
            NULL, "wlodawer-1966"                                                                  \
    }
static const FigureSpec spec_drawn = SPEC_DRAWN("2");
static const FigureSpec spec_drawn_top = SPEC_DRAWN("1");
static const FigureSpec spec_over = {"feed.riser_over_casting",
                                     N_("Riser over casting"),
                                     QUANTITY_RATIO,
                                     "feed.riser_volume / casting.volume",
                                     NULL,
                                     "definition",
                                     FIGURE_AT_MOST,
                                     0,
                                     TRUE};
#define SPEC_NECK(formula, source)                                                                 \
    {                                                                                              \
        "feed.neck", N_("Riser neck diameter"), QUANTITY_LENGTH, formula, NULL, source             \
    }
static const FigureSpec spec_neck = SPEC_NECK("4 * 1.1 * feed.section_modulus", "wlodawer-1966");
static const FigureSpec spec_neck_chilled = SPEC_NECK("4 * 1.1 * feed.chilled_modulus",
                                                      "wlodawer-1966");
static const FigureSpec spec_neck_none = SPEC_NECK("0 * feed.riser_count", "definition");

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

static double
value(const FeedWork *w, const char *id)
{
    return figure_list_value(w->figures, id);
}

static void
add_count(FeedWork *w)
{
    double shrinkage = inputs_number(w->inputs, "metal.freezing_shrinkage");
    const char *choice = inputs_text(w->inputs, "job.riser");
    int count = count_risers(choice, shrinkage, w->evenness);
    Figure *f = figure_add(w->figures, &spec_count, count, w->evenness_id, NULL);
    int without = count_risers(choice, shrinkage, value(w, "feed.evenness"));
    if (f->state != FIGURE_UNKNOWN && count < without)
        figure_set_note(f, _("The chill spares the riser."));
    w->result->risers = f->state == FIGURE_UNKNOWN ? 0 : count;
}

// One riser may feed several equally heavy places from between them, where the casting is nearly as
// heavy there; else it stands over the heaviest.
static Vec3
choose_spot(const FeedResult *r)
{
    if (r->n_spots == 0)
        return vec3(NAN, NAN, NAN);
    double most = r->spots[0].modulus;
    Vec3 sum = vec3(0, 0, 0);
    guint n = 0;
    for (; n < r->n_spots && r->spots[n].modulus >= EQUAL * most; n++)
        sum = vec3_add(sum, r->spots[n].at);
    Vec3 between = vec3_scale(sum, 1.0 / n);
    gboolean heavy = solid_grid_sample(r->map, between) >= NEARLY * most;
    return heavy ? between : r->spots[0].at;
}

// One coordinate of a riser on the casting: a person's own or over the hot spot.
static double
add_place(FeedWork *w, const char *path, double spot, const FigureSpec *own,
          const FigureSpec *found)
{
    double put = inputs_number(w->inputs, path);
    if (isnan(put))
        figure_add(w->figures, found, spot * w->scale, "feed.inscribed", "job.contraction", NULL);
    else
        figure_add(w->figures, own, put * w->scale, path, "job.contraction", NULL);
    return (isnan(put) ? spot : put) * w->scale;
}

// Where the riser stands. FALSE when that cannot be known yet.
static gboolean
add_foot(FeedWork *w)
{
    FeedResult *r = w->result;
    r->on_top = r->risers > 0 && g_strcmp0(inputs_text(w->inputs, "job.riser_kind"), "top") == 0;
    r->open = r->risers > 0 && g_strcmp0(inputs_text(w->inputs, "job.riser_end"), "open") == 0;
    r->seat = 1;
    gboolean shaped = w->pattern && w->pattern->casting;
    if (r->risers > 0 && shaped) {
        Vec3 spot = choose_spot(r);
        r->x = add_place(w, "job.riser_x", spot.x, &spec_by_hand_x, &spec_along);
        r->y = add_place(w, "job.riser_y", spot.y, &spec_by_hand_y, &spec_across);
    }
    if (!r->on_top || !shaped) {
        figure_add(w->figures, &spec_base_side, 0, "feed.riser_count", NULL);
        return TRUE;
    }
    double skin = feed_skin_at(w->pattern->casting, r->x / w->scale, r->y / w->scale, 1);
    r->base = isnan(skin) ? 0 : skin * w->scale;
    figure_add(w->figures, &spec_base, r->base, "feed.riser_along", "feed.riser_across", NULL);
    return !isnan(skin);
}

static void
add_seat(FeedWork *w, gboolean stands)
{
    FeedResult *r = w->result;
    if (!r->on_top || !w->pattern || !w->pattern->casting || !(r->diameter > 0))
        return;
    r->seat = stands ? feed_seat(w->pattern->casting, w->scale, r) : 0;
    Figure *f = figure_add(w->figures, &spec_seat, r->seat, "feed.riser_diameter",
                           "feed.riser_base", NULL);
    figure_limit(f, 1, NULL);
    if (f->state != FIGURE_FAILS)
        return;
    if (!stands) {
        figure_set_note(f, _("There is no casting where the riser was put: move it."));
        return;
    }
    // It works, at the price of metal.
    f->state = FIGURE_CLOSE;
    figure_set_note(f, _("The riser is wider than what it stands on. Its pattern goes on down to "
                         "the parting, or it would not draw: more metal than is counted here, and "
                         "more to saw off. Move it, or put it beside the casting."));
}

static void
add_by_modulus(FeedWork *w)
{
    const FeedResult *r = w->result;
    double needed = value(w, "feed.riser_modulus"), height = value(w, "feed.riser_height");
    if (!r->open) {
        figure_add(w->figures, r->on_top ? &spec_by_modulus_top : &spec_by_modulus,
                   feed_riser_by_modulus(needed, !r->on_top), "feed.riser_modulus", NULL);
        return;
    }
    double d = feed_riser_open_by_modulus(needed, height, !r->on_top);
    Figure *f = figure_add(w->figures,
                           r->on_top ? &spec_by_modulus_open_top : &spec_by_modulus_open, d,
                           "feed.riser_modulus", "feed.riser_height", NULL);
    if (isnan(d) && !isnan(needed) && !isnan(height))
        figure_set_note(f, _("The cope is too shallow for an open riser of this modulus, however "
                             "wide: a deeper cope, or a blind riser."));
}

static void
limit_share(Figure *f, double shrinkage)
{
    g_autofree char *share = field_words("job.feed_share");
    if (!isnan(shrinkage))
        figure_limit(f, shrinkage, "metal.freezing_shrinkage");
    if (f->state == FIGURE_FAILS)
        figure_set_note(f,
                        _("Less than the metal shrinks, so that no riser is large enough: an "
                          "insulating sleeve gives more; say so in %s."),
                        share);
    else if (f->state == FIGURE_CLOSE)
        figure_set_note(f,
                        _("Hardly more than the metal shrinks, so that the riser gets very large: "
                          "an insulating sleeve gives more; say so in %s."),
                        share);
}

static void
add_by_volume(FeedWork *w)
{
    double volume = value(w, "casting.volume"), height = value(w, "feed.riser_height");
    double shrinkage = inputs_number(w->inputs, "metal.freezing_shrinkage");
    double share = inputs_number(w->inputs, "job.feed_share");
    double needed = feed_riser_volume(volume, shrinkage, share);
    w->result->needed_volume = isnan(shrinkage) ? 0 : needed;
    Figure *f = figure_add(w->figures, &spec_share, share, "job.feed_share", NULL);
    limit_share(f, shrinkage);
    if (w->result->open)
        f = figure_add(w->figures, &spec_by_volume_open, feed_riser_open_by_volume(needed, height),
                       "metal.freezing_shrinkage", "casting.volume", "job.feed_share",
                       "feed.riser_height", NULL);
    else
        f = figure_add(w->figures, &spec_by_volume, feed_riser_by_volume(needed),
                       "metal.freezing_shrinkage", "casting.volume", "job.feed_share", NULL);
    if (!isnan(shrinkage) && isnan(needed))
        figure_set_note(f,
                        _("A riser that can give only %.1f %% of itself never makes up %.1f %% "
                          "shrinkage, however large; an insulating sleeve gives more."),
                        100 * share, 100 * shrinkage);
}

static void
add_diameter(FeedWork *w)
{
    if (w->result->risers == 0) {
        figure_add(w->figures, &spec_diameter_none, 0, "feed.riser_count", NULL);
        return;
    }
    double by_modulus = value(w, "feed.riser_by_modulus");
    add_by_volume(w);
    if (isnan(inputs_number(w->inputs, "metal.freezing_shrinkage"))) {
        Figure *f = figure_add(w->figures, &spec_diameter_modulus, by_modulus,
                               "feed.riser_by_modulus", NULL);
        figure_set_note(f, _("Sized to freeze last only: the alloy's shrinkage is unknown."));
        return;
    }
    figure_add(w->figures, &spec_diameter, MAX(by_modulus, value(w, "feed.riser_by_volume")),
               "feed.riser_by_modulus", "feed.riser_by_volume", NULL);
}

// A neck is what a riser beside the casting has.
static void
add_neck(FeedWork *w)
{
    gboolean chilled = g_str_equal(w->section_id, "feed.chilled_modulus");
    if (w->result->risers == 0 || w->result->on_top)
        figure_add(w->figures, &spec_neck_none, 0, "feed.riser_count", NULL);
    else
        figure_add(w->figures, chilled ? &spec_neck_chilled : &spec_neck,
                   feed_neck(w->section, NECK_MARGIN), w->section_id, NULL);
}

// What would do with less, by what makes the riser as large as it is.
static void
note_over(FeedWork *w, Figure *figure)
{
    gboolean by_volume = value(w, "feed.riser_by_volume") > value(w, "feed.riser_by_modulus");
    g_autofree char *share = field_words("job.feed_share");
    gboolean chilled = g_str_equal(w->section_id, "feed.chilled_modulus");
    g_autofree char *chill = field_words(chilled ? "job.chill_width" : "job.chills");
    g_autofree char *stands = field_words("job.riser_kind");
    if (by_volume)
        figure_set_note(figure,
                        _("The riser is heavier than the casting it feeds, all to be sawn off: an "
                          "insulating sleeve gives more of itself; say so in %s."),
                        share);
    else if (w->result->on_top)
        figure_set_note(figure,
                        _("The riser is heavier than the casting it feeds, all to be sawn off: "
                          "thin the heavy section, or chill it with %s."),
                        chill);
    else
        figure_set_note(figure,
                        _("The riser is heavier than the casting it feeds, all to be sawn off: "
                          "thin the heavy section, chill it with %s, or let the riser stand on it, "
                          "where it can be smaller, with %s."),
                        chill, stands);
}

// A riser larger than what it feeds is a sign that something else would be wiser.
static void
add_over(FeedWork *w)
{
    const FeedResult *r = w->result;
    if (r->risers == 0)
        return;
    figure_add(w->figures, r->on_top ? &spec_drawn_top : &spec_drawn, r->modulus,
               "feed.riser_diameter", "feed.riser_height", NULL);
    double over = r->volume / value(w, "casting.volume");
    Figure *f = figure_add(w->figures, &spec_over, over, "feed.riser_volume", "casting.volume",
                           NULL);
    double high = w->pattern ? (w->pattern->height_cope + w->pattern->height_drag) * w->scale : NAN;
    figure_limit(f, 1, NULL);
    if (figure_is_past(f))
        note_over(w, f);
    else if (r->height > high)
        figure_set_note(f, _("The riser is taller than the casting it feeds."));
}

void
feed_figures_riser(FeedWork *w)
{
    FeedResult *r = w->result;
    add_count(w);
    gboolean chilled = g_str_equal(w->section_id, "feed.chilled_modulus");
    double needed = inputs_number(w->inputs, "job.riser_margin") * w->section;
    figure_add(w->figures, chilled ? &spec_needed_chilled : &spec_needed, needed,
               "job.riser_margin", w->section_id, NULL);
    r->needed_modulus = needed;
    gboolean stands = add_foot(w);
    if (r->open)
        figure_add(w->figures, &spec_height_open,
                   inputs_number(w->inputs, "flask.cope_depth") - r->base, "flask.cope_depth",
                   "feed.riser_base", NULL);
    add_by_modulus(w);
    add_diameter(w);
    r->diameter = value(w, "feed.riser_diameter");
    if (!r->open)
        figure_add(w->figures, &spec_height, r->diameter, "feed.riser_diameter", NULL);
    r->height = value(w, "feed.riser_height");
    r->volume = G_PI / 4 * r->diameter * r->diameter * r->height;
    figure_add(w->figures, &spec_volume, r->volume, "feed.riser_diameter", "feed.riser_height",
               NULL);
    r->modulus = feed_cylinder_modulus(r->diameter, r->height, !r->on_top);
    add_neck(w);
    r->neck = value(w, "feed.neck");
    add_over(w);
    add_seat(w, stands);
}
