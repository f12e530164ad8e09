// SPDX-License-Identifier: GPL-3.0-or-later
// What the day knows of kinds of task: their names in files, which of them a person ticks, and what
// to beware of.
#pragma once

#include "session/schedule.h"

G_BEGIN_DECLS

// "ram-drag", "pour": also the start of a key. Static; NULL for what is no kind.
const char *live_task_word(TaskKind kind);
gboolean live_task_kind(const char *word, TaskKind *kind);

// Whether somebody ticks it. Cooling ends by the clock.
gboolean live_task_is_ticked(const SessionTask *task);
// Whether its beginning is ticked too, because how long it takes is worth learning. Of what is only
// ticked when done, the beginning is taken to be the end of what the same hands did before.
gboolean live_task_is_begun(const SessionTask *task);

// One sentence of caution that belongs to the kind, translated; NULL if none. The usual cautions
// round molten metal (moisture, clothing, lifting), which give way to local codes.
const char *live_task_caution(TaskKind kind);

// A result whose tasks all have a key and a label, each key once; the rest is copied.
SessionResult *live_session_keyed(const SessionResult *session);
// A copy with other times: `start` and `end` hold one value a task. Tasks stay in their places.
SessionResult *live_session_timed(const SessionResult *session, const double *start,
                                  const double *end);

G_END_DECLS
