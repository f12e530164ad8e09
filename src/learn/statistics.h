// SPDX-License-Identifier: GPL-3.0-or-later
// Small statistics of what was logged: pure functions, no log in them.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// Arithmetic mean; NAN for none.
double learn_mean(const double *values, guint n);
// Middle value, or the mean of the two in the middle; NAN for none. Does not change `values`.
double learn_median(const double *values, guint n);
// Share of a furnace's power, above its standing loss, that went into one load: charge (kg) times
// heat content (J/kg) over melt_time (s) times power less standing loss (W). It is the balance of
// heat while melting solved for the share. NAN when a value is not positive or the power does not
// exceed the loss.
double learn_efficiency(double charge, double heat_content, double melt_time, double power,
                        double standing_loss);

G_END_DECLS
