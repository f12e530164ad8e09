// SPDX-License-Identifier: GPL-3.0-or-later
// The session timeline: furnace temperature over the loads, loads as blocks that hold their flasks,
// a row for each resource. x in minutes. Plan -> Scene.
#pragma once

#include "plan/plan.h"
#include "sketch/scene.h"

G_BEGIN_DECLS

Scene *sketch_timeline_scene(const Plan *plan, GError **error);

G_END_DECLS
