// SPDX-License-Identifier: GPL-3.0-or-later
// A plan of the engine as a result to hand on. Private to session/ and plan/.
#pragma once

#include "session/lay.h"

G_BEGIN_DECLS

SessionResult *session_result_new(void);
// Takes the tasks over from the plan, in order of start, and its lengths.
void session_result_take(SessionResult *result, SessionPlan *plan);
// A result like `before` with the tasks of `plan`, named anew, and a curve that follows them.
SessionResult *session_result_again(const SessionResult *before, SessionPlan *plan);

G_END_DECLS
