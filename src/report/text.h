// SPDX-License-Identifier: GPL-3.0-or-later
// A Plan as text that a person likes to read: stage by stage, aligned, in the shop's units.
#pragma once

#include "plan/plan.h"

G_BEGIN_DECLS

char *report_text(const Plan *plan);

G_END_DECLS
