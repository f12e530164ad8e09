// SPDX-License-Identifier: GPL-3.0-or-later
// Scene -> cairo. One painter for the screen, the printer and every file: only the surface, the
// palette and the unit differ. Each shape is filled, hatched and stroked in its turn.
#include "sketch/paint.h"

#include <math.h>

#include "sketch/brush.h"

#define LEAST_SCALE 1e-6
#define FIT_ROUNDS 3

void
paint_to_device(const PaintView *view, double x, double y, double *dx, double *dy)
{
    double up = view->y_down ? 1.0 : -1.0;
    *dx = (x - view->x) * view->scale_x;
    *dy = (y - view->y) * view->scale_y * up;
}

void
paint_to_scene(const PaintView *view, double dx, double dy, double *x, double *y)
{
    double up = view->y_down ? 1.0 : -1.0;
    *x = view->x + dx / view->scale_x;
    *y = view->y + dy / view->scale_y * up;
}

// How far texts reach beyond the box on each side, device units, at a given view.
typedef struct {
    double left, right, top, bottom;
} Overhang;

static void
widen_overhang(Overhang *over, const PaintView *inner, double width, double height,
               const BrushText *text)
{
    double c = fabs(cos(text->turn)), s = fabs(sin(text->turn));
    double middle = text->left + text->width / 2.0;
    double x = text->x + middle * cos(text->turn), y = text->y + middle * sin(text->turn);
    double half_x = (text->width * c + text->height * s) / 2.0;
    double half_y = (text->width * s + text->height * c) / 2.0;
    over->left = fmax(over->left, half_x - x);
    over->right = fmax(over->right, x + half_x - width);
    over->top = fmax(over->top, half_y - y);
    over->bottom = fmax(over->bottom, y + half_y - height);
}

// Texts have no size in the scene; this finds what they need around its box (width x height on the
// surface, its top left corner at the surface's).
static Overhang
measure_overhang(PangoLayout *layout, const Scene *scene, const PaintView *inner, double width,
                 double height)
{
    Overhang over = {0, 0, 0, 0};
    const Theme *theme = theme_get(THEME_LIGHT);
    double text_unit = brush_text_scale(scene, inner, 1.0);
    double unit = brush_line_scale(scene, inner, 1.0);
    for (guint i = 0; i < scene_shape_count(scene); i++) {
        const Shape *shape = scene_shape(scene, i);
        if (shape->kind == SHAPE_DIMENSION) {
            BrushDimension d;
            brush_dimension_place(layout, inner, theme, unit, text_unit, shape, &d);
            widen_overhang(&over, inner, width, height, &d.text);
        } else if (shape->kind == SHAPE_TEXT) {
            Shape plain = *shape;
            plain.pinned = FALSE;
            BrushText text;
            if (!brush_text_place(layout, inner, theme, text_unit, &plain, &text))
                continue;
            if (shape->pinned)
                text.left -= 8.0;
            widen_overhang(&over, inner, width, height, &text);
        }
    }
    return over;
}

// The scale of each axis that brings the box into width x height.
static void
choose_scale(const Scene *scene, double box_width, double box_height, double width, double height,
             PaintView *view)
{
    view->scale_x = fmax(LEAST_SCALE, fmax(width, 1.0) / box_width);
    view->scale_y = fmax(LEAST_SCALE, fmax(height, 1.0) / box_height);
    if (!scene_stretches(scene))
        view->scale_x = view->scale_y = fmin(view->scale_x, view->scale_y);
}

PaintView
paint_fit(const Scene *scene, double width, double height, double margin)
{
    SolidPoint min, max;
    scene_box(scene, &min, &max);
    double box_width = max.x > min.x ? max.x - min.x : 1.0;
    double box_height = max.y > min.y ? max.y - min.y : 1.0;
    PaintView view = {.width = width, .height = height, .y_down = scene_y_down(scene)};
    g_autoptr(PangoLayout) layout = brush_text_layout(NULL);
    Overhang over = {0, 0, 0, 0};
    // Texts keep their size while the drawing gives way, so it takes a few rounds.
    for (int round = 0; round < FIT_ROUNDS; round++) {
        choose_scale(scene, box_width, box_height, width - 2 * margin - over.left - over.right,
                     height - 2 * margin - over.top - over.bottom, &view);
        view.x = min.x;
        view.y = view.y_down ? min.y : max.y;
        over = measure_overhang(layout, scene, &view, box_width * view.scale_x,
                                box_height * view.scale_y);
        over.left = fmin(over.left, width / 3.0);
        over.right = fmin(over.right, width / 3.0);
        over.top = fmin(over.top, height / 3.0);
        over.bottom = fmin(over.bottom, height / 3.0);
    }
    choose_scale(scene, box_width, box_height, width - 2 * margin - over.left - over.right,
                 height - 2 * margin - over.top - over.bottom, &view);
    double spare_x = width - over.left - over.right - box_width * view.scale_x;
    double spare_y = height - over.top - over.bottom - box_height * view.scale_y;
    view.x = min.x - (over.left + spare_x / 2.0) / view.scale_x;
    double down = (over.top + spare_y / 2.0) / view.scale_y;
    view.y = view.y_down ? min.y - down : max.y + down;
    return view;
}

