// SPDX-License-Identifier: GPL-3.0-or-later
// The blocks of a sheet, one after the other.
#include "report/sheet-private.h"

static void
clear_block(gpointer data)
{
    SheetBlock *block = data;
    for (guint i = 0; i < block->n_texts; i++)
        g_free(block->texts[i]);
    if (block->scene)
        scene_unref(block->scene);
}

static SheetBlock *
add_block(Sheet *sheet, SheetKind kind)
{
    SheetBlock block = {.kind = kind};
    g_array_append_val(sheet->blocks, block);
    sheet->n_pages = 0;
    return &g_array_index(sheet->blocks, SheetBlock, sheet->blocks->len - 1);
}

static void
add_text(SheetBlock *block, const char *text)
{
    block->texts[block->n_texts++] = g_strdup(text ? text : "");
}

Sheet *
sheet_new(const char *title, const char *foot)
{
    g_return_val_if_fail(title != NULL && foot != NULL, NULL);
    Sheet *sheet = g_rc_box_new0(Sheet);
    sheet->title = g_strdup(title);
    sheet->foot = g_strdup(foot);
    sheet->blocks = g_array_new(FALSE, FALSE, sizeof(SheetBlock));
    g_array_set_clear_func(sheet->blocks, clear_block);
    add_text(add_block(sheet, SHEET_TITLE), title);
    return sheet;
}

static void
clear_sheet(gpointer data)
{
    Sheet *sheet = data;
    g_array_unref(sheet->blocks);
    g_free(sheet->title);
    g_free(sheet->foot);
}

Sheet *
sheet_ref(Sheet *sheet)
{
    return g_rc_box_acquire(sheet);
}

void
sheet_unref(Sheet *sheet)
{
    if (sheet)
        g_rc_box_release_full(sheet, clear_sheet);
}

void
sheet_head(Sheet *sheet, const char *text)
{
    g_return_if_fail(sheet != NULL && text != NULL);
    add_text(add_block(sheet, SHEET_HEAD), text);
}

void
sheet_words(Sheet *sheet, const char *text)
{
    g_return_if_fail(sheet != NULL && text != NULL);
    add_text(add_block(sheet, SHEET_WORDS), text);
}

void
sheet_pair(Sheet *sheet, const char *label, const char *value)
{
    g_return_if_fail(sheet != NULL && label != NULL && value != NULL);
    SheetBlock *last = &g_array_index(sheet->blocks, SheetBlock, sheet->blocks->len - 1);
    if (last->kind != SHEET_PAIRS || last->n_texts >= 4)
        last = add_block(sheet, SHEET_PAIRS);
    add_text(last, label);
    add_text(last, value);
}

void
sheet_box(Sheet *sheet, const char *text, const char *blank)
{
    g_return_if_fail(sheet != NULL && text != NULL);
    SheetBlock *block = add_block(sheet, SHEET_BOX);
    add_text(block, text);
    if (blank)
        add_text(block, blank);
}

void
sheet_row(Sheet *sheet, const char *const *texts, const double *shares, guint n, gboolean heading)
{
    g_return_if_fail(sheet != NULL && texts != NULL && shares != NULL);
    g_return_if_fail(n > 0 && n <= SHEET_MOST_CELLS);
    SheetBlock *block = add_block(sheet, SHEET_ROW);
    block->heading = heading;
    for (guint i = 0; i < n; i++) {
        block->shares[i] = shares[i];
        add_text(block, texts[i]);
    }
}

void
sheet_picture(Sheet *sheet, Scene *scene, double height)
{
    g_return_if_fail(sheet != NULL && scene != NULL && height > 0);
    SheetBlock *block = add_block(sheet, SHEET_PICTURE);
    block->scene = scene_ref(scene);
    block->height = height;
}

void
sheet_chart(Sheet *sheet, Scene *scene, double height)
{
    sheet_picture(sheet, scene, height);
    g_array_index(sheet->blocks, SheetBlock, sheet->blocks->len - 1).as_is = TRUE;
}

double
sheet_chart_height(double height)
{
    return (height - 2 * SHEET_PAD) / SHEET_CHART_UNIT;
}

void
sheet_new_page(Sheet *sheet)
{
    g_return_if_fail(sheet != NULL);
    add_block(sheet, SHEET_NEW_PAGE);
}

guint
sheet_page_count(Sheet *sheet)
{
    g_return_val_if_fail(sheet != NULL, 0);
    if (sheet->n_pages == 0)
        sheet_set(sheet);
    return sheet->n_pages;
}
