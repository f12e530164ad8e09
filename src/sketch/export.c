// SPDX-License-Identifier: GPL-3.0-or-later
// A scene to a file. The page is made in memory and put in place whole. An SVG also says which
// things are where: each part is a group with its id and words over the drawing, so that a browser
// shows them on hover.
#include "sketch/export.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "base/whole-file.h"

#define POINTS_PER_UNIT 0.75 // 72 / 96
#define MOST_SIDE 20000.0    // device units; larger images only fill the memory
#define MOST_PIXELS 1e8
// A page of this size shows text at its own size; larger ones enlarge it with the drawing.
#define PLAIN_WIDTH 1100.0
#define PLAIN_HEIGHT 760.0

typedef enum {
    KIND_PNG,
    KIND_SVG,
    KIND_PDF
} FileKind;

typedef struct {
    const Scene *scene; // or the first of `more`
    Scene *const *more; // pages laid out as they are, or NULL
    guint n;
    ThemeKind theme;
    FileKind kind;
    double width, height, unit;
    PaintView view;
} Page;

static gboolean
find_kind(const char *path, FileKind *kind, GError **error)
{
    const char *dot = strrchr(path, '.');
    if (dot && g_ascii_strcasecmp(dot, ".png") == 0)
        *kind = KIND_PNG;
    else if (dot && g_ascii_strcasecmp(dot, ".svg") == 0)
        *kind = KIND_SVG;
    else if (dot && g_ascii_strcasecmp(dot, ".pdf") == 0)
        *kind = KIND_PDF;
    else
        return base_error_set(error, BASE_ERROR_VALUE, path, NULL,
                              "the ending does not say what to draw",
                              "end the name in .svg, .png or .pdf");
    return TRUE;
}

static cairo_status_t
write_bytes(void *closure, const unsigned char *data, unsigned int length)
{
    g_byte_array_append(closure, data, length);
    return CAIRO_STATUS_SUCCESS;
}

static void
fit_page(Page *page)
{
    double least = page->kind == KIND_PNG ? 1.0 : POINTS_PER_UNIT;
    page->unit = fmax(least, fmin(page->width / PLAIN_WIDTH, page->height / PLAIN_HEIGHT));
    page->view = paint_fit(page->scene, page->width / page->unit, page->height / page->unit,
                           EXPORT_MARGIN);
    page->view.scale_x *= page->unit;
    page->view.scale_y *= page->unit;
    page->view.width = page->width;
    page->view.height = page->height;
}

static void
paint_page(const Page *page, cairo_surface_t *surface)
{
    cairo_t *cr = cairo_create(surface);
    const Theme *theme = theme_get(page->theme);
    const double *ground = theme->role[ROLE_PAPER].fill;
    guint n = page->more && page->kind == KIND_PDF ? page->n : 1;
    for (guint i = 0; i < n; i++) {
        cairo_set_source_rgb(cr, ground[0], ground[1], ground[2]);
        cairo_paint(cr);
        paint_scene(i == 0 ? page->scene : page->more[i], &page->view, theme, page->unit, NULL, cr);
        if (n > 1)
            cairo_show_page(cr);
    }
    cairo_destroy(cr);
}

// No date goes in, so that the same plan gives the same bytes.
static void
describe_pdf(cairo_surface_t *surface, const Scene *scene)
{
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_TITLE, scene_title(scene));
    cairo_pdf_surface_set_metadata(surface, CAIRO_PDF_METADATA_CREATE_DATE, "");
}

static cairo_surface_t *
open_surface(const Page *page, GByteArray *bytes)
{
    cairo_surface_t *surface;
    switch (page->kind) {
    case KIND_SVG:
        surface = cairo_svg_surface_create_for_stream(write_bytes, bytes, page->width,
                                                      page->height);
        cairo_svg_surface_set_document_unit(surface, CAIRO_SVG_UNIT_PT);
        return surface;
    case KIND_PDF:
        surface = cairo_pdf_surface_create_for_stream(write_bytes, bytes, page->width,
                                                      page->height);
        describe_pdf(surface, page->scene);
        return surface;
    case KIND_PNG:
    default:
        return cairo_image_surface_create(CAIRO_FORMAT_RGB24, (int)round(page->width),
                                          (int)round(page->height));
    }
}

static gboolean
draw_page(const Page *page, GByteArray *bytes, const char *path, GError **error)
{
    cairo_surface_t *surface = open_surface(page, bytes);
    paint_page(page, surface);
    cairo_status_t status = cairo_surface_status(surface);
    if (status == CAIRO_STATUS_SUCCESS && page->kind == KIND_PNG)
        status = cairo_surface_write_to_png_stream(surface, write_bytes, bytes);
    cairo_surface_finish(surface);
    if (status == CAIRO_STATUS_SUCCESS)
        status = cairo_surface_status(surface);
    cairo_surface_destroy(surface);
    if (status != CAIRO_STATUS_SUCCESS)
        return base_error_setf(error, BASE_ERROR_FILE, path, NULL, "try a smaller page",
                               "drawing it failed (%s)", cairo_status_to_string(status));
    return TRUE;
}

// The boxes of a part's shapes would hide what is under them; the whole part's box is enough for
// words on hover, and the smaller things come last, on top.
static int
compare_part_sizes(const void *a, const void *b)
{
    const ScenePart *p = *(const ScenePart *const *)a, *q = *(const ScenePart *const *)b;
    double sp = (p->max.x - p->min.x) * (p->max.y - p->min.y);
    double sq = (q->max.x - q->min.x) * (q->max.y - q->min.y);
    return sp > sq ? -1 : sp < sq ? 1 : strcmp(p->id, q->id);
}

