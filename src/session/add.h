// SPDX-License-Identifier: GPL-3.0-or-later
// Adding figures whose inputs may be missing altogether because an earlier stage has no result.
#pragma once

#include "figure/figure.h"

G_BEGIN_DECLS

#define SESSION_MOST_INPUTS 24

// Adds a figure with the value of its own formula over the list, its inputs the formula's ids. An
// id that is not in the list makes it unknown and is named as missing. The spec needs a formula.
Figure *session_add_formula(FigureList *list, const FigureSpec *spec);

// Adds a figure made by a method, with `ids` (NULL-terminated, at most SESSION_MOST_INPUTS) as
// inputs; unknown in the same way.
Figure *session_add_method(FigureList *list, const FigureSpec *spec, double value,
                           const char *const *ids);

// The first of `ids` that is absent or unknown, or NULL.
const char *session_find_missing(const FigureList *list, const char *const *ids);

G_END_DECLS
