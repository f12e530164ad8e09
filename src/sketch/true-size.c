// SPDX-License-Identifier: GPL-3.0-or-later
// Paper in true size. Each sheet shows a window of the scene; neighbours overlap, and the edge of
// the overlap is marked, so that sheets can be laid on each other mark on mark.
#include "sketch/true-size.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "base/whole-file.h"
#include "sketch/dxf.h"
#include "sketch/paint.h"

#define POINTS (72.0 / 25.4) // a millimetre
#define MOST_SHEETS 400
#define LEAST_WINDOW 20.0 // mm
#define CHECK 50.0        // mm, side of the square to check the printer by
#define RIM 5.0           // mm round a drawing on a page of its own
#define TEXT 0.75         // points a unit of text
#define MARK 6.0          // mm, length of a joining mark

const TrueSizeSheet true_size_a4 = {210, 297, 10, 10};

gboolean
true_size_sheets(const TrueSizeSheet *sheet, double width, double height, guint *across,
                 guint *down)
{
    double step_x = sheet->width - 2 * sheet->margin - sheet->overlap;
    double step_y = sheet->height - 2 * sheet->margin - sheet->overlap;
    if (!(step_x >= LEAST_WINDOW && step_y >= LEAST_WINDOW && width >= 0 && height >= 0))
        return FALSE;
    double nx = fmax(1, ceil((width - sheet->overlap) / step_x - 1e-9));
    double ny = fmax(1, ceil((height - sheet->overlap) / step_y - 1e-9));
    if (!(nx * ny <= MOST_SHEETS))
        return FALSE;
    *across = (guint)nx;
    *down = (guint)ny;
    return TRUE;
}

static cairo_status_t
write_bytes(void *closure, const unsigned char *data, unsigned int length)
{
    g_byte_array_append(closure, data, length);
    return CAIRO_STATUS_SUCCESS;
}

// A view of `width` by `height` mm whose top left corner is the scene's (x, y), y up.
static PaintView
make_view(double x, double y, double width, double height)
{
    return (PaintView){.scale_x = POINTS,
                       .scale_y = POINTS,
                       .x = x,
                       .y = y,
                       .width = width * POINTS,
                       .height = height * POINTS};
}

// The box of the scene, widened by `rim` (mm).
static void
find_box(const Scene *scene, double rim, SolidPoint *low, SolidPoint *high)
{
    scene_box(scene, low, high);
    *low = (SolidPoint){low->x - rim, low->y - rim};
    *high = (SolidPoint){high->x + rim, high->y + rim};
}

static void
draw_svg(const Scene *scene, GByteArray *bytes)
{
    SolidPoint low, high;
    find_box(scene, RIM, &low, &high);
    double width = high.x - low.x, height = high.y - low.y;
    cairo_surface_t *surface = cairo_svg_surface_create_for_stream(write_bytes, bytes,
                                                                   width * POINTS, height * POINTS);
    cairo_svg_surface_set_document_unit(surface, CAIRO_SVG_UNIT_PT);
    cairo_t *cr = cairo_create(surface);
    PaintView view = make_view(low.x, high.y, width, height);
    paint_scene(scene, &view, theme_get(THEME_PAPER), TEXT, NULL, cr);
    cairo_destroy(cr);
    cairo_surface_finish(surface);
    cairo_surface_destroy(surface);
}

static void
draw_words(cairo_t *cr, double x, double y, const char *words)
{
    cairo_select_font_face(cr, "sans-serif", CAIRO_FONT_SLANT_NORMAL, CAIRO_FONT_WEIGHT_NORMAL);
    cairo_set_font_size(cr, 8);
    cairo_move_to(cr, x * POINTS, y * POINTS);
    cairo_show_text(cr, words);
}

static void
draw_line(cairo_t *cr, double x1, double y1, double x2, double y2)
{
    cairo_move_to(cr, x1 * POINTS, y1 * POINTS);
    cairo_line_to(cr, x2 * POINTS, y2 * POINTS);
    cairo_stroke(cr);
}

// At the four corners of a window, crosses that lie on those of the neighbours: at half the
// overlap from its edges.
static void
draw_marks(cairo_t *cr, const TrueSizeSheet *s)
{
    double half = s->overlap / 2, low_x = s->margin + half, low_y = s->margin + half;
    double xs[2] = {low_x, s->width - low_x}, ys[2] = {low_y, s->height - low_y};
    for (int i = 0; i < 2; i++)
        for (int j = 0; j < 2; j++) {
            draw_line(cr, xs[i] - MARK / 2, ys[j], xs[i] + MARK / 2, ys[j]);
            draw_line(cr, xs[i], ys[j] - MARK / 2, xs[i], ys[j] + MARK / 2);
        }
}

typedef struct {
    const Scene *scene;
    const TrueSizeSheet *sheet;
    guint across, down;
    SolidPoint corner; // scene point at the top left of the first window
} Tiling;

