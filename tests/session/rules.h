// SPDX-License-Identifier: GPL-3.0-or-later
// A checker of sessions that knows only the rules of the floor (session/floor.h), nothing of how
// sessions are made.
#pragma once

#include "session/lay.h"

G_BEGIN_DECLS

// Fails the test unless every rule holds. The plan may be out of the hours.
void rules_check(const SessionFloor *floor, const SessionPlan *plan);
// The same for bare tasks of the whole day; `from`: what began before it was as it was.
void rules_check_tasks(const SessionFloor *floor, const SessionTask *tasks, guint n, double from);
// Keys are all different and say what the task is; what comes after something starts after it ends.
void rules_check_names(const SessionTask *tasks, guint n);

// A floor by chance: one to three furnaces, one to four kinds, awkward times; checked to be usable.
SessionFloor rules_random_floor(GRand *rand);

G_END_DECLS
