// SPDX-License-Identifier: GPL-3.0-or-later
// Dimensions after ISO 129-1: extension lines that start just off the object and pass the dimension
// line a little, slim filled arrowheads, the text above the line and along it, readable from below
// or from the right. Where there is no room the arrows come from outside and the text stands
// beyond.
//
//        |<---- 31.5 ---->|          ->| 4 |<-
#include <math.h>

#include "sketch/brush.h"

#define ARROW_LENGTH 9.0
#define ARROW_HALF 1.5
#define EXTENSION_GAP 2.5
#define EXTENSION_PAST 5.0
#define MOST_OVERHANG 1.8 // text widths to a length
#define TEXT_LIFT 1.0     // between line and text
#define OUTSIDE_TAIL 16.0 // line outside the arrows when they come from outside

static SolidPoint
point_along(SolidPoint from, SolidPoint direction, double length)
{
    return (SolidPoint){from.x + direction.x * length, from.y + direction.y * length};
}

// The text's turn and which side is "above" for it.
static void
place_text(const BrushDimension *d, SolidPoint along, double unit, BrushText *text)
{
    double turn = atan2(along.y, along.x);
    if (turn > G_PI / 2.0 - 1e-3)
        turn -= G_PI;
    else if (turn <= -G_PI / 2.0 - 1e-3)
        turn += G_PI;
    text->turn = turn;
    SolidPoint up = {sin(turn), -cos(turn)};
    SolidPoint middle = {(d->line_a.x + d->line_b.x) / 2.0, (d->line_a.y + d->line_b.y) / 2.0};
    if (d->text_outside)
        middle = point_along(d->line_b, along, OUTSIDE_TAIL * unit + text->width / 2.0);
    double lift = d->text_outside ? 0.0 : text->height / 2.0 + TEXT_LIFT * unit;
    text->x = middle.x + up.x * lift;
    text->y = middle.y + up.y * lift;
    text->left = -text->width / 2.0;
}

void
brush_dimension_lay_out(const PaintView *view, double unit, const Shape *shape, BrushDimension *d)
{
    paint_to_device(view, shape->points[0].x, shape->points[0].y, &d->from.x, &d->from.y);
    paint_to_device(view, shape->points[1].x, shape->points[1].y, &d->to.x, &d->to.y);
    double dx = d->to.x - d->from.x, dy = d->to.y - d->from.y;
    d->length = hypot(dx, dy);
    SolidPoint along = {1.0, 0.0};
    if (d->length > 0.0)
        along = (SolidPoint){dx / d->length, dy / d->length};
    // Left of the direction in the scene is right of it on a surface whose y points down.
    double hand = view->y_down ? 1.0 : -1.0;
    hand = shape->radius < 0.0 ? -hand : hand;
    d->side = (SolidPoint){-along.y * hand, along.x * hand};
    d->offset = fabs(shape->radius) * fabs(view->scale_x);
    d->line_a = point_along(d->from, d->side, d->offset);
    d->line_b = point_along(d->to, d->side, d->offset);
    d->arrows_outside = d->length < 2.6 * ARROW_LENGTH * unit;
    // Above the line a text may reach past the arrows a little, but not far from what it measures.
    d->text_outside = d->text.width > MOST_OVERHANG * d->length;
    place_text(d, along, unit, &d->text);
}

void
brush_dimension_place(PangoLayout *layout, const PaintView *view, const Theme *theme, double unit,
                      double text_unit, const Shape *shape, BrushDimension *d)
{
    // brush_text_place sets the layout and measures; where the text goes is decided here.
    Shape text_shape = *shape;
    text_shape.room_x = text_shape.room_y = 0.0;
    text_shape.pinned = FALSE;
    brush_text_place(layout, view, theme, text_unit, &text_shape, &d->text);
    brush_dimension_lay_out(view, unit, shape, d);
}

void
brush_dimension_ends(const BrushDimension *d, double unit, SolidPoint *a, SolidPoint *b)
{
    SolidPoint along = {1.0, 0.0};
    if (d->length > 0.0)
        along = (SolidPoint){(d->to.x - d->from.x) / d->length, (d->to.y - d->from.y) / d->length};
    double tail = d->arrows_outside ? OUTSIDE_TAIL * unit : 0.0;
    double far = d->text_outside ? (OUTSIDE_TAIL - 3.0) * unit : tail;
    *a = point_along(d->line_a, along, -tail);
    *b = point_along(d->line_b, along, far);
}

static void
add_line(cairo_t *cr, SolidPoint a, SolidPoint b)
{
    cairo_move_to(cr, a.x, a.y);
    cairo_line_to(cr, b.x, b.y);
}

static void
fill_arrow(cairo_t *cr, SolidPoint tip, SolidPoint direction, double unit)
{
    SolidPoint base = point_along(tip, direction, -ARROW_LENGTH * unit);
    double half = ARROW_HALF * unit;
    cairo_move_to(cr, tip.x, tip.y);
    cairo_line_to(cr, base.x - direction.y * half, base.y + direction.x * half);
    cairo_line_to(cr, base.x + direction.y * half, base.y - direction.x * half);
    cairo_close_path(cr);
    cairo_fill(cr);
}

static void
stroke_lines(const Brush *brush, const BrushDimension *d)
{
    cairo_t *cr = brush->cr;
    double gap = EXTENSION_GAP * brush->unit, past = EXTENSION_PAST * brush->unit;
    cairo_set_dash(cr, NULL, 0, 0.0);
    cairo_set_line_cap(cr, CAIRO_LINE_CAP_BUTT);
    if (d->offset > gap) {
        add_line(cr, point_along(d->from, d->side, gap), point_along(d->line_a, d->side, past));
        add_line(cr, point_along(d->to, d->side, gap), point_along(d->line_b, d->side, past));
    } else {
        // No extension lines: short ticks show where the arrows point.
        add_line(cr, point_along(d->line_a, d->side, -past), point_along(d->line_a, d->side, past));
        add_line(cr, point_along(d->line_b, d->side, -past), point_along(d->line_b, d->side, past));
    }
    SolidPoint a, b;
    brush_dimension_ends(d, brush->unit, &a, &b);
    add_line(cr, a, b);
    cairo_stroke(cr);
}

// A dimension of no length says nothing and is left out.
void
brush_dimension_paint(const Brush *brush, const Shape *shape, const double ink[4])
{
    BrushDimension d;
    brush_dimension_place(brush->layout, brush->view, brush->theme, brush->unit, brush->text_unit,
                          shape, &d);
    if (d.length <= 0.0)
        return;
    SolidPoint along = {(d.to.x - d.from.x) / d.length, (d.to.y - d.from.y) / d.length};
    SolidPoint back = {-along.x, -along.y};
    brush_set_colour(brush->cr, ink);
    cairo_set_line_width(brush->cr, brush->theme->role[ROLE_DIMENSION].width * brush->unit);
    stroke_lines(brush, &d);
    fill_arrow(brush->cr, d.line_a, d.arrows_outside ? along : back, brush->unit);
    fill_arrow(brush->cr, d.line_b, d.arrows_outside ? back : along, brush->unit);
    brush_text_paint(brush, &d.text, ink, shape->halo);
}
