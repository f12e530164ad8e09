// SPDX-License-Identifier: GPL-3.0-or-later
// What a session keeps to that its tasks do not show: sand, daylight, and work put to a time by
// hand. Kept with a result, so that its rest can be planned again by the same rules. Immutable and
// shared.
#pragma once

#include "session/floor.h"
#include "session/light.h"

G_BEGIN_DECLS

struct SessionLimits {
    double sand_ready;           // kg; INFINITY: never short
    double sand_rest;            // s; INFINITY: not again on this day
    double light_from, light_to; // s from the start of the session; 0 and INFINITY: no limit
    double *sand;                // kg of a mould of each job of the result
    guint n_sand;
    SessionPin *pins;
    guint n_pins;
};

// Room for so many jobs and pins, to be filled in; nothing is limited yet.
SessionLimits *session_limits_new(guint n_sand, guint n_pins);
// Those of the floor; NULL when it has none.
const SessionLimits *session_limits_of(const SessionFloor *floor);
// The same in another light; `limits` may be NULL, and so is what limits nothing.
const SessionLimits *session_limits_lit(const SessionLimits *limits, const SessionLight *light);
// The same for jobs numbered anew: `place` of each job among `n_jobs`, -1 for one left out.
const SessionLimits *session_limits_of_jobs(const SessionLimits *limits, const int *place,
                                            guint n_jobs);
const SessionLimits *session_limits_ref(const SessionLimits *limits); // NULL gives NULL
void session_limits_unref(const SessionLimits *limits);               // NULL is harmless
// Puts them into a floor whose kinds have their jobs; the floor borrows the pins.
void session_limits_put(const SessionLimits *limits, SessionFloor *floor);

// The most sand that is rammed up or rests at once, kg; `sand` by job, kg of a mould.
double session_sand_most(const SessionTask *tasks, guint n, const double *sand, double rest);

// Handwork outside the light, s of hands; not of setting up and closing, which need none.
double session_dark_time(const SessionTask *tasks, guint n, double light_from, double light_to);

// What the rest of a day could not keep to any more, in words; NULL when it keeps to all. Free.
char *session_result_caution(const SessionResult *result);

G_END_DECLS
