// SPDX-License-Identifier: GPL-3.0-or-later
// What shares the flask: how many castings of the other job, and what each of them takes.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "feed/riser.h"
#include "mould/figures.h"

static const FigureSpec spec_count = {
    "mould.guest_cavities",
    N_("Cavities of the other job"),
    QUANTITY_COUNT,
    NULL,
    N_("In the same flask. As many as were asked for; else so many that both jobs have what they "
       "want after the fewest flasks. Both kinds stand along one runner, the guests of a row first "
       "and this job's castings after them, turned as this job allows and as close as their "
       "boxes let them, or their outlines where that holds more; round those that are locked."),
    "geometry",
    FIGURE_AT_LEAST,
    0};
static const FigureSpec spec_mass = {"mould.guest_mass",
                                     N_("Mass of a casting of the other job"),
                                     QUANTITY_MASS,
                                     NULL,
                                     N_("Of its rough casting, as that job's own plan has it."),
                                     "geometry"};
static const FigureSpec spec_volume = {"mould.guest_volume",
                                       N_("Cavity volume of the other job"),
                                       QUANTITY_VOLUME,
                                       NULL,
                                       N_("Of its rough casting, larger by its own contraction."),
                                       "geometry"};
static const FigureSpec spec_risers = {
    "mould.guest_risers",
    N_("Risers a casting of the other job"),
    QUANTITY_COUNT,
    NULL,
    N_("As its own plan asks for, of the kind it has there, and of the size unless it is open: one "
       "on the casting stands where it does, one beside it stands between gate and casting."),
    "geometry"};
static const FigureSpec spec_riser_volume = {"mould.guest_riser_volume",
                                             N_("Riser volume of the other job"),
                                             QUANTITY_VOLUME,
                                             NULL,
                                             N_("Of one riser, as that job's own plan has it."),
                                             "geometry"};
// An open one is as high as this cope lets it be.
static const FigureSpec spec_open_volume = {
    "mould.guest_riser_volume",
    N_("Riser volume of the other job"),
    QUANTITY_VOLUME,
    "pi / 4 * mould.guest_riser_diameter^2 * mould.guest_riser_height",
    NULL,
    "geometry"};
static const FigureSpec spec_base = {"mould.guest_riser_base",
                                     N_("Foot of the other job's riser"),
                                     QUANTITY_LENGTH,
                                     NULL,
                                     N_("Over the parting, as that job's own plan has it."),
                                     "geometry"};
static const FigureSpec spec_height = {"mould.guest_riser_height",
                                       N_("Height of the other job's riser"),
                                       QUANTITY_LENGTH,
                                       "flask.cope_depth - mould.guest_riser_base",
                                       NULL,
                                       "definition"};
static const FigureSpec spec_modulus = {"mould.guest_riser_modulus",
                                        N_("Modulus the other job's riser needs"),
                                        QUANTITY_LENGTH,
                                        NULL,
                                        N_("To freeze last, as that job's own plan has it."),
                                        "wlodawer-1966"};
static const FigureSpec spec_least = {
    "mould.guest_riser_least",
    N_("Volume the other job's riser needs"),
    QUANTITY_VOLUME,
    NULL,
    N_("To hold enough, by shrinkage, casting and usable share of that job's own plan; 0 where the "
       "shrinkage is not known."),
    "campbell-castings"};
#define SPEC_BY_MODULUS(ends)                                                                      \
    {                                                                                              \
        "mould.guest_riser_by_modulus", N_("The other job's riser to freeze last"),                \
            QUANTITY_LENGTH,                                                                       \
            "4 * mould.guest_riser_modulus * mould.guest_riser_height / "                          \
            "(mould.guest_riser_height - " ends " * mould.guest_riser_modulus)",                   \
            NULL, "wlodawer-1966"                                                                  \
    }
static const FigureSpec spec_by_modulus[2] = {SPEC_BY_MODULUS("2"), SPEC_BY_MODULUS("1")};
static const FigureSpec spec_by_volume = {
    "mould.guest_riser_by_volume",
    N_("The other job's riser to hold enough"),
    QUANTITY_LENGTH,
    "sqrt(4 / pi * mould.guest_riser_least / mould.guest_riser_height)",
    NULL,
    "campbell-castings"};
static const FigureSpec spec_diameter = {
    "mould.guest_riser_diameter",
    N_("Diameter of the other job's riser"),
    QUANTITY_LENGTH,
    "max(mould.guest_riser_by_modulus, mould.guest_riser_by_volume)",
    NULL,
    "wlodawer-1966+campbell-castings"};
static const FigureSpec spec_seat = {
    "mould.guest_riser_seat",
    N_("Foot of the other job's riser on metal"),
    QUANTITY_RATIO,
    NULL,
    N_("Share of the riser's foot with the casting's metal within a tenth of its diameter below."),
    "geometry",
    FIGURE_AT_LEAST,
    0,
    TRUE};
static const FigureSpec spec_high = {
    "mould.guest_high",
    N_("The other job above the parting"),
    QUANTITY_LENGTH,
    NULL,
    N_("Its highest metal or chill under sand: casting, blind riser, or chill in the cope."),
    "geometry"};
static const FigureSpec spec_low = {"mould.guest_low",
                                    N_("The other job below the parting"),
                                    QUANTITY_LENGTH,
                                    NULL,
                                    N_("Its lowest metal or chill: casting, or chill in the drag."),
                                    "geometry"};
