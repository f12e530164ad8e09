// SPDX-License-Identifier: GPL-3.0-or-later
// What a little more of one thing would bring to a session, as small bars. Plan -> Scene.
#pragma once

#include "plan/plan.h"
#include "session/bottleneck.h"
#include "sketch/scene.h"

G_BEGIN_DECLS

// NULL with an error when the plan has no session to compare with.
Scene *sketch_gains_scene(const Plan *plan, GError **error);

typedef struct {
    double now;                      // castings a session
    double gain[SESSION_MORE_COUNT]; // castings more, 0 or more; NAN: no row
    SessionMore which;               // what holds the session back; SESSION_MORE_COUNT: not known
    const char *note;                // a sentence under the bars; NULL: none
} SketchGains;

// The same from numbers. A bar is as long as what it brings; the ids of its parts are "more-flask",
// "more-sand", "more-hour", "more-light", "more-crucible", "more-person" and "more-furnace".
Scene *gains_scene(const SketchGains *gains);

G_END_DECLS
