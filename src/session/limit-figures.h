// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of what limits a session beside its tools: the sand that is ready and the daylight.
#pragma once

#include "book/inputs.h"
#include "session/lay.h"
#include "session/light.h"

G_BEGIN_DECLS

// Reads shop.light_from and shop.light_to and, where one is given, adds run.light_needed and
// run.daylight. Returns what keeps a session from being planned: the id of a field or figure, NULL
// when there is light. *light is always filled in.
const char *session_add_light(const Inputs *inputs, SessionLight *light, FigureList *figures);

// The limit of work without daylight, of a session or a day.
void session_limit_dark(Figure *dark);

// Adds run.dark_time where there is light to keep to.
void session_add_dark(const SessionPlan *session, const SessionLight *light, FigureList *figures);

// Whether sand is known to suffice for one flask: NULL, or the id that is missing or fails.
const char *session_find_sand_lack(const FigureList *figures);
// Adds run.sand_flasks and run.sand_used, of a single flask where the sand is too little for it.
// `session` NULL: it is unknown for want of `missing`.
void session_add_sand(const SessionPlan *session, const char *missing, FigureList *figures);

G_END_DECLS