static void
fill_path(cairo_t *cr, const BrushPath *path)
{
    cairo_new_path(cr);
    for (guint run = 0; run < path->n_runs; run++) {
        cairo_new_sub_path(cr); // else the next run starts where the last one closed
        for (guint i = path->starts[run]; i < path->starts[run + 1]; i++)
            cairo_line_to(cr, path->points[i].x, path->points[i].y);
        cairo_close_path(cr);
    }
    cairo_set_fill_rule(cr, CAIRO_FILL_RULE_EVEN_ODD);
    cairo_fill(cr);
}

static gboolean
path_is_seen(const Brush *brush, const BrushPath *path, double margin)
{
    return path->max.x >= brush->x0 - margin && path->min.x <= brush->x1 + margin &&
           path->max.y >= brush->y0 - margin && path->min.y <= brush->y1 + margin;
}

static void
paint_path(const Brush *brush, const Shape *shape, gboolean bright)
{
    g_auto(BrushPath) path = {0};
    const ThemeInk *ink = &brush->theme->role[shape->role];
    double width = (ink->width + (bright ? 1.2 : 0.0)) * brush->unit;
    if (!brush_path(brush->scene, brush->view, shape, &path) || !path_is_seen(brush, &path, width))
        return;
    if (shape->filled && bright) {
        const double *accent = brush->theme->accent;
        cairo_set_source_rgba(brush->cr, accent[0], accent[1], accent[2], 0.22);
        fill_path(brush->cr, &path);
    } else if (shape->filled) {
        brush_set_colour(brush->cr, ink->fill);
        if (ink->fill[3] > 0.0)
            fill_path(brush->cr, &path);
        brush_hatch(brush, &path, ink->hatch, ink->ink);
    }
    if (shape->stroked || (bright && shape->filled)) {
        brush_set_colour(brush->cr, bright ? brush->theme->accent : ink->ink);
        cairo_set_line_width(brush->cr, width);
        brush_stroke(brush->cr, &path, ink->dash, ink->n_dash, brush->unit);
    }
}

static void
paint_shape(const Brush *brush, const Shape *shape, gboolean bright)
{
    const double *ink = bright ? brush->theme->accent : brush->theme->role[shape->role].ink;
    BrushText text;
    switch (shape->kind) {
    case SHAPE_PATH:
    case SHAPE_CIRCLE:
        paint_path(brush, shape, bright);
        return;
    case SHAPE_TEXT:
        if (brush_text_place(brush->layout, brush->view, brush->theme, brush->text_unit, shape,
                             &text))
            brush_text_paint(brush, &text, ink, shape->halo);
        return;
    case SHAPE_DIMENSION:
        brush_dimension_paint(brush, shape, ink);
        return;
    }
}

static void
paint_shapes(const Scene *scene, const PaintView *view, const Theme *theme, double unit,
             const char *only, const gboolean *chosen, cairo_t *cr)
{
    cairo_save(cr);
    g_autoptr(PangoLayout) layout = brush_text_layout(cr);
    Brush brush = {.scene = scene,
                   .view = view,
                   .theme = theme,
                   .unit = unit * brush_line_scale(scene, view, unit),
                   .text_unit = unit * brush_text_scale(scene, view, unit),
                   .cr = cr,
                   .layout = layout};
    cairo_clip_extents(cr, &brush.x0, &brush.y0, &brush.x1, &brush.y1);
    brush.x0 = fmax(brush.x0, 0.0);
    brush.y0 = fmax(brush.y0, 0.0);
    brush.x1 = fmin(brush.x1, view->width);
    brush.y1 = fmin(brush.y1, view->height);
    for (guint i = 0; i < scene_shape_count(scene); i++) {
        const Shape *shape = scene_shape(scene, i);
        if ((!only || g_strcmp0(only, shape->part) == 0) && (!chosen || chosen[i]))
            paint_shape(&brush, shape, only != NULL);
    }
    cairo_restore(cr);
}

void
paint_scene(const Scene *scene, const PaintView *view, const Theme *theme, double unit,
            const char *only, cairo_t *cr)
{
    g_return_if_fail(view->scale_x > 0.0 && view->scale_y > 0.0 && unit > 0.0);
    paint_shapes(scene, view, theme, unit, only, NULL, cr);
}

void
paint_scene_some(const Scene *scene, const PaintView *view, const Theme *theme, double unit,
                 const gboolean *chosen, cairo_t *cr)
{
    g_return_if_fail(view->scale_x > 0.0 && view->scale_y > 0.0 && unit > 0.0 && chosen != NULL);
    paint_shapes(scene, view, theme, unit, NULL, chosen, cr);
}
