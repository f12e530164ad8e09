// SPDX-License-Identifier: GPL-3.0-or-later
// Texts of a drawing: where they stand, shortened to the room they have, with a rim of paper where
// they stand on hatching.
#include <math.h>

#include "sketch/brush.h"

#define LEAST_ROOM 4.5 // sizes of room, below which a shortened text says nothing
#define PIN_MARGIN 6.0 // from the left edge to a pinned text
#define PIN_GAP 8.0    // from a pinned text to the place it stands for
#define HALO_WIDTH 3.2

PangoLayout *
brush_text_layout(cairo_t *cr)
{
    PangoLayout *layout;
    if (cr) {
        layout = pango_cairo_create_layout(cr);
    } else {
        PangoContext *context = pango_font_map_create_context(pango_cairo_font_map_get_default());
        layout = pango_layout_new(context);
        g_object_unref(context);
    }
    // Unhinted, so that a text has the same width at every size and on every surface.
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    cairo_font_options_set_antialias(options, CAIRO_ANTIALIAS_GRAY);
    pango_cairo_context_set_font_options(pango_layout_get_context(layout), options);
    cairo_font_options_destroy(options);
    pango_layout_context_changed(layout);

    PangoAttrList *attributes = pango_attr_list_new();
    pango_attr_list_insert(attributes, pango_attr_font_features_new("tnum=1"));
    pango_layout_set_attributes(layout, attributes);
    pango_attr_list_unref(attributes);
    pango_layout_set_single_paragraph_mode(layout, TRUE);
    return layout;
}

static void
measure_text(PangoLayout *layout, const Theme *theme, double size, gboolean strong,
             const char *words, double *width, double *height)
{
    PangoFontDescription *font = pango_font_description_from_string(theme->font);
    pango_font_description_set_absolute_size(font, size * PANGO_SCALE);
    pango_font_description_set_weight(font, strong ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_layout_set_font_description(layout, font);
    pango_font_description_free(font);
    pango_layout_set_width(layout, -1);
    pango_layout_set_ellipsize(layout, PANGO_ELLIPSIZE_NONE);
    pango_layout_set_text(layout, words, -1);
    PangoRectangle logical;
    pango_layout_get_extents(layout, NULL, &logical);
    *width = (double)logical.width / PANGO_SCALE;
    *height = (double)logical.height / PANGO_SCALE;
}

// Shortens the text that is set to `room`; FALSE when nothing would be left worth reading.
static gboolean
shorten_text(PangoLayout *layout, double room, double size, double *width)
{
    if (*width <= room)
        return TRUE;
    if (room < LEAST_ROOM * size)
        return FALSE;
    pango_layout_set_ellipsize(layout, PANGO_ELLIPSIZE_END);
    pango_layout_set_width(layout, (int)(room * PANGO_SCALE));
    PangoRectangle logical;
    pango_layout_get_extents(layout, NULL, &logical);
    *width = (double)logical.width / PANGO_SCALE;
    return TRUE;
}

gboolean
brush_text_place(PangoLayout *layout, const PaintView *view, const Theme *theme, double text_unit,
                 const Shape *shape, BrushText *text)
{
    double size = shape->size * text_unit;
    measure_text(layout, theme, size, shape->strong, shape->text, &text->width, &text->height);
    if (shape->room_y > 0.0 && size > shape->room_y * fabs(view->scale_y))
        return FALSE;
    if (shape->room_x > 0.0 &&
        !shorten_text(layout, shape->room_x * fabs(view->scale_x), size, &text->width))
        return FALSE;
    paint_to_device(view, shape->points[0].x, shape->points[0].y, &text->x, &text->y);
    text->turn = -shape->turn;
    text->left = shape->align == ALIGN_START ? 0.0
                 : shape->align == ALIGN_END ? -text->width
                                             : -text->width / 2.0;
    text->held = FALSE;
    if (shape->pinned) {
        text->left -= PIN_GAP;
        text->held = text->x < PIN_MARGIN - text->left;
        text->x = fmax(text->x, PIN_MARGIN - text->left);
    }
    return TRUE;
}

void
brush_text_paint(const Brush *brush, const BrushText *text, const double ink[4], gboolean halo)
{
    cairo_t *cr = brush->cr;
    cairo_save(cr);
    cairo_translate(cr, text->x, text->y);
    cairo_rotate(cr, text->turn);
    if (text->held) { // over whatever has been scrolled below it
        const double *ground = brush->theme->role[ROLE_PAPER].fill;
        cairo_set_source_rgba(cr, ground[0], ground[1], ground[2], 0.88);
        cairo_rectangle(cr, -text->x, -text->height / 2.0,
                        text->x + text->left + text->width + PIN_MARGIN, text->height);
        cairo_fill(cr);
    }
    // An ellipsized layout is aligned within its width, which is where `left` starts.
    cairo_move_to(cr, text->left, -text->height / 2.0);
    if (halo && !text->held) {
        const double *ground = brush->theme->role[ROLE_PAPER].fill;
        cairo_set_source_rgba(cr, ground[0], ground[1], ground[2], 0.88);
        cairo_set_line_width(cr, HALO_WIDTH * brush->text_unit);
        cairo_set_line_join(cr, CAIRO_LINE_JOIN_ROUND);
        pango_cairo_layout_path(cr, brush->layout);
        cairo_stroke(cr);
        cairo_move_to(cr, text->left, -text->height / 2.0);
    }
    brush_set_colour(cr, ink);
    pango_cairo_show_layout(cr, brush->layout);
    cairo_new_path(cr);
    cairo_restore(cr);
}

gboolean
brush_text_contains(const BrushText *text, double x, double y, double reach)
{
    double dx = x - text->x, dy = y - text->y;
    double c = cos(text->turn), s = sin(text->turn);
    double along = c * dx + s * dy, across = -s * dx + c * dy;
    return along >= text->left - reach && along <= text->left + text->width + reach &&
           fabs(across) <= text->height / 2.0 + reach;
}
