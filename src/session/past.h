// SPDX-License-Identifier: GPL-3.0-or-later
// What has happened of a session, put in an order and without gaps. Private to session/.
#pragma once

#include "session/rebuild.h"
#include "session/replan.h"

G_BEGIN_DECLS

// Times by task of the plan.
typedef struct {
    gboolean *has; // happened or is happening
    double *start, *end;
    int *who;
    gboolean *told; // it was in `done`, so that its times are true
    guint n;
} SessionFacts;

void session_facts_free(SessionFacts *facts);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(SessionFacts, session_facts_free)

// Reads `done` against the plan and closes the gaps. Errors as session_replan().
SessionFacts *session_facts_read(const SessionResult *plan, const SessionDone *done, guint n_done,
                                 double now, GError **error);

// The facts as session_lay() takes them, of SessionPast.
GArray *session_facts_past(const SessionFacts *facts, const SessionResult *plan,
                           const SessionRebuilt *rebuilt);

G_END_DECLS
