// SPDX-License-Identifier: GPL-3.0-or-later
// A page of a sheet in ink, and all pages as a PDF.
#include <cairo-pdf.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "base/whole-file.h"
#include "report/sheet-private.h"
#include "sketch/paint.h"

#define BOX_SIDE 8.5
#define INK 0.1
#define PALE 0.45
#define HAIR 0.5

static void
show_text(cairo_t *cr, const char *text, double size, gboolean strong, double x, double y,
          double width, PangoAlignment align)
{
    PangoLayout *layout = sheet_layout(cr, text, size, strong, width);
    pango_layout_set_alignment(layout, align);
    cairo_move_to(cr, x, y);
    pango_cairo_show_layout(cr, layout);
    g_object_unref(layout);
}

static void
show_texts(cairo_t *cr, const SheetBlock *block, double y)
{
    for (guint i = 0; i < block->n_texts; i++) {
        double size, from, width;
        gboolean strong;
        sheet_text_look(block, i, &size, &strong, &from, &width);
        show_text(cr, block->texts[i], size, strong, SHEET_MARGIN + from, y, width,
                  PANGO_ALIGN_LEFT);
    }
}

static void
draw_line(cairo_t *cr, double x1, double y1, double x2, double y2)
{
    cairo_move_to(cr, x1, y1);
    cairo_line_to(cr, x2, y2);
    cairo_stroke(cr);
}

static void
paint_box(cairo_t *cr, const SheetBlock *block)
{
    cairo_rectangle(cr, SHEET_MARGIN + 0.5, block->y + 1.5, BOX_SIDE, BOX_SIDE);
    cairo_stroke(cr);
    show_texts(cr, block, block->y);
    if (block->n_texts < 2)
        return;
    double size, from, width;
    gboolean strong;
    sheet_text_look(block, 1, &size, &strong, &from, &width);
    PangoLayout *layout = sheet_layout(cr, block->texts[1], size, strong, width);
    PangoRectangle logical;
    pango_layout_get_extents(layout, NULL, &logical);
    g_object_unref(layout);
    double y = block->y + SHEET_TEXT + 2;
    draw_line(cr, SHEET_MARGIN + from + (double)logical.width / PANGO_SCALE + 4, y,
              SHEET_MARGIN + SHEET_INNER, y);
}

static void
paint_row(cairo_t *cr, const SheetBlock *block)
{
    double x = SHEET_MARGIN;
    if (block->heading) {
        cairo_set_source_rgb(cr, 0.92, 0.92, 0.92);
        for (guint i = 0; i < block->n_texts; i++) {
            cairo_rectangle(cr, x, block->y, block->shares[i] * SHEET_INNER, block->height);
            x += block->shares[i] * SHEET_INNER;
        }
        cairo_fill(cr);
        cairo_set_source_rgb(cr, INK, INK, INK);
        x = SHEET_MARGIN;
    }
    for (guint i = 0; i < block->n_texts; i++) {
        cairo_rectangle(cr, x, block->y, block->shares[i] * SHEET_INNER, block->height);
        cairo_stroke(cr);
        x += block->shares[i] * SHEET_INNER;
    }
    show_texts(cr, block, block->y + SHEET_PAD);
}

static void
paint_picture(cairo_t *cr, const SheetBlock *block)
{
    double width = SHEET_INNER / SHEET_CHART_UNIT, height = sheet_chart_height(block->height);
    PaintView view = {.scale_x = 1, .scale_y = 1, .width = width, .height = height, .y_down = TRUE};
    if (!block->as_is)
        view = paint_fit(block->scene, width, height, 2);
    cairo_save(cr);
    cairo_translate(cr, SHEET_MARGIN, block->y);
    cairo_scale(cr, SHEET_CHART_UNIT, SHEET_CHART_UNIT);
    cairo_rectangle(cr, 0, 0, width, height);
    cairo_clip(cr);
    paint_scene(block->scene, &view, theme_get(THEME_PAPER), 1, NULL, cr);
    cairo_restore(cr);
}

