// SPDX-License-Identifier: GPL-3.0-or-later
// A Plan as the JSON that `plan --json` prints.
#pragma once

#include "plan/plan.h"

G_BEGIN_DECLS

// { "book", "job", "figures": { id: {label, value, unit, method, inputs, source, limit?, margin?,
//   state?, note?, missing?} }, "checks": [ids], "stages": [...], "givens": {...},
//   "patterns": [ {name, kind, half, count, size: [x, y, z], volume, filament_mass} ],
//   "cautions": [...] }. Unknown values are null; patterns are of one each, and an empty array when
// there are none. Free.
char *report_json(const Plan *plan);

G_END_DECLS
