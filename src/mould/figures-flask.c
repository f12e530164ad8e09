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
// Without anything else there, 0; with a chill of this job's in that half, 1; with castings of
// another job, 2; with both, 3.
#define SPEC_TOP(formula)                                                                          \
    {                                                                                              \
        "mould.sand_cover.top", N_("Sand above"), QUANTITY_LENGTH, formula, NULL, "geometry",      \
            FIGURE_AT_LEAST, 0                                                                     \
    }
#define SPECS_TOP(high)                                                                            \
    {                                                                                              \
        SPEC_TOP("flask.cope_depth - " high),                                                      \
            SPEC_TOP("flask.cope_depth - max(" high ", mould.chill_reach)"),                       \
            SPEC_TOP("flask.cope_depth - max(" high ", mould.guest_high)"),                        \
            SPEC_TOP("flask.cope_depth - max(" high ", mould.chill_reach, mould.guest_high)")      \
    }
static const FigureSpec spec_top[4] = SPECS_TOP("max(mould.height_above, feed.riser_height)");
static const FigureSpec spec_top_on[4] = SPECS_TOP(
    "max(mould.height_above, feed.riser_base + feed.riser_height)");
static const FigureSpec spec_top_open[4] = SPECS_TOP("mould.height_above");
#define SPEC_BOTTOM(low)                                                                           \
    {                                                                                              \
        "mould.sand_cover.bottom", N_("Sand below"), QUANTITY_LENGTH, "flask.drag_depth - " low,   \
            NULL, "geometry", FIGURE_AT_LEAST, 0                                                   \
    }
static const FigureSpec spec_bottom[4] = {
    SPEC_BOTTOM("mould.height_below"), SPEC_BOTTOM("max(mould.height_below, mould.chill_reach)"),
    SPEC_BOTTOM("max(mould.height_below, mould.guest_low)"),
    SPEC_BOTTOM("max(mould.height_below, mould.chill_reach, mould.guest_low)")};

// The extra inputs of sand above or below, and which formula has them.
typedef struct {
    const char *first, *second; // both may be NULL
    int which;
} Extra;

static Extra
find_extra(const MouldLayout *l, gboolean in_cope)
{
    const char *guest = in_cope ? "mould.guest_high" : "mould.guest_low";
    gboolean chill = l && mould_chill_reach(&l->chill, in_cope) > 0, other = l && l->n_guests > 0;
    return (Extra){chill   ? spec_chill.id
                   : other ? guest
                           : NULL,
                   chill && other ? guest : NULL, chill + 2 * other};
}

static void
add_top(const Inputs *inputs, FigureList *figures, const MouldLayout *l)
{
    double above = figure_list_value(figures, "mould.height_above");
    double high = l ? mould_layout_high(l, above)
                    : MAX(above, figure_list_value(figures, "feed.riser_height"));
    double room = inputs_number(inputs, "flask.cope_depth") - high;
    Extra e = find_extra(l, TRUE);
    Figure *f;
    if (l && l->riser.open)
        f = figure_add(figures, &spec_top_open[e.which], room, "flask.cope_depth",
                       "mould.height_above", e.first, e.second, NULL);
    else if (l && l->riser.on_top)
        f = figure_add(figures, &spec_top_on[e.which], room, "flask.cope_depth",
                       "mould.height_above", "feed.riser_base", "feed.riser_height", e.first,
                       e.second, NULL);
    else
        f = figure_add(figures, &spec_top[e.which], room, "flask.cope_depth", "mould.height_above",
                       "feed.riser_height", e.first, e.second, NULL);
    figure_limit(f, figure_list_value(figures, MOULD_LEAST_TOP), MOULD_LEAST_TOP);
    double most = high + figure_list_value(figures, MOULD_LEAST_TOP);
    g_autofree char *cope = mould_figures_size(inputs, most);
    if (f->state == FIGURE_FAILS)
        figure_set_note(f, _("A cope %s deep would do."), cope);
    else if (l && (l->riser.open || l->guest_riser.open))
        figure_set_note(f, _("Over the castings; the risers are open. The basin stands higher than "
                             "they do: stop pouring when metal shows in them."));
}

