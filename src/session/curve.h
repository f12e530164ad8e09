// SPDX-License-Identifier: GPL-3.0-or-later
// The temperature of each furnace over a session, with what to turn its controller to and when.
#pragma once

#include "session/session.h"

G_BEGIN_DECLS

// How a furnace is heated.
typedef struct {
    const char *name; // borrowed; put before its prompts where there are several furnaces
    const MeltStep *warmup;
    guint n_warmup;
    double pouring; // deg C
} SessionHeat;

// Points of SessionFurnacePoint (freed with the array) in order of time, of as many furnaces as
// there are heats; one that nothing is melted in has none. For each: the shop's temperature while
// setting up, the warm-up steps with their prompts, the pouring temperature with a dip at each
// charge, and cooling from its last pour to the end. Temperatures in deg C. The depth of the dip
// and the pace of cooling are for the drawing only; nothing is computed from them.
GArray *session_curve_make(const SessionPlan *session, const SessionHeat *heats, guint n_heats,
                           double ambient);

// The curves of `before` for other times of its tasks: each warm-up as it was drawn, later or
// earlier and as long as it takes now, then a dip at each charge.
GArray *session_curve_again(const SessionResult *before, const SessionTask *tasks, guint n_tasks,
                            double length);

// By time, then by furnace; the order of points alike in both stays.
void session_curve_sort(SessionFurnacePoint *points, guint n);

G_END_DECLS
