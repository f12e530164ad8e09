// SPDX-License-Identifier: GPL-3.0-or-later
// The riser's neck as figures. A round neck of four times the modulus would often stand out over
// the casting it joins; this one has the same modulus and stays within the casting's height.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "mould/figures.h"

#define JOINT_METHOD                                                                               \
    N_("By the grid, a quarter of the neck's diameter inside of where it joins the casting, "      \
       "larger by the contraction; the least over the middle half of its width and of all "        \
       "cavities.")

static const FigureSpec spec_above = {
    "mould.joint_above", N_("Casting over the parting at the neck"),
    QUANTITY_LENGTH,     NULL,
    JOINT_METHOD,        "geometry"};
static const FigureSpec spec_below = {
    "mould.joint_below", N_("Casting under the parting at the neck"),
    QUANTITY_LENGTH,     NULL,
    JOINT_METHOD,        "geometry"};
static const FigureSpec spec_across = {"mould.joint_width",
                                       N_("Casting across the neck"),
                                       QUANTITY_LENGTH,
                                       NULL,
                                       N_("By the grid, there and close to the parting: twice the "
                                          "lesser reach to either side, at most "
                                          "twice the neck's diameter; the least of all cavities."),
                                       "geometry"};
static const FigureSpec spec_height = {"mould.neck_height",
                                       N_("Neck height"),
                                       QUANTITY_LENGTH,
                                       "min(feed.neck, mould.joint_above + mould.joint_below)",
                                       NULL,
                                       "geometry"};
static const FigureSpec spec_width = {
    "mould.neck_width",
    N_("Neck width"),
    QUANTITY_LENGTH,
    "min(min(feed.riser_diameter, mould.joint_width), mould.neck_height * feed.neck / max(2 * "
    "mould.neck_height - feed.neck, 0.000001))",
    NULL,
    "geometry"};
static const FigureSpec spec_modulus = {
    "mould.neck_modulus",
    N_("Modulus of the neck"),
    QUANTITY_LENGTH,
    "mould.neck_width * mould.neck_height / (2 * (mould.neck_width + mould.neck_height))",
    NULL,
    "wlodawer-1966",
    FIGURE_AT_LEAST,
    0.05};

static const FigureSpec spec_length = {"mould.neck_length",
                                       N_("Neck length"),
                                       QUANTITY_LENGTH,
                                       NULL,
                                       N_("From the riser's rim to the casting, as drawn."),
                                       "geometry"};
static const FigureSpec spec_cold = {
    "mould.risers_cold",
    N_("Risers that fill last"),
    QUANTITY_COUNT,
    NULL,
    N_("Risers whose gate goes past them into the casting, since metal lies between them and the "
       "runner. Their metal has come through the casting and is the colder."),
    "geometry"};

static void
add_path(FigureList *figures, const MouldLayout *l)
{
    const MouldCavity *c = &l->cavities[0];
    double away = hypot(c->neck_x - c->riser_x, c->neck_y - c->riser_y);
    mould_figures_measured(figures, &spec_length, away - l->riser.diameter / 2, "feed.neck");
    guint cold = mould_layout_cold(l);
    Figure *f = mould_figures_measured(figures, &spec_cold, cold, "feed.riser_count");
    figure_set_note(f, cold > 0 ? _("The metal of a cold riser has come through the casting: it "
                                    "may freeze first. Turn the casting, so that its heavy side "
                                    "faces the runner, or top the riser up by hand.")
                                : _("The metal comes to the casting through the riser, which "
                                    "stays the hotter."));
}

void
mould_figures_neck(const Inputs *inputs, FigureList *figures, const MouldLayout *l)
{
    if (!l || !(l->neck.width > 0))
        return;
    double height = l->neck.up + l->neck.down, width = l->neck.width;
    mould_figures_measured(figures, &spec_above, l->neck.joint_above, "feed.neck");
    mould_figures_measured(figures, &spec_below, l->neck.joint_below, "feed.neck");
    mould_figures_measured(figures, &spec_across, l->neck.joint_width, "feed.neck");
    figure_add(figures, &spec_height, height, "feed.neck", "mould.joint_above", "mould.joint_below",
               NULL);
    figure_add(figures, &spec_width, width, "feed.riser_diameter", "mould.joint_width",
               "mould.neck_height", "feed.neck", NULL);
    Figure *figure = figure_add(figures, &spec_modulus, width * height / (2 * (width + height)),
                                "mould.neck_width", "mould.neck_height", NULL);
    // The section it feeds freezes sooner with a chill.
    gboolean chilled = figure_list_find(figures, "feed.chilled_modulus") != NULL;
    const char *section = chilled ? "feed.chilled_modulus" : "feed.section_modulus";
    figure_limit(figure, figure_list_value(figures, section), section);
    add_path(figures, l);
    if (figure->state == FIGURE_CLOSE)
        figure_set_note(figure, _("The neck freezes hardly later than the section it feeds: "
                                  "thicken the casting where it joins, or chill the heavy "
                                  "section."));
    if (figure->state != FIGURE_FAILS)
        return;
    UnitSet units = inputs_units(inputs);
    g_autofree char *high = quantity_format(QUANTITY_LENGTH, height, &units);
    g_autofree char *wide = quantity_format(QUANTITY_LENGTH, width, &units);
    figure_set_note(figure,
                    _("The casting gives the neck only %s of height and %s of width where they "
                      "join: the neck freezes before the section it feeds. Turn the casting "
                      "another way up, thicken it there, or chill the heavy section."),
                    high, wide);
}
