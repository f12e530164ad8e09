// SPDX-License-Identifier: GPL-3.0-or-later
// Linear casting tolerances.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// Whole width (m) of the linear dimensional tolerance DCTG `grade` (1 to 16) for a dimension (m),
// ISO 8062-3:2007 table 2; half of it to either side. NAN where the table here has no value.
double stock_tolerance(double dimension, int grade);

G_END_DECLS
