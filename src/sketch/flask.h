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

G_END_DECLS
