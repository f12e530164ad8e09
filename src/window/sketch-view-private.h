// SPDX-License-Identifier: GPL-3.0-or-later
// What the drawing widget holds; for sketch-view.c and sketch-gestures.c only.
#pragma once

#include "sketch/paint-live.h"
#include "window/sketch-view.h"

G_BEGIN_DECLS

#define SKETCH_MARGIN 18 // device units round a fitted scene
#define SKETCH_REACH 6   // device units within which a thing is pointed at

struct _FwSketchView {
    GtkWidget parent;
    Scene *scene;
    char *words;
    PaintView view;
    gboolean fitted;   // the whole scene is kept in sight as the widget changes size
    GdkTexture *still; // of the visible area; NULL: to be painted
    int still_width, still_height, still_scale;
    const Theme *theme;  // the still was painted with
    char *hover;         // id of the part under the pointer
    guint current;       // index of the part that had the focus last
    GPtrArray *parts;    // FwScenePart children, borrowed
    double pan_x, pan_y; // scene point at the top left when a drag began
    Scene *live;         // shown instead while something in it is moved, or NULL
    PaintLive *kept;     // what stays the same of it
    Scene *overlay;      // painted over either, or NULL
};

// sketch-view.c
void sketch_forget_still(FwSketchView *view);
void sketch_choose(FwSketchView *view, const char *part_id);
// sketch-gestures.c
void sketch_add_controllers(FwSketchView *view);
void sketch_set_hover(FwSketchView *view, const ScenePart *part);
void sketch_zoom_at(FwSketchView *view, double factor, double x, double y);
void sketch_pan_by(FwSketchView *view, double dx, double dy);

G_END_DECLS
