// SPDX-License-Identifier: GPL-3.0-or-later
// Which page each block of a sheet stands on, and where.
#include <math.h>

#include "report/sheet-private.h"
#include "sketch/theme.h"

#define BOX_INDENT 18.0
#define BLANK_WIDTH 110.0
#define HEAD_ABOVE 10.0
#define LEAST_ROW 17.0 // room to write in by hand

PangoLayout *
sheet_layout(cairo_t *cr, const char *text, double size, gboolean strong, double width)
{
    PangoLayout *layout = pango_cairo_create_layout(cr);
    // Unhinted, so that lines break at the same words on every surface.
    cairo_font_options_t *options = cairo_font_options_create();
    cairo_font_options_set_hint_metrics(options, CAIRO_HINT_METRICS_OFF);
    cairo_font_options_set_hint_style(options, CAIRO_HINT_STYLE_NONE);
    pango_cairo_context_set_font_options(pango_layout_get_context(layout), options);
    cairo_font_options_destroy(options);
    pango_layout_context_changed(layout);

    PangoFontDescription *font = pango_font_description_from_string(theme_get(THEME_PAPER)->font);
    pango_font_description_set_absolute_size(font, size * PANGO_SCALE);
    pango_font_description_set_weight(font, strong ? PANGO_WEIGHT_BOLD : PANGO_WEIGHT_NORMAL);
    pango_layout_set_font_description(layout, font);
    pango_font_description_free(font);
    pango_layout_set_width(layout, (int)(width * PANGO_SCALE));
    pango_layout_set_wrap(layout, PANGO_WRAP_WORD_CHAR);
    pango_layout_set_text(layout, text, -1);
    return layout;
}

double
sheet_layout_height(PangoLayout *layout)
{
    PangoRectangle logical;
    pango_layout_get_extents(layout, NULL, &logical);
    return (double)logical.height / PANGO_SCALE;
}

void
sheet_text_look(const SheetBlock *block, guint text, double *size, gboolean *strong, double *from,
                double *width)
{
    *size = block->kind == SHEET_TITLE  ? 17.0
            : block->kind == SHEET_HEAD ? 11.5
            : block->kind == SHEET_ROW  ? SHEET_TEXT - 0.5
                                        : SHEET_TEXT;
    *strong = block->kind == SHEET_TITLE || block->kind == SHEET_HEAD || block->heading;
    *from = 0;
    *width = SHEET_INNER;
    if (block->kind == SHEET_PAIRS) { // label and value, twice
        const double starts[] = {0, 0.33, 0.52, 0.85}, ends[] = {0.32, 0.50, 0.84, 1};
        *from = starts[text] * SHEET_INNER;
        *width = ends[text] * SHEET_INNER - *from;
        *strong = text % 2 == 1;
    } else if (block->kind == SHEET_BOX) {
        *from = text == 0 ? BOX_INDENT : SHEET_INNER - BLANK_WIDTH;
        *width = text == 1 ? BLANK_WIDTH
                           : SHEET_INNER - BOX_INDENT -
                                 (block->n_texts > 1 ? BLANK_WIDTH + 2 * SHEET_PAD : 0);
    } else if (block->kind == SHEET_ROW) {
        for (guint i = 0; i < text; i++)
            *from += block->shares[i] * SHEET_INNER;
        *width = block->shares[text] * SHEET_INNER - 2 * SHEET_PAD;
        *from += SHEET_PAD;
    }
}

static double
find_text_height(const SheetBlock *block, cairo_t *cr)
{
    double most = 0;
    for (guint i = 0; i < block->n_texts; i++) {
        double size, from, width;
        gboolean strong;
        sheet_text_look(block, i, &size, &strong, &from, &width);
        PangoLayout *layout = sheet_layout(cr, block->texts[i], size, strong, width);
        most = fmax(most, sheet_layout_height(layout));
        g_object_unref(layout);
    }
    return most;
}

static double
find_height(const SheetBlock *block, cairo_t *cr)
{
    switch (block->kind) {
    case SHEET_PICTURE:
        return block->height;
    case SHEET_NEW_PAGE:
        return 0;
    case SHEET_ROW:
        return fmax(LEAST_ROW, find_text_height(block, cr) + 2 * SHEET_PAD);
    case SHEET_HEAD:
        return HEAD_ABOVE + find_text_height(block, cr) + SHEET_PAD;
    case SHEET_BOX:
        return fmax(SHEET_TEXT + 6, find_text_height(block, cr) + SHEET_PAD + 2);
    default:
        return find_text_height(block, cr) + SHEET_PAD;
    }
}

// What a block needs below it on its page: a heading the thing it heads.
static double
find_kept(const Sheet *sheet, guint index)
{
    double sum = 0;
    for (guint i = index; i < sheet->blocks->len; i++) {
        const SheetBlock *block = &g_array_index(sheet->blocks, SheetBlock, i);
        sum += block->height;
        if (block->kind != SHEET_HEAD && !block->heading)
            break;
    }
    return sum;
}

// The heading of the table the row at `index` goes on with, or NULL.
static const SheetBlock *
find_heading(const Sheet *sheet, guint index)
{
    if (g_array_index(sheet->blocks, SheetBlock, index).kind != SHEET_ROW)
        return NULL;
    for (guint i = index; i-- > 0;) {
        const SheetBlock *block = &g_array_index(sheet->blocks, SheetBlock, i);
        if (block->kind != SHEET_ROW)
            return NULL;
        if (block->heading)
            return block;
    }
    return NULL;
}

static void
repeat_heading(Sheet *sheet, const SheetBlock *heading, guint index)
{
    SheetBlock copy = *heading;
    for (guint i = 0; i < copy.n_texts; i++)
        copy.texts[i] = g_strdup(copy.texts[i]);
    g_array_insert_val(sheet->blocks, index, copy);
}

void
sheet_set(Sheet *sheet)
{
    cairo_surface_t *nothing = cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, NULL);
    cairo_t *cr = cairo_create(nothing);
    for (guint i = 0; i < sheet->blocks->len; i++) {
        SheetBlock *block = &g_array_index(sheet->blocks, SheetBlock, i);
        block->height = find_height(block, cr);
    }
    const double bottom = SHEET_HEIGHT - SHEET_FOOT;
    double y = SHEET_MARGIN;
    guint page = 0;
    for (guint i = 0; i < sheet->blocks->len; i++) {
        SheetBlock *block = &g_array_index(sheet->blocks, SheetBlock, i);
        gboolean turn = block->kind == SHEET_NEW_PAGE || y + find_kept(sheet, i) > bottom;
        if (turn && y > SHEET_TOP) {
            const SheetBlock *heading = find_heading(sheet, i);
            page++;
            y = SHEET_TOP;
            if (heading && !block->heading) {
                repeat_heading(sheet, heading, i);
                block = &g_array_index(sheet->blocks, SheetBlock, i);
            }
        }
        block->page = page;
        block->y = y;
        y += block->height;
    }
    sheet->n_pages = page + 1;
    cairo_destroy(cr);
    cairo_surface_destroy(nothing);
}
