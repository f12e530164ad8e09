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
       "want after the fewest flasks. Both kinds stand along one runner, the guests in rows first "
       "and this job's castings round them, square to the runner."),
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
    N_("It gets a riser like this job's when its own plan asks for one."),
    "geometry"};
static const FigureSpec spec_share = {
    "mould.host_share",
    N_("This job's share of the castings, by mass"),
    QUANTITY_RATIO,
    "mould.cavities * casting.mass / (mould.cavities * casting.mass + mould.guest_cavities * "
    "mould.guest_mass)",
    NULL,
    "definition"};

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
    mould_figures_measured(figures, &spec_risers, guest->riser, NULL);
    figure_add(figures, &spec_share, hosts * mass / (hosts * mass + n * guest->mass),
               "mould.cavities", "casting.mass", "mould.guest_cavities", "mould.guest_mass", NULL);
}