static void
add_bottom(const Inputs *inputs, FigureList *figures, const MouldLayout *l)
{
    double below = figure_list_value(figures, "mould.height_below");
    double low = l ? mould_layout_low(l, below) : below;
    Extra e = find_extra(l, FALSE);
    Figure *f = figure_add(figures, &spec_bottom[e.which],
                           inputs_number(inputs, "flask.drag_depth") - low, "flask.drag_depth",
                           "mould.height_below", e.first, e.second, NULL);
    figure_limit(f, figure_list_value(figures, MOULD_LEAST_BOTTOM), MOULD_LEAST_BOTTOM);
    double most = low + figure_list_value(figures, MOULD_LEAST_BOTTOM);
    g_autofree char *drag = mould_figures_size(inputs, most);
    if (f->state == FIGURE_FAILS)
        figure_set_note(f, _("A drag %s deep would do."), drag);
}

static void
limit_between(Figure *figure, double least, const char *least_id)
{
    figure_limit(figure, least, least_id);
    if (figure->state == FIGURE_FAILS)
        figure_set_note(figure, _("Sand this thin may fall or let metal through: move the cavities "
                                  "apart and away from sprue and runner, or put fewer in a "
                                  "flask."));
}

static void
add_cover(const Inputs *inputs, FigureList *figures, const MouldLayout *l)
{
    Figure *f = mould_figures_measured(figures, &spec_wall, l ? l->cover_wall : NAN, NULL);
    figure_limit(f, figure_list_value(figures, MOULD_LEAST_WALL), MOULD_LEAST_WALL);
    if (f->state == FIGURE_FAILS)
        figure_set_note(f, _("Metal breaks through sand this thin: move the cavity away from the "
                             "wall, or take a larger flask."));
    double least = figure_list_value(figures, MOULD_LEAST_BETWEEN);
    // A single cavity has no other beside it: then the figure says how far its gating is.
    double between = l ? l->cover_between : NAN;
    if (l && isnan(between))
        between = fmin(l->cover_sprue, l->cover_runner);
    f = mould_figures_measured(figures, &spec_between, between, NULL);
    limit_between(f, least, MOULD_LEAST_BETWEEN);
    if (l && isnan(l->cover_between) && !isnan(between) && f->state != FIGURE_FAILS)
        figure_set_note(f, _("There is one cavity: this is the sand to its sprue and runner."));
    double beside = figure_list_value(figures, MOULD_LEAST_RUNNER);
    f = mould_figures_measured(figures, &spec_to_sprue, l ? l->cover_sprue : NAN, NULL);
    limit_between(f, beside, MOULD_LEAST_RUNNER);
    f = mould_figures_measured(figures, &spec_to_runner, l ? l->cover_runner : NAN, NULL);
    limit_between(f, beside, MOULD_LEAST_RUNNER);
}

static void
add_chill(FigureList *figures, const MouldLayout *l)
{
    double reach = l ? fmax(mould_chill_reach(&l->chill, TRUE), mould_chill_reach(&l->chill, FALSE))
                     : 0;
    if (reach > 0)
        mould_figures_measured(figures, &spec_chill, reach, "job.chill_thickness");
}

void
mould_figures_flask(const Inputs *inputs, const PatternResult *pattern, FigureList *figures,
                    const MouldLayout *layout)
{
    const MouldLayout *l = layout && layout->n_cavities > 0 && pattern ? layout : NULL;
    mould_figures_space(inputs, figures);
    add_chill(figures, l);
    add_cover(inputs, figures, l);
    add_top(inputs, figures, l);
    add_bottom(inputs, figures, l);
    mould_figures_placing(inputs, pattern, figures, l);
    mould_figures_lift(inputs, pattern, figures, l);
    mould_figures_tabs(inputs, pattern, figures, layout);
    mould_figures_sand(inputs, figures, l);
}
