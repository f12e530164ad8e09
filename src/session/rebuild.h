// SPDX-License-Identifier: GPL-3.0-or-later
// A floor and its loads made again from the tasks of a session. Private to session/.
#pragma once

#include "session/lay.h"

G_BEGIN_DECLS

typedef struct {
    SessionFloor floor; // its pins are borrowed of the plan
    GArray *loads;      // of SessionLoad, each bound to its furnace and its time to melt
    GArray *box_kind;   // int, by box of the plan: its kind; -1: never used
    GArray *box_at;     // int, by box of the plan: its place within its kind
    GArray *box_of;     // int, by box as the floor numbers them: that of the plan
    int n_moulds;
} SessionRebuilt;

void session_rebuilt_free(SessionRebuilt *rebuilt);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(SessionRebuilt, session_rebuilt_free)

// `is_fixed` by task: its times are not those that were planned, so that durations are taken from
// others where there are any; may be NULL. NULL with BASE_ERROR_VALUE for tasks that are no
// session as session_lay() makes them.
SessionRebuilt *session_rebuild(const SessionResult *plan, const gboolean *is_fixed,
                                GError **error);

G_END_DECLS
