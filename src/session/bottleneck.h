// SPDX-License-Identifier: GPL-3.0-or-later
// What holds a session back: the session is planned again with a little more of one thing at a
// time, and what brings most is the answer.
#pragma once

#include "session/session.h"

G_BEGIN_DECLS

// In the order ties are settled: what is easiest to get comes first.
typedef enum {
    SESSION_MORE_FLASK,    // one more flask
    SESSION_MORE_HOUR,     // one more hour
    SESSION_MORE_CRUCIBLE, // a crucible that fills one more flask a load
    SESSION_MORE_PERSON,   // one more pair of hands
    SESSION_MORE_FURNACE,  // a furnace that melts in half the time
    SESSION_MORE_COUNT
} SessionMore;

typedef struct {
    int gain[SESSION_MORE_COUNT];      // more flasks in a session, 0 or more
    double sooner[SESSION_MORE_COUNT]; // s the last pour of the same flasks is earlier, 0 or more
    SessionMore which;                 // what holds it back
} SessionBottleneck;

// `flasks` is what session_plan_most() gives for the shop. FALSE only when stopped.
gboolean session_bottleneck_find(const SessionShop *shop, int flasks, SessionBottleneck *found,
                                 Progress *progress, GError **error);

// "flasks", "hours", "crucible", "person", "furnace"; static, not translated.
const char *session_bottleneck_word(SessionMore which);

// "One more flask", translated; static.
const char *session_bottleneck_more(SessionMore which);

G_END_DECLS
