// SPDX-License-Identifier: GPL-3.0-or-later
// A Plan as the JSON that `plan --json` prints.
#pragma once

#include "plan/plan.h"

G_BEGIN_DECLS

// { "book", "job", "figures": { id: {label, value, unit, method, inputs, source, limit?, margin?,
//   state?, note?, missing?} }, "checks": [ids], "stages": [...], "givens": {...} }. Unknown values
// are null. Free.
char *report_json(const Plan *plan);

G_END_DECLS
