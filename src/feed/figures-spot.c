// SPDX-License-Identifier: GPL-3.0-or-later
// The heaviest places of the casting as figures.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "feed/figures.h"

static const FigureSpec spec_modulus = {
    "feed.hot_spot_modulus",
    N_("Modulus at the hot spot"),
    QUANTITY_LENGTH,
    NULL,
    N_("Highest value of the modulus map: metal over surface near a place, both weighed by a bell "
       "curve as wide as the heaviest section's radius, and divided by 1.411 so that a "
       "plate comes out right; on at most 72 cells along the casting. It ranks places: where heavy "
       "sections meet it comes out high, and risers are not sized by it."),
    "geometry"};
static const FigureSpec spec_count = {
    "feed.thick_places",
    N_("Places heavier than around them"),
    QUANTITY_COUNT,
    NULL,
    N_("Maxima of the modulus map that stand out by 3 % over the way to a higher one; nine at "
       "most."),
    "geometry"};

void
feed_figures_spot(FeedWork *w)
{
    const FeedResult *r = w->result;
    if (r->n_spots == 0) {
        figure_add_unknown(w->figures, &spec_modulus, "casting.modulus");
        figure_add_unknown(w->figures, &spec_count, "casting.modulus");
        return;
    }
    const FeedSpot *spot = &r->spots[0];
    UnitSet units = inputs_units(w->inputs);
    g_autofree char *x = quantity_format(QUANTITY_LENGTH, spot->at.x, &units);
    g_autofree char *y = quantity_format(QUANTITY_LENGTH, spot->at.y, &units);
    g_autofree char *z = quantity_format(QUANTITY_LENGTH, fabs(spot->at.z), &units);
    Figure *f = figure_add(w->figures, &spec_modulus, spot->modulus, "feed.inscribed", NULL);
    figure_set_note(f,
                    spot->at.z < 0
                        ? _("At %s along and %s across from the middle of its plan, %s under the "
                            "parting.")
                        : _("At %s along and %s across from the middle of its plan, %s over the "
                            "parting."),
                    x, y, z);
    figure_add(w->figures, &spec_count, r->n_spots, "feed.hot_spot_modulus", NULL);
}
