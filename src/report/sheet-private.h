// SPDX-License-Identifier: GPL-3.0-or-later
// What a sheet is made of: blocks, each on one page, and how they are set.
#pragma once

#include <pango/pangocairo.h>

#include "report/sheet.h"

G_BEGIN_DECLS

#define SHEET_MARGIN 42.0 // points
#define SHEET_INNER (SHEET_WIDTH - 2 * SHEET_MARGIN)
#define SHEET_TOP 62.0  // where blocks begin, below the running title
#define SHEET_FOOT 54.0 // kept free at the bottom
#define SHEET_TEXT 9.0  // size of words
#define SHEET_SMALL 7.5
#define SHEET_PAD 3.0

typedef enum {
    SHEET_TITLE,
    SHEET_HEAD,
    SHEET_WORDS,
    SHEET_PAIRS,
    SHEET_BOX,
    SHEET_ROW,
    SHEET_PICTURE,
    SHEET_NEW_PAGE
} SheetKind;

// One block. `texts`: the words; label, value, label, value of pairs; the cells of a row.
typedef struct {
    SheetKind kind;
    char *texts[SHEET_MOST_CELLS];
    double shares[SHEET_MOST_CELLS];
    guint n_texts;
    gboolean heading; // of a table
    Scene *scene;
    gboolean as_is; // the scene is in the units of the place it takes
    double height;  // points, with the space after it
    guint page;
    double y; // top, on its page
} SheetBlock;

struct Sheet {
    char *title, *foot;
    GArray *blocks; // SheetBlock
    guint n_pages;  // 0: not laid out yet
};

// A text of `size` in `width`, broken at words. Free with g_object_unref.
PangoLayout *sheet_layout(cairo_t *cr, const char *text, double size, gboolean strong,
                          double width);
double sheet_layout_height(PangoLayout *layout);
// Size and weight of the words of a block, and the width they have from where they begin.
void sheet_text_look(const SheetBlock *block, guint text, double *size, gboolean *strong,
                     double *from, double *width);
// Gives every block its page and place. Headings of tables that go on are added.
void sheet_set(Sheet *sheet);

G_END_DECLS
