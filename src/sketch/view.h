// SPDX-License-Identifier: GPL-3.0-or-later
// Views of a plan by name: those of the flask (sketch/flask.h), "modulus", "filling" and
// "gains".
#pragma once

#include "plan/plan.h"
#include "sketch/scene.h"

G_BEGIN_DECLS

gboolean sketch_is_view(const char *view);

// Has it a true size, in millimetres? A chart has none.
gboolean sketch_view_has_size(const char *view);

// Planes as in sketch_flask_scene_cut(); the modulus is cut along the casting, through its heaviest
// place. NULL with an error as sketch_flask_scene().
Scene *sketch_view_scene(const Plan *plan, const char *view, double along, double across,
                         GError **error);

G_END_DECLS
