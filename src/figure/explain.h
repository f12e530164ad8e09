// SPDX-License-Identifier: GPL-3.0-or-later
// A figure in words: formula, the same with numbers put in, source, limit, and what to follow.
#pragma once

#include "figure/figure.h"

G_BEGIN_DECLS

// The formula with labels instead of ids and proper signs (× ÷ √ ²), or the method in words.
char *explain_formula(const FigureList *list, const Figure *figure);
// The formula with the inputs' numbers in the shop's units put in; NULL for a method.
char *explain_numbers(const FigureList *list, const Figure *figure, const UnitSet *units);
// "at most 0.50 m/s; 0.12 m/s to spare", or NULL without a limit.
char *explain_limit(const FigureList *list, const Figure *figure, const UnitSet *units);
// The value in the shop's units, "unknown", or the text.
char *explain_value(const Figure *figure, const UnitSet *units);
// Value with everything, several lines, for a terminal or a popover.
char *explain_all(const FigureList *list, const Figure *figure, const UnitSet *units);

G_END_DECLS
