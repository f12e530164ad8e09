// SPDX-License-Identifier: GPL-3.0-or-later
// Small statistics of what was logged: pure functions, no log in them.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// Middle value, or the mean of the two in the middle; NAN for none. Does not change `values`.
double learn_median(const double *values, guint n);

G_END_DECLS
