// SPDX-License-Identifier: GPL-3.0-or-later
// What the painters of one scene share: surface, view, palette, and shapes turned into device
// coordinates. Private to sketch/; painting and picking both start from here, so that what is drawn
// is what is hit.
#pragma once

#include <cairo.h>
#include <pango/pangocairo.h>

#include "sketch/paint.h"

G_BEGIN_DECLS

// No stroke or fill holds more pieces than this: cairo's time for one path grows faster than its
// length.
#define BRUSH_CHUNK 100

typedef struct {
    const Scene *scene;
    const PaintView *view;
    const Theme *theme;
    double unit;      // device units for one unit of line width
    double text_unit; // the same for text sizes
    cairo_t *cr;
    PangoLayout *layout;
    double x0, y0, x1, y1; // what can be seen, device units
} Brush;

// Runs of points in device units; run i is points[starts[i]] .. points[starts[i + 1] - 1].
typedef struct {
    SolidPoint *points;
    guint *starts;
    guint n_runs;
    gboolean closed;
    SolidPoint min, max;
} BrushPath;

// A text where it stands: turned by `turn` (clockwise on the surface) about (x, y), it covers
// [left, left + width] x [-height / 2, height / 2].
typedef struct {
    double x, y, turn;
    double left, width, height;
    gboolean held; // pinned, and away from its place
} BrushText;

// A dimension where it stands.
typedef struct {
    SolidPoint from, to;       // measured points
    SolidPoint line_a, line_b; // ends of the dimension line
    SolidPoint side;           // unit, from the points towards the line
    double length, offset;     // device units; offset is never negative
    gboolean arrows_outside;   // too short for arrows within
    BrushText text;
    gboolean text_outside; // the text stands beyond line_b
} BrushDimension;

// How much text shrinks when the view is smaller than the drawing was laid out for; 1 at most.
double brush_text_scale(const Scene *scene, const PaintView *view, double unit);
// The same for line weights, which shrink less.
double brush_line_scale(const Scene *scene, const PaintView *view, double unit);

// Path or circle (as a polygon). FALSE when the shape has none. Clear afterwards.
gboolean brush_path(const Scene *scene, const PaintView *view, const Shape *shape, BrushPath *path);
void brush_path_clear(BrushPath *path);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(BrushPath, brush_path_clear)

gboolean brush_path_contains(const BrushPath *path, double x, double y); // even-odd
double brush_path_distance(const BrushPath *path, double x, double y);   // to the nearest edge

void brush_set_colour(cairo_t *cr, const double rgba[4]);
// Strokes the runs of a path in chunks, dashes running on over the joints.
void brush_stroke(cairo_t *cr, const BrushPath *path, const double *dash, int n_dash, double unit);

// Sets up the layout for a text; FALSE when it has no room. text_unit in device units.
PangoLayout *brush_text_layout(cairo_t *cr); // cr may be NULL (for measuring)
gboolean brush_text_place(PangoLayout *layout, const PaintView *view, const Theme *theme,
                          double text_unit, const Shape *shape, BrushText *text);
void brush_text_paint(const Brush *brush, const BrushText *text, const double ink[4],
                      gboolean halo);
gboolean brush_text_contains(const BrushText *text, double x, double y, double reach);

void brush_dimension_place(PangoLayout *layout, const PaintView *view, const Theme *theme,
                           double unit, double text_unit, const Shape *shape,
                           BrushDimension *dimension);
// The same when the text is measured: its width and height are read from `d`.
void brush_dimension_lay_out(const PaintView *view, double unit, const Shape *shape,
                             BrushDimension *d);
// Where its line begins and ends, with what reaches past the arrows.
void brush_dimension_ends(const BrushDimension *d, double unit, SolidPoint *a, SolidPoint *b);
void brush_dimension_paint(const Brush *brush, const Shape *shape, const double ink[4]);

void brush_hatch(const Brush *brush, const BrushPath *path, Hatch hatch, const double ink[4]);

G_END_DECLS
