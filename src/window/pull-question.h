// SPDX-License-Identifier: GPL-3.0-or-later
// What a search for the pull is asked: the part and what the casting is to be like.
#pragma once

#include "part/envelope.h"
#include "plan/plan.h"

G_BEGIN_DECLS

// Tells one question from another, and fills `options`. NULL when it cannot be asked: no plan, no
// part, a part that is not closed, something unknown. Free with g_free.
char *fw_pull_question(const Plan *plan, EnvelopeOptions *options);

G_END_DECLS
