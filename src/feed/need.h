// SPDX-License-Identifier: GPL-3.0-or-later
// Makes sure that every input a stage names is in its list.
#pragma once

#include "figure/figure.h"

G_BEGIN_DECLS

// Gives an unknown value for each id (NULL-terminated) the list does not hold: a property that a
// table row lacks, or a figure of a stage that had nothing to work on. What uses it is then unknown
// and says so.
void feed_need(FigureList *figures, const char *const *ids);

G_END_DECLS
