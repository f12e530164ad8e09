// SPDX-License-Identifier: GPL-3.0-or-later
// The rest of a day planned again from what has really happened so far.
#pragma once

#include "session/schedule.h"

G_BEGIN_DECLS

// One task begun or finished on the day.
typedef struct {
    const char *key;   // of the task in the plan
    double start, end; // s from the start of the session; end NAN: still running
    int who;           // which pair of hands, 0-based; -1 if none or unknown
} SessionDone;

// A new result with the same tasks by key: what is in `done` keeps its true times (one still
// running ends when its planned duration is over, but not before `now`), and nothing else starts
// before `now`, but that metal melts from the end of its charge and a mould cools from the end of
// its pour. Loads keep their moulds and their furnace, a mould begun keeps its flask; hands, order
// and the flasks of other moulds may change. The rest may end after the hours: then length is more
// than hours. It keeps to the limits of the plan (session/limits.h): nothing begins before its pin,
// sand taken so far counts, handwork falls into the daylight. Where that is not possible any more,
// the daylight's end or the sand is let go, and past_light or past_sand says so. What must have
// happened before something that is done, though it is not in `done` (a mould poured was rammed, a
// load poured was charged, a flask rammed again was emptied), counts as done at the moment of that.
// Errors (BASE_ERROR_VALUE): a key the plan does not have, or twice; a start or `now` that is not
// finite, an end before its start; a plan without tasks or one that session_lay() could not have
// made. BASE_ERROR_CANCELLED when stopped. Works for every SessionResult, also one planned again.
SessionResult *session_replan(const SessionResult *plan, const SessionDone *done, guint n_done,
                              double now, Progress *progress, GError **error);

G_END_DECLS
