// SPDX-License-Identifier: GPL-3.0-or-later
// The session timeline: furnace temperature over the loads, loads as blocks that hold their flasks,
// a row for each resource. x in minutes. Plan -> Scene.
#pragma once

#include "plan/plan.h"
#include "sketch/scene.h"

G_BEGIN_DECLS

// NULL with BASE_ERROR_NOT_FOUND when the plan has no session (the message says why).
Scene *sketch_timeline_scene(const Plan *plan, GError **error);

// The same from the results themselves. Parts have the ids "task-1" .. (in the order of the
// session) and "load-1" ... `melt` may be NULL: the setpoints of the warm-up are then those of the
// curve alone. Never NULL.
Scene *timeline_scene(const SessionResult *session, const MeltResult *melt, const UnitSet *units);

G_END_DECLS
