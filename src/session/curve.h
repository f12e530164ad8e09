// SPDX-License-Identifier: GPL-3.0-or-later
// The furnace's temperature over a session, with what to turn its controller to and when.
#pragma once

#include "session/session.h"

G_BEGIN_DECLS

// Points in order of time, of SessionFurnacePoint (freed with the array): the shop's temperature
// while setting up, the warm-up steps with their prompts, the pouring temperature with a dip at
// each charge, and cooling from the last pour to the end. Temperatures in deg C. The depth of the
// dip and the pace of cooling are for the drawing only; nothing is computed from them.
GArray *session_curve_make(const SessionPlan *session, const MeltStep *warmup, guint n_warmup,
                           double ambient, double pouring);

// The curve of `before` for other times of its tasks: the warm-up as it was drawn, later or earlier
// and as long as it takes now, then a dip at each charge. Of the first furnace, as above.
GArray *session_curve_again(const SessionResult *before, const SessionTask *tasks, guint n_tasks,
                            double last_pour, double length);

G_END_DECLS
