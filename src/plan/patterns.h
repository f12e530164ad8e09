// SPDX-License-Identifier: GPL-3.0-or-later
// From a plan to the patterns that are printed: the plan's own pieces have coarse facets.
#pragma once

#include "plan/plan.h"

G_BEGIN_DECLS

// What board_make() needs beside plan_pattern() and plan_mould(). FALSE with an error saying why
// the plan has no patterns; `file` is the book's name for it, or NULL.
gboolean plan_pattern_options(const Plan *plan, const Tables *tables, const char *file,
                              BoardOptions *options, GError **error);

// What is odd about the part and what was done about it, and what its pattern cannot hold. The plan
// has a part. NULL-terminated; free with g_strfreev.
char **plan_pattern_words(const Plan *plan);

G_END_DECLS