static void
append_part(GString *text, const PaintView *view, const ScenePart *part)
{
    double x0, y0, x1, y1;
    char number[4][G_ASCII_DTOSTR_BUF_SIZE];
    paint_to_device(view, part->min.x, part->min.y, &x0, &y0);
    paint_to_device(view, part->max.x, part->max.y, &x1, &y1);
    double values[4] = {fmin(x0, x1), fmin(y0, y1), fabs(x1 - x0), fabs(y1 - y0)};
    for (int i = 0; i < 4; i++)
        g_ascii_formatd(number[i], G_ASCII_DTOSTR_BUF_SIZE, "%.3f", values[i]);
    g_autofree char *words = g_markup_printf_escaped(
        "<g id=\"%s\">\n<title>%s</title>\n<desc>%s</desc>\n", part->id, part->label,
        part->description);
    g_string_append(text, words);
    g_string_append_printf(text,
                           "<rect x=\"%s\" y=\"%s\" width=\"%s\" height=\"%s\" fill=\"none\" "
                           "pointer-events=\"all\"/>\n</g>\n",
                           number[0], number[1], number[2], number[3]);
}

// cairo numbers the group that holds the drawing by how many surfaces the program has made; the
// same plan is to give the same bytes, so it gets a name instead.
static void
name_drawing(GByteArray *bytes)
{
    static const char start[] = "<g id=\"surface", name[] = "<g id=\"drawing";
    g_autoptr(GString) text = g_string_new_len((const char *)bytes->data, bytes->len);
    const char *found = strstr(text->str, start);
    if (!found)
        return;
    gsize at = (gsize)(found - text->str), digits = at + strlen(start), end = digits;
    while (g_ascii_isdigit(text->str[end]))
        end++;
    g_string_erase(text, (gssize)at, (gssize)(end - at));
    g_string_insert(text, (gssize)at, name);
    g_byte_array_set_size(bytes, 0);
    g_byte_array_append(bytes, (const guint8 *)text->str, (guint)text->len);
}

static void
add_parts(const Page *page, GByteArray *bytes)
{
    const char *close = "</svg>";
    gsize end = bytes->len;
    while (end > 0 && (bytes->len - end < strlen(close) ||
                       memcmp(bytes->data + end, close, strlen(close)) != 0))
        end--;
    g_return_if_fail(end > 0);
    g_autoptr(GPtrArray) parts = g_ptr_array_new();
    for (guint i = 0; i < scene_part_count(page->scene); i++) {
        const ScenePart *part = scene_part(page->scene, i);
        if (part->min.x <= part->max.x)
            g_ptr_array_add(parts, (gpointer)part);
    }
    g_ptr_array_sort(parts, compare_part_sizes);
    g_autoptr(GString) text = g_string_new(NULL);
    for (guint i = 0; i < parts->len; i++)
        append_part(text, &page->view, g_ptr_array_index(parts, i));
    g_string_append_printf(text, "%s\n", close);
    g_byte_array_set_size(bytes, (guint)end);
    g_byte_array_append(bytes, (const guint8 *)text->str, (guint)text->len);
}

static gboolean
write_page(Page *page, const char *path, gboolean replace, GError **error)
{
    double width = page->width, height = page->height;
    if (!find_kind(path, &page->kind, error))
        return FALSE;
    if (!(width >= 1.0 && width <= MOST_SIDE && height >= 1.0 && height <= MOST_SIDE) ||
        (page->kind == KIND_PNG && width * height > MOST_PIXELS))
        return base_error_setf(error, BASE_ERROR_LIMIT, path, NULL,
                               "choose sides from 1 to 20000, and an image under 100 megapixels",
                               "a page of %g by %g cannot be drawn", width, height);
    if (!whole_file_may(path, replace, error))
        return FALSE;
    if (!page->more)
        fit_page(page);
    g_autoptr(GByteArray) bytes = g_byte_array_new();
    if (!draw_page(page, bytes, path, error))
        return FALSE;
    if (page->kind == KIND_SVG) {
        name_drawing(bytes);
        add_parts(page, bytes);
    }
    return whole_file_write(path, bytes->data, bytes->len, replace, error);
}

gboolean
export_scene(const Scene *scene, ThemeKind theme, double width, double height, const char *path,
             gboolean replace, GError **error)
{
    g_return_val_if_fail(scene != NULL && path != NULL, FALSE);
    Page page = {.scene = scene, .theme = theme, .width = width, .height = height};
    return write_page(&page, path, replace, error);
}

gboolean
export_pages(Scene *const *pages, guint n, ThemeKind theme, double width, double height,
             const char *path, gboolean replace, GError **error)
{
    g_return_val_if_fail(pages != NULL && n > 0 && path != NULL, FALSE);
    Page page = {.scene = pages[0],
                 .more = pages,
                 .n = n,
                 .theme = theme,
                 .width = width,
                 .height = height,
                 .unit = 1.0,
                 .view = {.scale_x = 1.0,
                          .scale_y = 1.0,
                          .x = -EXPORT_MARGIN,
                          .y = -EXPORT_MARGIN,
                          .width = width,
                          .height = height,
                          .y_down = TRUE}};
    return write_page(&page, path, replace, error);
}
