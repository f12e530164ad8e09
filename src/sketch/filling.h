// SPDX-License-Identifier: GPL-3.0-or-later
// How fast metal runs through each gate while the mould fills, as a chart. Plan -> Scene.
#pragma once

#include "plan/plan.h"
#include "sketch/scene.h"

G_BEGIN_DECLS

// NULL with an error when the plan has no mould whose filling could be worked out.
Scene *sketch_filling_scene(const Plan *plan, GError **error);

// The same from the results. Gates that run alike (to 2 % of the fastest) share a line; the ids of
// its parts are "gates-1" .. in the order of their first gate, and "limit". `limit` m/s; NAN:
// without. NULL when `layout` has no filling.
Scene *filling_scene(const MouldLayout *layout, double limit, const UnitSet *units);

G_END_DECLS
