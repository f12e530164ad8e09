// SPDX-License-Identifier: GPL-3.0-or-later
// A thing in a drawing as a widget: transparent, focusable, named for the screen reader.
#pragma once

#include <gtk/gtk.h>

#include "sketch/scene.h"

G_BEGIN_DECLS

#define FW_TYPE_SCENE_PART (fw_scene_part_get_type())
G_DECLARE_FINAL_TYPE(FwScenePart, fw_scene_part, FW, SCENE_PART, GtkWidget)

// Signals: "chosen" (Enter, space, or its accessible action); "stepped" (int: -1, 1 to the thing
// before or after, G_MININT, G_MAXINT to the first or last).
GtkWidget *fw_scene_part_new(const ScenePart *part);
void fw_scene_part_update(FwScenePart *self, const ScenePart *part); // the same thing, drawn anew
const char *fw_scene_part_get_id(FwScenePart *self);
const char *fw_scene_part_get_figure(FwScenePart *self); // or NULL
void fw_scene_part_get_box(FwScenePart *self, SolidPoint *min, SolidPoint *max);
// At this place of its parent, as large as it must be at least.
void fw_scene_part_allocate(FwScenePart *self, const GdkRectangle *where);

G_END_DECLS
