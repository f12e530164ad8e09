// SPDX-License-Identifier: GPL-3.0-or-later
// What a batch asks of crucible and stock: firings, the chance that the crucible ends, when to
// order the next, ingot to buy.
#pragma once

#include "book/inputs.h"

G_BEGIN_DECLS

// Chance that a crucible ends within `more` firings, when it has had `done` and still stands. Its
// life is taken as equally likely to be any number from `fewest` to `most`; 1 once `done` has
// reached `most`. NAN when a number is missing or most is not above fewest.
double session_end_chance(double done, double more, double fewest, double most);

// Adds the figures; reads run.sessions, run.loads_per_session and what the stage was given.
// crucible.counts says whether a firing is a melt or a cold start.
void session_add_needs(const Inputs *inputs, FigureList *figures);

G_END_DECLS
