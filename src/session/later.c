// SPDX-License-Identifier: GPL-3.0-or-later
// A later session is planned like the first with the shorter warm-up.
#include "session/later.h"

#include <glib/gi18n-lib.h>

#include "session/add.h"

#define LATER                                                                                      \
    N_("A new crucible is tempered in its first session only; the session is laid out again "      \
       "without that hold.")

static const FigureSpec spec_warmup = {
    .id = "run.later_warmup",
    .label = N_("Warm-up in later sessions"),
    .kind = QUANTITY_TIME,
    .formula = "melt.warmup_time - melt.warmup_tempering * cruciblekind.temper_hold",
    .source = "definition"};
static const FigureSpec spec_loads = {.id = "run.later_loads",
                                      .label = N_("Loads in a later session"),
                                      .kind = QUANTITY_COUNT,
                                      .method = LATER,
                                      .source = "definition"};
static const FigureSpec spec_flasks = {.id = "run.later_flasks",
                                       .label = N_("Flasks in a later session"),
                                       .kind = QUANTITY_COUNT,
                                       .method = LATER,
                                       .source = "definition"};
static const FigureSpec spec_castings = {.id = "run.later_castings",
                                         .label = N_("Castings in a later session"),
                                         .kind = QUANTITY_COUNT,
                                         .formula = "run.later_flasks * mould.cavities",
                                         .source = "definition"};
static const FigureSpec spec_length = {.id = "run.later_length",
                                       .label = N_("Length of a later session"),
                                       .kind = QUANTITY_TIME,
                                       .method = LATER,
                                       .source = "definition"};

gboolean
session_later_find(const SessionShop *shop, int flasks, double saved, SessionLater *later,
                   Progress *progress, GError **error)
{
    g_return_val_if_fail(shop && later && flasks >= 1, FALSE);
    SessionLater found = {.differs = saved > 0.0, .shop = *shop};
    if (!found.differs) {
        *later = found;
        return TRUE;
    }
    found.shop.warm_up = MAX(shop->warm_up - saved, 0.0);
    found.shop.n_pins = 0; // work is put to a time in the session at hand
    int most = 0;
    if (!session_plan_most(&found.shop, &most, progress, error))
        return FALSE;
    // What fits after the longer warm-up fits after the shorter one.
    found.flasks = MAX(most, flasks);
    g_autoptr(SessionPlan)
                  plan = session_plan_of(&found.shop, found.flasks, FALSE, progress, error);
    if (!plan)
        return FALSE;
    found.loads = plan->loads;
    found.length = plan->length;
    *later = found;
    return TRUE;
}

void
session_add_later(const SessionLater *later, FigureList *figures)
{
    g_return_if_fail(later && figures);
    static const char *const in_later[] = {"run.later_warmup", "run.flasks_per_session",
                                           "shop.hours", NULL};
    if (!later->differs)
        return;
    session_add_formula(figures, &spec_warmup);
    session_add_method(figures, &spec_loads, later->loads, in_later);
    session_add_method(figures, &spec_flasks, later->flasks, in_later);
    session_add_formula(figures, &spec_castings);
    session_add_method(figures, &spec_length, later->length, in_later);
}
