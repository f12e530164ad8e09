// SPDX-License-Identifier: GPL-3.0-or-later
// The rest of the day planned again: by the scheduler, or, where that cannot, by moving on what is
// late and what waits for it.
#pragma once

#include "live/day.h"

G_BEGIN_DECLS

// As session_replan(); see session/replan.h.
typedef SessionResult *(*LiveReplan)(const SessionResult *plan, const SessionDone *done,
                                     guint n_done, double now, Progress *progress, GError **error);

// Which one plans; NULL: live_shift alone. At first session_replan.
void live_replan_set(LiveReplan replan);

// The day's session with true times for what is done and new ones for the rest, at `now` (s from
// the start). Where the planner refuses, live_shift answers. NULL only when stopped.
SessionResult *live_replan(const LiveDay *day, double now, Progress *progress, GError **error);

// Keeps the order of the plan: nothing not begun starts before `now`, before its planned time, or
// before its hands, furnace, flask and load are free of what came before. Durations stay. The
// furnace's prompts move with its work. Never fails; has the signature of LiveReplan.
SessionResult *live_shift(const SessionResult *plan, const SessionDone *done, guint n_done,
                          double now, Progress *progress, GError **error);

G_END_DECLS