static const FigureSpec spec_neck = {
    "mould.guest_neck_modulus",
    N_("Modulus of the other job's neck"),
    QUANTITY_LENGTH,
    NULL,
    N_("Area of its section over its outline; at least the modulus of the section it feeds, with "
       "its chill, as that job's own plan has it."),
    "wlodawer-1966",
    FIGURE_AT_LEAST,
    0.05};
static const FigureSpec spec_share = {
    "mould.host_share",
    N_("This job's share of the castings, by mass"),
    QUANTITY_RATIO,
    "mould.cavities * casting.mass / (mould.cavities * casting.mass + mould.guest_cavities * "
    "mould.guest_mass)",
    NULL,
    "definition"};

// It works with less than all of its foot on metal, at the price of more metal.
static void
add_seat(FigureList *figures, const FeedResult *feed)
{
    Figure *f = figure_add(figures, &spec_seat, feed->seat, "mould.guest_riser_diameter",
                           "mould.guest_riser_base", NULL);
    figure_limit(f, 1, NULL);
    if (!figure_is_past(f))
        return;
    figure_set_note(f, _("In this cope the riser is wider than what it stands on. Its pattern goes "
                         "on down to the parting, or it would not draw: more metal than is counted "
                         "here, and more to saw off. A deeper cope takes a narrower one."));
}

// An open riser sized for this cope, by what its own plan wants of it.
static void
add_open(FigureList *figures, const FeedResult *feed)
{
    double h = feed->height;
    mould_figures_measured(figures, &spec_base, feed->base, NULL);
    figure_add(figures, &spec_height, h, "flask.cope_depth", "mould.guest_riser_base", NULL);
    mould_figures_measured(figures, &spec_modulus, feed->needed_modulus, NULL);
    mould_figures_measured(figures, &spec_least, feed->needed_volume, NULL);
    figure_add(figures, &spec_by_modulus[feed->on_top],
               feed_riser_open_by_modulus(feed->needed_modulus, h, !feed->on_top),
               "mould.guest_riser_modulus", "mould.guest_riser_height", NULL);
    figure_add(figures, &spec_by_volume, feed_riser_open_by_volume(feed->needed_volume, h),
               "mould.guest_riser_least", "mould.guest_riser_height", NULL);
    figure_add(figures, &spec_diameter, feed->diameter, "mould.guest_riser_by_modulus",
               "mould.guest_riser_by_volume", NULL);
    figure_add(figures, &spec_open_volume, feed->volume, "mould.guest_riser_diameter",
               "mould.guest_riser_height", NULL);
    if (feed->on_top)
        add_seat(figures, feed);
}

// How its castings are fed, and what that takes of cope and drag.
static void
add_feeding(FigureList *figures, const MouldLayout *l)
{
    const FeedResult *feed = l->guest->feed;
    const MouldNeck *neck = &l->guest_neck;
    double width = neck->width, height = neck->up + neck->down;
    mould_figures_measured(figures, &spec_risers, feed->risers, NULL);
    if (feed->risers > 0 && feed->open)
        add_open(figures, feed);
    else
        mould_figures_measured(figures, &spec_riser_volume, feed->volume, NULL);
    mould_figures_measured(figures, &spec_high, mould_layout_guest_high(l), NULL);
    mould_figures_measured(figures, &spec_low, mould_layout_guest_low(l), NULL);
    if (!(width > 0))
        return;
    Figure *f = mould_figures_measured(figures, &spec_neck, width * height / (2 * (width + height)),
                                       NULL);
    figure_limit(f, feed->fed_modulus, NULL);
    if (f->state == FIGURE_FAILS)
        figure_set_note(f, _("The neck freezes before the section it feeds: pour these castings in "
                             "flasks of their own, or feed them otherwise."));
    else if (f->state == FIGURE_CLOSE)
        figure_set_note(f, _("The neck freezes hardly later than the section it feeds: see that "
                             "job's own plan."));
}

void
mould_figures_guest(const Inputs *inputs, FigureList *figures, const MouldLayout *l,
                    const MouldGuest *guest, const char *trouble)
{
    if (!guest && !trouble)
        return;
    double n = trouble ? 0 : l ? l->n_guests : NAN;
    Figure *f = mould_figures_measured(figures, &spec_count, n, "flask.length");
    figure_limit(f, 1, NULL);
    if (trouble) {
        figure_set_note(f, "%s", trouble);
        return;
    }
    if (n == 0)
        figure_set_note(f, _("There is no room for a casting of %s beside this job's."),
                        guest->name);
    else if (n > 0)
        figure_set_note(f, _("Castings of %s; its own plan does not count on them."), guest->name);
    if (!(n > 0))
        return;
    double mass = figure_list_value(figures, "casting.mass");
    double hosts = l->n_cavities - l->n_guests;
    mould_figures_measured(figures, &spec_mass, guest->mass, NULL);
    mould_figures_measured(figures, &spec_volume, guest->volume, NULL);
    add_feeding(figures, l);
    figure_add(figures, &spec_share, hosts * mass / (hosts * mass + n * guest->mass),
               "mould.cavities", "casting.mass", "mould.guest_cavities", "mould.guest_mass", NULL);
}
