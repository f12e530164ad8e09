// SPDX-License-Identifier: GPL-3.0-or-later
// What holds a session back: the session is planned again with a little more of one thing at a
// time, and what brings most is the answer.
#pragma once

#include "session/session.h"

G_BEGIN_DECLS

// In the order ties are settled: what is easiest to get comes first.
typedef enum {
    SESSION_MORE_FLASK,    // one more flask
    SESSION_MORE_SAND,     // sand for one more flask, where it is short
    SESSION_MORE_HOUR,     // one more hour
    SESSION_MORE_LIGHT,    // one more hour of light, where it is limited
    SESSION_MORE_CRUCIBLE, // a crucible that fills one more flask a load
    SESSION_MORE_PERSON,   // one more pair of hands
    SESSION_MORE_FURNACE,  // a furnace that melts in half the time
    SESSION_MORE_COUNT
} SessionMore;

typedef struct {
    gboolean asked[SESSION_MORE_COUNT]; // FALSE: there is no limit to it
    int gain[SESSION_MORE_COUNT];       // more flasks in a session, 0 or more
    double sooner[SESSION_MORE_COUNT];  // s the last pour of the same flasks is earlier, 0 or more
    SessionMore which;                  // what holds it back
} SessionBottleneck;

// FALSE for sand and light that nothing limits.
gboolean session_more_is_asked(const SessionFloor *floor, SessionMore more);
// Whether the light takes anything off the hours, and an hour more of it: at the end where it ends
// before closing, else at the beginning.
gboolean session_light_is_short(const SessionFloor *floor);
void session_light_extend(double hours, double closing, double *from, double *to);

// `flasks` is what session_plan_most() gives for the shop. FALSE only when stopped.
gboolean session_bottleneck_find(const SessionShop *shop, int flasks, SessionBottleneck *found,
                                 Progress *progress, GError **error);

// "flasks", "sand", "hours", "daylight", "crucible", "person", "furnace"; static, not translated.
const char *session_bottleneck_word(SessionMore which);

// "held back by the sand" of one of those words, translated; static. NULL for any other.
const char *session_bottleneck_held(const char *word);

// "One more flask", translated; static.
const char *session_bottleneck_more(SessionMore which);

G_END_DECLS
