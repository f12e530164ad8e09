// SPDX-License-Identifier: GPL-3.0-or-later
// Shapes in device units, and the questions asked of them by painting and by picking.
#include "sketch/brush.h"

#include <math.h>

#define CIRCLE_SIDES 72
#define LEAST_LINE_SCALE 0.55
#define MOST_TEXT_SCALE 1.25 // of its size, in a drawing that is shown larger than it needs

double
brush_text_scale(const Scene *scene, const PaintView *view, double unit)
{
    double grain = scene_grain(scene);
    if (grain <= 0.0 || scene_stretches(scene))
        return 1.0;
    return fmin(MOST_TEXT_SCALE, grain * fabs(view->scale_x) / (SCENE_GRAIN_PX * unit));
}

double
brush_line_scale(const Scene *scene, const PaintView *view, double unit)
{
    return CLAMP(brush_text_scale(scene, view, unit), LEAST_LINE_SCALE, 1.0);
}

// Edges along the axes of a stretched scene (a chart) are put on whole device units, for crispness.
static SolidPoint
place_point(const Scene *scene, const PaintView *view, double x, double y)
{
    SolidPoint p;
    paint_to_device(view, x, y, &p.x, &p.y);
    if (scene_stretches(scene)) {
        p.x = floor(p.x) + 0.5;
        p.y = floor(p.y) + 0.5;
    }
    return p;
}

static void
place_circle(const Scene *scene, const PaintView *view, const Shape *shape, BrushPath *path)
{
    double radius = scene_stretches(scene) ? shape->radius : shape->radius * fabs(view->scale_x);
    double x, y;
    paint_to_device(view, shape->points[0].x, shape->points[0].y, &x, &y);
    path->n_runs = 1;
    path->points = g_new(SolidPoint, CIRCLE_SIDES);
    path->starts = g_new0(guint, 2);
    path->starts[1] = CIRCLE_SIDES;
    for (guint i = 0; i < CIRCLE_SIDES; i++) {
        double turn = 2.0 * G_PI * i / CIRCLE_SIDES;
        path->points[i] = (SolidPoint){x + radius * cos(turn), y + radius * sin(turn)};
    }
}

static void
place_runs(const Scene *scene, const PaintView *view, const Shape *shape, BrushPath *path)
{
    path->n_runs = shape->n_runs;
    path->points = g_new(SolidPoint, shape->n_points);
    path->starts = g_memdup2(shape->starts, (shape->n_runs + 1) * sizeof *shape->starts);
    for (guint i = 0; i < shape->n_points; i++)
        path->points[i] = place_point(scene, view, shape->points[i].x, shape->points[i].y);
}

gboolean
brush_path(const Scene *scene, const PaintView *view, const Shape *shape, BrushPath *path)
{
    *path = (BrushPath){.closed = shape->closed};
    if (shape->n_points == 0 || shape->kind == SHAPE_TEXT || shape->kind == SHAPE_DIMENSION)
        return FALSE;
    if (shape->kind == SHAPE_CIRCLE)
        place_circle(scene, view, shape, path);
    else
        place_runs(scene, view, shape, path);
    path->min = (SolidPoint){INFINITY, INFINITY};
    path->max = (SolidPoint){-INFINITY, -INFINITY};
    for (guint i = 0; i < path->starts[path->n_runs]; i++) {
        path->min.x = fmin(path->min.x, path->points[i].x);
        path->min.y = fmin(path->min.y, path->points[i].y);
        path->max.x = fmax(path->max.x, path->points[i].x);
        path->max.y = fmax(path->max.y, path->points[i].y);
    }
    return TRUE;
}

void
brush_path_clear(BrushPath *path)
{
    g_clear_pointer(&path->points, g_free);
    g_clear_pointer(&path->starts, g_free);
    path->n_runs = 0;
}

gboolean
brush_path_contains(const BrushPath *path, double x, double y)
{
    gboolean inside = FALSE;
    if (x < path->min.x || x > path->max.x || y < path->min.y || y > path->max.y)
        return FALSE;
    for (guint run = 0; run < path->n_runs; run++) {
        guint first = path->starts[run], end = path->starts[run + 1];
        for (guint i = first, j = end - 1; i < end; j = i++) {
            SolidPoint a = path->points[i], b = path->points[j];
            if ((a.y > y) != (b.y > y) && x < (b.x - a.x) * (y - a.y) / (b.y - a.y) + a.x)
                inside = !inside;
        }
    }
    return inside;
}

static double
distance_to_edge(SolidPoint a, SolidPoint b, double x, double y)
{
    double dx = b.x - a.x, dy = b.y - a.y;
    double square = dx * dx + dy * dy;
    double t = square > 0.0 ? ((x - a.x) * dx + (y - a.y) * dy) / square : 0.0;
    t = CLAMP(t, 0.0, 1.0);
    return hypot(x - a.x - t * dx, y - a.y - t * dy);
}

double
brush_path_distance(const BrushPath *path, double x, double y)
{
    double least = INFINITY;
    for (guint run = 0; run < path->n_runs; run++) {
        guint first = path->starts[run], end = path->starts[run + 1];
        if (end == first)
            continue;
        if (path->closed || end - first == 1)
            least = fmin(least, distance_to_edge(path->points[end - 1], path->points[first], x, y));
        for (guint i = first + 1; i < end; i++)
            least = fmin(least, distance_to_edge(path->points[i - 1], path->points[i], x, y));
    }
    return least;
}

void
brush_set_colour(cairo_t *cr, const double rgba[4])
{
    cairo_set_source_rgba(cr, rgba[0], rgba[1], rgba[2], rgba[3]);
}

static void
set_dash(cairo_t *cr, const double *dash, int n_dash, double unit, double done)
{
    double scaled[8];
    n_dash = MIN(n_dash, (int)G_N_ELEMENTS(scaled));
    for (int i = 0; i < n_dash; i++)
        scaled[i] = dash[i] * unit;
    cairo_set_dash(cr, scaled, dash ? n_dash : 0, done);
}

static void
stroke_run(cairo_t *cr, const SolidPoint *points, guint n, gboolean closed, const double *dash,
           int n_dash, double unit)
{
    gboolean whole = n <= BRUSH_CHUNK;
    guint edges = closed ? n : n - 1;
    double done = 0.0, length = 0.0;
    set_dash(cr, dash, n_dash, unit, 0.0);
    cairo_move_to(cr, points[0].x, points[0].y);
    for (guint i = 1; i <= edges; i++) {
        SolidPoint a = points[i - 1], b = points[i % n];
        if (closed && whole && i == n) {
            cairo_close_path(cr);
            break;
        }
        cairo_line_to(cr, b.x, b.y);
        length += hypot(b.x - a.x, b.y - a.y);
        if (i % BRUSH_CHUNK == 0 && i < edges) {
            cairo_stroke(cr);
            done += length;
            length = 0.0;
            set_dash(cr, dash, n_dash, unit, done);
            cairo_move_to(cr, b.x, b.y);
        }
    }
    cairo_stroke(cr);
}

void
brush_stroke(cairo_t *cr, const BrushPath *path, const double *dash, int n_dash, double unit)
{
    cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
    cairo_set_line_cap(cr, dash ? CAIRO_LINE_CAP_BUTT : CAIRO_LINE_CAP_ROUND);
    for (guint run = 0; run < path->n_runs; run++) {
        guint n = path->starts[run + 1] - path->starts[run];
        if (n >= 2)
            stroke_run(cr, path->points + path->starts[run], n, path->closed, dash, n_dash, unit);
    }
    cairo_set_dash(cr, NULL, 0, 0.0);
}
