// SPDX-License-Identifier: GPL-3.0-or-later
// Between which rates the good-casting rate may well lie, from counts.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// The x with I_x(a, b) = chance (regularised incomplete beta), by halving. NAN when a or b is not
// above 0, chance is not in [0, 1], or the counts are too large for the sum (millions).
double session_beta_quantile(double chance, double a, double b);

// The exact interval of Clopper and Pearson, Biometrika 26 (1934) 404, at `level` (0.95). FALSE
// when good > poured, nothing was poured, level is not in (0, 1), or the quantile fails; the
// outputs are then untouched.
gboolean session_interval_exact(guint good, guint poured, double level, double *low, double *high);

// The equal-tailed interval under Jeffreys' prior Beta(1/2, 1/2). Ends are not moved to 0 or 1 when
// none or all were good.
gboolean session_interval_jeffreys(guint good, guint poured, double level, double *low,
                                   double *high);

G_END_DECLS
