// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of one session and of the batch over sessions.
#pragma once

#include "session/add.h"
#include "session/bottleneck.h"

G_BEGIN_DECLS

// What the session depends on, NULL-terminated: ids that must be known.
extern const char *const session_plan_ids[];

// The same and those of sand and daylight that are limited, as inputs of a figure.
typedef struct {
    const char *ids[SESSION_MOST_INPUTS + 1];
} SessionPlanInputs;
const char *const *session_plan_inputs(const FigureList *figures, SessionPlanInputs *inputs);

// Adds the figures of a session that pours nothing or is unknown because of `missing`.
void session_add_no_plan(FigureList *figures, const char *missing);
// Adds run.loads_per_session, run.flasks_per_session and the rest. `session` pours
// session->flasks, or, when not `fits`, is the shortest there is and pours none of them in time.
void session_add_plan(const SessionShop *shop, const SessionPlan *session, gboolean fits,
                      FigureList *figures);
void session_add_bottleneck(const SessionBottleneck *found, int flasks, FigureList *figures);
// Adds run.sessions; returns it, 0 when unknown.
int session_add_count(FigureList *figures);
// Adds run.last_session_length and run.batch_time. `last` NAN: unknown.
void session_add_last(double last, FigureList *figures);

G_END_DECLS
