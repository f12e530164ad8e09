// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of what a session leaves idle, and of how far it may be from the best.
#pragma once

#include "session/session.h"

G_BEGIN_DECLS

// Adds run.benches and run.places: the shop's, or where they are blank one bench for each pair of
// hands and a place for each flask.
void session_add_benches(const Inputs *inputs, FigureList *figures);

// Adds run.flask_time, run.flask_idle and the same of benches and places. `session` NULL: unknown
// because of `missing`.
void session_add_idle(const SessionPlan *session, const char *missing, FigureList *figures);

// Adds run.flasks_bound, run.flasks_gap and run.answer. `most` NULL: unknown because of `missing`.
void session_add_bound(const SessionMost *most, const char *missing, FigureList *figures);

G_END_DECLS
