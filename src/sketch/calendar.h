// SPDX-License-Identifier: GPL-3.0-or-later
// The batch as a calendar: a row a week, a block a session that holds what it pours, and the days
// jobs are due. Batch -> Scene.
#pragma once

#include "plan/batch.h"
#include "sketch/scene.h"

G_BEGIN_DECLS

// Parts have the ids "session-2" (the session's number), "due-JOB" and "left-JOB". Never NULL; a
// batch with nothing left to cast gives a sheet that says so.
Scene *sketch_calendar_scene(const BatchPlan *batch);

G_END_DECLS