static void
draw_sheet(const Tiling *t, guint column, guint row, cairo_t *cr)
{
    const TrueSizeSheet *s = t->sheet;
    double width = s->width - 2 * s->margin, height = s->height - 2 * s->margin;
    double x = t->corner.x + column * (width - s->overlap);
    double y = t->corner.y - row * (height - s->overlap);
    cairo_save(cr);
    cairo_rectangle(cr, s->margin * POINTS, s->margin * POINTS, width * POINTS, height * POINTS);
    cairo_clip(cr);
    cairo_translate(cr, s->margin * POINTS, s->margin * POINTS);
    PaintView view = make_view(x, y, width, height);
    paint_scene(t->scene, &view, theme_get(THEME_PAPER), TEXT, NULL, cr);
    cairo_restore(cr);
    cairo_set_source_rgb(cr, 0, 0, 0);
    cairo_set_line_width(cr, 0.5);
    draw_marks(cr, s);
    g_autofree char *words = g_strdup_printf(_("%s · sheet %u of %u (column %u, row %u)"),
                                             scene_title(t->scene), row * t->across + column + 1,
                                             t->across * t->down, column + 1, row + 1);
    draw_words(cr, s->margin, s->height - s->margin / 3, words);
}

// On the last sheet, below right, where it hides least.
static void
draw_check(cairo_t *cr, const TrueSizeSheet *s)
{
    double x = s->width - s->margin - s->overlap - CHECK - 2,
           y = s->height - s->margin - s->overlap - CHECK - 2;
    cairo_rectangle(cr, x * POINTS, y * POINTS, CHECK * POINTS, CHECK * POINTS);
    cairo_stroke(cr);
    draw_words(cr, x + 2, y + CHECK - 6, _("Must measure 50 mm each way:"));
    draw_words(cr, x + 2, y + CHECK - 2, _("print without scaling to fit"));
}

static gboolean
draw_pdf(const Scene *scene, const TrueSizeSheet *sheet, GByteArray *bytes, const char *path,
         GError **error)
{
    SolidPoint low, high;
    find_box(scene, sheet->overlap, &low, &high);
    Tiling t = {.scene = scene, .sheet = sheet, .corner = {low.x, high.y}};
    if (!true_size_sheets(sheet, high.x - low.x, high.y - low.y, &t.across, &t.down))
        return base_error_setf(error, BASE_ERROR_LIMIT, path, NULL,
                               _("use larger paper, or export as DXF or SVG"),
                               _("the drawing does not go on %d sheets of %g by %g mm"),
                               MOST_SHEETS, sheet->width, sheet->height);
    cairo_surface_t *surface = cairo_pdf_surface_create_for_stream(
        write_bytes, bytes, sheet->width * POINTS, sheet->height * POINTS);
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, scene_title(scene));
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
    cairo_t *cr = cairo_create(surface);
    for (guint row = 0; row < t.down; row++)
        for (guint column = 0; column < t.across; column++) {
            draw_sheet(&t, column, row, cr);
            if (row + 1 == t.down && column + 1 == t.across)
                draw_check(cr, sheet);
            cairo_show_page(cr);
        }
    cairo_destroy(cr);
    cairo_surface_finish(surface);
    cairo_surface_destroy(surface);
    return TRUE;
}

// A4 upright or lying, whichever takes fewer sheets.
static TrueSizeSheet
choose_sheet(const Scene *scene)
{
    SolidPoint low, high;
    guint across, down;
    TrueSizeSheet upright = true_size_a4, lying = upright;
    lying.width = upright.height;
    lying.height = upright.width;
    find_box(scene, upright.overlap, &low, &high);
    double width = high.x - low.x, height = high.y - low.y;
    guint fewest = true_size_sheets(&upright, width, height, &across, &down) ? across * down
                                                                             : G_MAXUINT;
    if (true_size_sheets(&lying, width, height, &across, &down) && across * down < fewest)
        return lying;
    return upright;
}

gboolean
true_size_export(const Scene *scene, const TrueSizeSheet *sheet, const char *path, gboolean replace,
                 GError **error)
{
    g_return_val_if_fail(scene != NULL && path != NULL, FALSE);
    const char *dot = strrchr(path, '.');
    const char *ending = dot ? dot : "";
    if (!whole_file_may(path, replace, error))
        return FALSE;
    g_autoptr(GByteArray) bytes = g_byte_array_new();
    if (g_ascii_strcasecmp(ending, ".svg") == 0) {
        draw_svg(scene, bytes);
    } else if (g_ascii_strcasecmp(ending, ".dxf") == 0) {
        g_autofree char *text = dxf_write(scene);
        g_byte_array_append(bytes, (const guint8 *)text, (guint)strlen(text));
    } else if (g_ascii_strcasecmp(ending, ".pdf") == 0) {
        TrueSizeSheet chosen = sheet ? *sheet : choose_sheet(scene);
        if (!draw_pdf(scene, &chosen, bytes, path, error))
            return FALSE;
    } else {
        return base_error_set(error, BASE_ERROR_VALUE, path, NULL,
                              _("the ending does not say what to draw"),
                              _("end the name in .svg, .pdf or .dxf"));
    }
    return whole_file_write(path, bytes->data, bytes->len, replace, error);
}
