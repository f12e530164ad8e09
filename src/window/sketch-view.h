// SPDX-License-Identifier: GPL-3.0-or-later
// Shows a Scene: zoom to the pointer, pan, fit, hover, choose. Flask views zoom both ways alike,
// timelines only along x. Things that can be pointed at are focusable children, so that keys and
// screen readers reach them.
//
// Mouse: wheel pans, Ctrl+wheel zooms at the pointer, middle or left drag pans, click chooses.
// Keys: plus, minus, 0 zoom and fit; Tab comes to the things, arrows, Home and End go through them,
// Enter explains one; arrows pan when nothing is chosen.
#pragma once

#include <gtk/gtk.h>

#include "sketch/scene.h"

G_BEGIN_DECLS

#define FW_TYPE_SKETCH_VIEW (fw_sketch_view_get_type())
G_DECLARE_FINAL_TYPE(FwSketchView, fw_sketch_view, FW, SKETCH_VIEW, GtkWidget)

// Signals: "part-chosen" (const char *part_id, const char *figure_id or NULL), on a click or Enter;
// "part-focused" (const char *part_id), the keyboard came to it.
GtkWidget *fw_sketch_view_new(void);
// NULL scene: `words` are shown instead (why there is nothing). Keeps zoom when the scene's box
// stays the same.
void fw_sketch_view_set_scene(FwSketchView *view, Scene *scene, const char *words);
void fw_sketch_view_zoom(FwSketchView *view, double factor); // about the middle
void fw_sketch_view_fit(FwSketchView *view);
// Where a part lies in the widget, for a popover. FALSE if it is not in the scene.
gboolean fw_sketch_view_locate(FwSketchView *view, const char *part_id, GdkRectangle *where);
// Scene units of a place in the widget, and how many device units one takes; FALSE without a scene.
gboolean fw_sketch_view_to_scene(FwSketchView *view, double x, double y, SolidPoint *place,
                                 double *scale);
Scene *fw_sketch_view_scene(FwSketchView *view); // borrowed; NULL without
// The thing at a place in the widget, or NULL.
const ScenePart *fw_sketch_view_pick(FwSketchView *view, double x, double y);
// The id of the thing that has the keyboard focus, or NULL; and moving the focus to one.
const char *fw_sketch_view_focused(FwSketchView *view);
gboolean fw_sketch_view_focus_part(FwSketchView *view, const char *part_id);
// Shown in place of the scene, at the same scale, while something in it is moved; NULL: no more.
void fw_sketch_view_set_live(FwSketchView *view, Scene *scene);
// Painted over the scene, in its units; NULL: nothing.
void fw_sketch_view_set_overlay(FwSketchView *view, Scene *overlay);

G_END_DECLS
