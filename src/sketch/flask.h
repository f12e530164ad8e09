// SPDX-License-Identifier: GPL-3.0-or-later
// The flask in plan and in section, with its cavities, gating and index tabs. Plan -> Scene.
#pragma once

#include "plan/plan.h"
#include "sketch/scene.h"

G_BEGIN_DECLS

// Views by name: "plan" (both, seen on the parting), "section" (lengthwise through a cavity row).
// NULL with BASE_ERROR_NOT_FOUND for a name not known (the message lists them), or when the plan
// has no mould (the message says why).
Scene *sketch_flask_scene(const Plan *plan, const char *view, GError **error);
const char *const *sketch_flask_views(void);

// The same from the results themselves. Parts have the ids "flask", "cavity-1" .. (in the order of
// the layout), "sprue", "well", "runner-1" .., "gate-1" .., "riser-1" .. (of the cavity with that
// number), "tab-1" .., "vent-1" .., "cover-wall", "cover-between", "cover-top", "cover-bottom".
// `pattern` may be NULL: the cavities are then left out. Never NULL.
Scene *flask_plan_scene(const MouldLayout *layout, const PatternResult *pattern,
                        const UnitSet *units);
// The plane stands across y through the middle of the first cavity.
Scene *flask_section_scene(const MouldLayout *layout, const PatternResult *pattern,
                           const UnitSet *units);

G_END_DECLS
