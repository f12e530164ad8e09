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

// A new result with the same keys: what is in `done` keeps its true times (one still running ends
// when its planned duration is over, but not before `now`), and nothing else starts before `now`.
// What was planned before something that is done, and is itself not in `done`, is taken as still
// to do, except that a mould poured must have been rammed and a load poured must have been melted:
// such gaps are closed at the start of what is done. Loads not yet charged that no longer end
// within the hours are dropped with their moulds when nothing of them has begun. Errors
// (BASE_ERROR_VALUE): a key the plan does not have, given twice, an end before its start, `now` or
// a start not finite. BASE_ERROR_CANCELLED when stopped. Works for every SessionResult, also one
// planned again.
SessionResult *session_replan(const SessionResult *plan, const SessionDone *done, guint n_done,
                              double now, Progress *progress, GError **error);

G_END_DECLS
