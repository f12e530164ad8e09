// SPDX-License-Identifier: GPL-3.0-or-later
// Sheets of paper to work from: words, numbers, boxes to tick, tables to fill in by hand, and
// drawings, set one below the other on A4 pages. The same pages go to a file and to a printer.
#pragma once

#include <cairo.h>

#include "sketch/scene.h"

G_BEGIN_DECLS

#define SHEET_WIDTH 595.276 // points, A4 standing (ISO 216)
#define SHEET_HEIGHT 841.89
#define SHEET_MOST_CELLS 8

typedef struct Sheet Sheet;

// `title` stands on top of the first page and, small, on every later one with the page's number;
// `foot` below every page.
Sheet *sheet_new(const char *title, const char *foot);
Sheet *sheet_ref(Sheet *sheet);
void sheet_unref(Sheet *sheet); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Sheet, sheet_unref)

// Each is set below what came before. Texts are copied.
void sheet_head(Sheet *sheet, const char *text); // stays with what follows it
void sheet_words(Sheet *sheet, const char *text);
void sheet_pair(Sheet *sheet, const char *label, const char *value); // two beside one another
void sheet_box(Sheet *sheet, const char *text, const char *blank);   // `blank`: a line to write on
                                                                     // after this word, or NULL
// A row of a table: `shares` of the width, to be given alike for all its rows. An empty text is
// room to write in. The first row of a table is its heading, repeated on a new page.
void sheet_row(Sheet *sheet, const char *const *texts, const double *shares, guint n,
               gboolean heading);
// A drawing fitted into the width and `height` (points). Keeps a reference.
void sheet_picture(Sheet *sheet, Scene *scene, double height);
// One that was laid out for just this place, SHEET_CHART_WIDTH by sheet_chart_height(height).
#define SHEET_CHART_UNIT 0.75 // points to a unit of it, 1/96 in
#define SHEET_CHART_WIDTH ((SHEET_WIDTH - 84) / SHEET_CHART_UNIT)
void sheet_chart(Sheet *sheet, Scene *scene, double height);
double sheet_chart_height(double height);
void sheet_new_page(Sheet *sheet);

// To be called when all is added; pages from 0.
guint sheet_page_count(Sheet *sheet);
// In points, the origin at the page's top left corner.
void sheet_paint(Sheet *sheet, guint page, cairo_t *cr);

// A PDF. Atomic; an existing file is replaced only if `replace`. BASE_ERROR_VALUE for another
// ending, BASE_ERROR_FILE when it is there already or cannot be written.
gboolean sheet_write(Sheet *sheet, const char *path, gboolean replace, GError **error);

G_END_DECLS
