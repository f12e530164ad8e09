// SPDX-License-Identifier: GPL-3.0-or-later
// Scene -> cairo, for every surface there is, and the way back from a point to a thing.
#pragma once

#include <cairo.h>

#include "sketch/scene.h"
#include "sketch/theme.h"

G_BEGIN_DECLS

// Where the scene lies on the surface: device = scale * (x - x0) etc., y turned up unless y_down.
typedef struct {
    double scale_x, scale_y; // device units per scene unit
    double x, y;             // scene point at the device's top left corner
    double width, height;    // device units
    gboolean y_down;
} PaintView;

// The view that shows the whole scene with a margin (device units).
PaintView paint_fit(const Scene *scene, double width, double height, double margin);
void paint_to_device(const PaintView *view, double x, double y, double *dx, double *dy);
void paint_to_scene(const PaintView *view, double dx, double dy, double *x, double *y);

// Paints all shapes (only: the shapes of that part, over the rest, highlighted, when not NULL).
// Strokes in short chunks; line widths and text sizes are in device units times `unit` (1 on a
// screen at scale 1, 72/96 on paper in points).
void paint_scene(const Scene *scene, const PaintView *view, const Theme *theme, double unit,
                 const char *only, cairo_t *cr);

// The same with the shapes for which `chosen` holds, by their index in the scene.
void paint_scene_some(const Scene *scene, const PaintView *view, const Theme *theme, double unit,
                      const gboolean *chosen, cairo_t *cr);

// The part on top at a device point, within `reach` device units; NULL: none.
const ScenePart *paint_pick(const Scene *scene, const PaintView *view, double dx, double dy,
                            double reach);

G_END_DECLS
