// SPDX-License-Identifier: GPL-3.0-or-later
// From a point to the thing there. Shapes are searched from the last painted to the first, by the
// same device coordinates they are painted with. What lies exactly under the point comes before
// what is only near it, and a filled shape hides what is below it.
#include <math.h>

#include "sketch/brush.h"

#define LINE_REACH 1.5 // device units that count as on a line

typedef struct {
    gboolean on;     // painted at the point itself
    gboolean hides;  // and nothing below it can be seen there
    double distance; // to its nearest ink
} Touch;

static Touch
touch_path(const Scene *scene, const PaintView *view, const Shape *shape, double dx, double dy)
{
    Touch touch = {FALSE, FALSE, INFINITY};
    g_auto(BrushPath) path = {0};
    if (!brush_path(scene, view, shape, &path))
        return touch;
    touch.hides = shape->filled && brush_path_contains(&path, dx, dy);
    touch.distance = touch.hides ? 0.0 : brush_path_distance(&path, dx, dy);
    touch.on = touch.hides || (shape->stroked && touch.distance <= LINE_REACH);
    return touch;
}

static Touch
touch_dimension(const BrushDimension *d, double dx, double dy)
{
    Touch touch = {FALSE, FALSE, INFINITY};
    BrushPath line = {
        .points = (SolidPoint[]){d->line_a, d->line_b}, .starts = (guint[]){0, 2}, .n_runs = 1};
    touch.distance = brush_path_distance(&line, dx, dy);
    if (brush_text_contains(&d->text, dx, dy, 0.0))
        touch.distance = 0.0;
    touch.on = touch.distance <= LINE_REACH;
    return touch;
}

static Touch
touch_shape(PangoLayout *layout, const Scene *scene, const PaintView *view, const Shape *shape,
            double dx, double dy)
{
    Touch touch = {FALSE, FALSE, INFINITY};
    const Theme *theme = theme_get(THEME_LIGHT);
    double text_unit = brush_text_scale(scene, view, 1.0);
    BrushText text;
    BrushDimension dimension;
    switch (shape->kind) {
    case SHAPE_PATH:
    case SHAPE_CIRCLE:
        return touch_path(scene, view, shape, dx, dy);
    case SHAPE_TEXT:
        touch.on = shape->part && brush_text_place(layout, view, theme, text_unit, shape, &text) &&
                   brush_text_contains(&text, dx, dy, 0.0);
        touch.distance = touch.on ? 0.0 : INFINITY;
        return touch;
    case SHAPE_DIMENSION:
        if (shape->part) {
            brush_dimension_place(layout, view, theme, brush_line_scale(scene, view, 1.0),
                                  text_unit, shape, &dimension);
            touch = touch_dimension(&dimension, dx, dy);
        }
        return touch;
    }
    return touch;
}

const ScenePart *
paint_pick(const Scene *scene, const PaintView *view, double dx, double dy, double reach)
{
    g_return_val_if_fail(view->scale_x > 0.0 && view->scale_y > 0.0, NULL);
    g_autoptr(PangoLayout) layout = brush_text_layout(NULL);
    const ScenePart *near = NULL;
    double nearest = reach;
    for (guint i = scene_shape_count(scene); i-- > 0;) {
        const Shape *shape = scene_shape(scene, i);
        Touch touch = touch_shape(layout, scene, view, shape, dx, dy);
        const ScenePart *part = scene_find_part(scene, shape->part);
        if (part && touch.on)
            return part;
        if (part && touch.distance <= nearest && (!near || touch.distance < nearest)) {
            near = part;
            nearest = touch.distance;
        }
        if (touch.hides)
            break;
    }
    return near;
}