static void
paint_block(cairo_t *cr, const SheetBlock *block)
{
    cairo_set_source_rgb(cr, INK, INK, INK);
    cairo_set_line_width(cr, HAIR);
    switch (block->kind) {
    case SHEET_NEW_PAGE:
        return;
    case SHEET_BOX:
        paint_box(cr, block);
        return;
    case SHEET_ROW:
        paint_row(cr, block);
        return;
    case SHEET_PICTURE:
        paint_picture(cr, block);
        return;
    case SHEET_HEAD: {
        double size, from, width;
        gboolean strong;
        sheet_text_look(block, 0, &size, &strong, &from, &width);
        show_text(cr, block->texts[0], size, strong, SHEET_MARGIN,
                  block->y + block->height - size * 1.35 - SHEET_PAD, width, PANGO_ALIGN_LEFT);
        draw_line(cr, SHEET_MARGIN, block->y + block->height - 1.5, SHEET_MARGIN + SHEET_INNER,
                  block->y + block->height - 1.5);
        return;
    }
    default:
        show_texts(cr, block, block->y);
    }
}

// The title on every page but the first, which has it large; number and foot on all.
static void
paint_edges(const Sheet *sheet, guint page, cairo_t *cr)
{
    cairo_set_source_rgb(cr, PALE, PALE, PALE);
    if (page > 0)
        show_text(cr, sheet->title, SHEET_TEXT, FALSE, SHEET_MARGIN, SHEET_MARGIN - 6,
                  SHEET_INNER * 0.8, PANGO_ALIGN_LEFT);
    g_autofree char *number = g_strdup_printf(_("page %u of %u"), page + 1, sheet->n_pages);
    show_text(cr, number, SHEET_SMALL, FALSE, SHEET_MARGIN, SHEET_MARGIN - 6, SHEET_INNER,
              PANGO_ALIGN_RIGHT);
    show_text(cr, sheet->foot, SHEET_SMALL, FALSE, SHEET_MARGIN, SHEET_HEIGHT - SHEET_FOOT + 12,
              SHEET_INNER, PANGO_ALIGN_LEFT);
}

void
sheet_paint(Sheet *sheet, guint page, cairo_t *cr)
{
    g_return_if_fail(page < sheet_page_count(sheet));
    for (guint i = 0; i < sheet->blocks->len; i++) {
        const SheetBlock *block = &g_array_index(sheet->blocks, SheetBlock, i);
        if (block->page == page)
            paint_block(cr, block);
    }
    paint_edges(sheet, page, cr);
}

static cairo_status_t
write_bytes(void *closure, const unsigned char *data, unsigned int length)
{
    g_byte_array_append(closure, data, length);
    return CAIRO_STATUS_SUCCESS;
}

// No date goes in, so that the same plan gives the same bytes.
static cairo_status_t
draw_pages(Sheet *sheet, GByteArray *bytes)
{
    cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(write_bytes, bytes, SHEET_WIDTH,
                                                                   SHEET_HEIGHT);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, sheet->title);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
    cairo_t *cr = cairo_create(surface);
    for (guint i = 0; i < sheet_page_count(sheet); i++) {
        sheet_paint(sheet, i, cr);
        cairo_show_page(cr);
    }
    cairo_destroy(cr);
    cairo_surface_finish(surface);
    cairo_status_t status = cairo_surface_status(surface);
    cairo_surface_destroy(surface);
    return status;
}

gboolean
sheet_write(Sheet *sheet, const char *path, gboolean replace, GError **error)
{
    g_return_val_if_fail(sheet != NULL && path != NULL, FALSE);
    const char *dot = strrchr(path, '.');
    if (!dot || g_ascii_strcasecmp(dot, ".pdf") != 0)
        return base_error_set(error, BASE_ERROR_VALUE, path, NULL, _("sheets are written as PDF"),
                              _("end the name in .pdf"));
    g_autoptr(GByteArray) bytes = g_byte_array_new();
    cairo_status_t status = draw_pages(sheet, bytes);
    if (status != CAIRO_STATUS_SUCCESS)
        return base_error_setf(error, BASE_ERROR_FILE, path, NULL, _("free some memory"),
                               _("drawing it failed (%s)"), cairo_status_to_string(status));
    return whole_file_write(path, bytes->data, bytes->len, replace, error);
}
