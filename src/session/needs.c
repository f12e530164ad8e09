// SPDX-License-Identifier: GPL-3.0-or-later
// Makers give the life of a crucible as a range. Nothing says how lives spread over it, so every
// length in it counts as equally likely; one that has outlived the lower end is judged by what is
// left of the range.
#include "session/needs.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "session/add.h"

// Keeps the formula from dividing by nothing where the range is used up.
#define LEAST_RANGE 1e-6

#define PER_SESSION                                                                                \
    .id = "run.crucible_session_firings", .label = N_("Firings a session"),                        \
    .kind = QUANTITY_COUNT, .source = "definition"
#define FIRINGS                                                                                    \
    .id = "run.crucible_firings", .label = N_("Firings for the batch"), .kind = QUANTITY_COUNT,    \
    .source = "definition"

static const FigureSpec spec_per_session_start = {
    PER_SESSION,
    .method = N_("one: a firing is a cold start, and a session has one"),
};
static const FigureSpec spec_per_session_melt = {
    PER_SESSION,
    .formula = "run.loads_per_session",
};

static const FigureSpec spec_firings = {
    FIRINGS,
    .formula = "run.sessions * run.crucible_session_firings",
};

static const FigureSpec spec_chance = {
    .id = "run.crucible_end_chance",
    .label = N_("Chance that the crucible ends within the batch"),
    .kind = QUANTITY_RATIO,
    .formula = "min(1, max(0, crucible.firings + run.crucible_firings - max(crucible.firings, "
               "cruciblekind.firings_min)) / max(cruciblekind.firings_max - max(crucible.firings, "
               "cruciblekind.firings_min), 1e-6))",
    .method = N_("life equally likely to be any number of firings of the kind's range, given that "
                 "it has lasted so far"),
    .source = "common-practice",
    .limit_kind = FIGURE_AT_MOST,
};

static const FigureSpec spec_reorder = {
    .id = "run.crucible_reorder",
    .label = N_("Order the next at this many firings"),
    .kind = QUANTITY_COUNT,
    .formula = "max(0, cruciblekind.firings_min - crucible.delivery * "
               "run.crucible_session_firings)",
    .source = "definition",
};

static const FigureSpec spec_until = {
    .id = "run.crucible_until_reorder",
    .label = N_("Firings until the next is to be ordered"),
    .kind = QUANTITY_COUNT,
    .formula = "run.crucible_reorder - crucible.firings",
    .source = "definition",
    .limit_kind = FIGURE_AT_LEAST,
};

static const FigureSpec spec_ingot = {
    .id = "run.ingot_to_buy",
    .label = N_("Ingot to buy for the batch"),
    .kind = QUANTITY_MASS,
    .formula = "max(0, run.batch_flasks / melt.flasks_per_load * melt.charge_ingot - "
               "melt.stock_ingot)",
    .source = "definition",
};

double
session_end_chance(double done, double more, double fewest, double most)
{
    if (!(most > fewest) || isnan(done) || isnan(more))
        return NAN;
    double from = fmax(done, fewest);
    return fmin(1, fmax(0, done + more - from) / fmax(most - from, LEAST_RANGE));
}

// With a spare on the shelf the end of this one stops nothing: no limit to hold then.
static void
add_life(const Inputs *inputs, FigureList *figures)
{
    gboolean spare = inputs_number(inputs, "crucible.spares") >= 1;
    Figure *chance = session_add_formula(figures, &spec_chance);
    session_add_formula(figures, &spec_reorder);
    Figure *until = session_add_formula(figures, &spec_until);
    if (spare) {
        figure_set_note(chance, _("A spare is on the shelf: temper it beforehand, so that a "
                                  "session need not end with this one."));
        return;
    }
    figure_limit(chance, inputs_number(inputs, "crucible.risk"), "crucible.risk");
    if (chance->state == FIGURE_FAILS)
        figure_set_note(chance, _("Have another one tempered and at hand before the batch is "
                                  "begun."));
    figure_limit(until, 0, NULL);
    if (until->state == FIGURE_FAILS)
        figure_set_note(until, _("Order one now: by the time it comes this one may be at its "
                                 "end."));
}

void
session_add_needs(const Inputs *inputs, FigureList *figures)
{
    static const char *const counts[] = {"crucible.counts", NULL};
    if (g_strcmp0(inputs_text(inputs, "crucible.counts"), "melt") == 0)
        session_add_formula(figures, &spec_per_session_melt);
    else
        session_add_method(figures, &spec_per_session_start, 1, counts);
    session_add_formula(figures, &spec_firings);
    add_life(inputs, figures);
    if (figure_list_find(figures, "melt.charge_ingot"))
        session_add_formula(figures, &spec_ingot);
}
