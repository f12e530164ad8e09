// SPDX-License-Identifier: GPL-3.0-or-later
// What a furnace does with its power, fitted to logged melts by least squares. Pure functions, no
// log in them.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// One melt.
typedef struct {
    double heat;      // J into the metal
    double energy;    // J from the wall while it melted
    double time;      // s it took
    gboolean metered; // the energy was read off a meter, not taken as power times time
} LearnCycle;

typedef struct {
    guint used, left_out; // cycles; left out: took in more heat than the furnace gave
    double efficiency, efficiency_error;       // share; NAN where it cannot be told
    double standing_loss, standing_loss_error; // W; NAN where it cannot be told
} LearnFit;

// Least squares of  energy = heat / efficiency + standing loss x time  over the metered cycles,
// both unknown. FALSE, and *fit untouched, where the cycles cannot tell the two apart: fewer than
// four, heat and time in step, an answer that no furnace gives (efficiency not in 0 to 1, loss not
// in 0 to `power` W) or one more uncertain than a quarter (efficiency) or a half (loss) of itself.
// Errors are standard errors.
gboolean learn_fit_both(const LearnCycle *cycles, guint n, double power, LearnFit *fit);

// The same with the standing loss known, W, over all cycles: one cycle is enough, but has no error.
// FALSE, with only the counts written, if none is left.
gboolean learn_fit_efficiency(const LearnCycle *cycles, guint n, double standing_loss,
                              LearnFit *fit);

G_END_DECLS
