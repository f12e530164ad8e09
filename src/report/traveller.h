// SPDX-License-Identifier: GPL-3.0-or-later
// The traveller: the sheets that go with a job from pattern to finished part, with what to set,
// boxes to tick and room to write down what really happened.
#pragma once

#include "plan/plan.h"
#include "report/sheet.h"

G_BEGIN_DECLS

// A stage without a result leaves its message in place of its part of the sheets. Never NULL.
Sheet *traveller_sheet(const Plan *plan);

G_END_DECLS
