// SPDX-License-Identifier: GPL-3.0-or-later
// What shares the flask: how many castings of the other job, and what each of them takes.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "mould/figures.h"

static const FigureSpec spec_count = {
    "mould.guest_cavities",
    N_("Cavities of the other job"),
    QUANTITY_COUNT,
    NULL,
    N_("In the same flask. As many as were asked for; else so many that both jobs have what they "
       "want after the fewest flasks. Both kinds stand along one runner, the guests of a row first "
       "and this job's castings after them, turned as this job allows and as close as their "
       "boxes let them, or their outlines where that holds more."),
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
    N_("As its own plan asks for, of the size and kind it has there: one on the casting stands "
       "where it does, one beside it stands between gate and casting."),
    "geometry"};
static const FigureSpec spec_riser_volume = {"mould.guest_riser_volume",
                                             N_("Riser volume of the other job"),
                                             QUANTITY_VOLUME,
                                             NULL,
                                             N_("Of one riser, as that job's own plan has it."),
                                             "geometry"};
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

// How its castings are fed, and what that takes of cope and drag.
static void
add_feeding(FigureList *figures, const MouldLayout *l)
{
    const FeedResult *feed = l->guest->feed;
    const MouldNeck *neck = &l->guest_neck;
    double width = neck->width, height = neck->up + neck->down;
    mould_figures_measured(figures, &spec_risers, feed->risers, NULL);
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
