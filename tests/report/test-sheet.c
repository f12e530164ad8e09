// SPDX-License-Identifier: GPL-3.0-or-later
// Sheets of paper: nothing is lost between pages, nothing leaves the margins, and the file is put
// in place whole.
#include <glib/gstdio.h>
#include <string.h>

#include "check.h"
#include "report/sheet-private.h"

static const double halves[] = {0.25, 0.75};

static Sheet *
make_table(guint n)
{
    const char *heads[] = {"Number", "What"};
    Sheet *sheet = sheet_new("A table", "the foot");
    sheet_row(sheet, heads, halves, 2, TRUE);
    for (guint i = 0; i < n; i++) {
        g_autofree char *number = g_strdup_printf("row-%u", i);
        const char *texts[] = {number, i % 7 == 0 ? "words that go on and on and on and on and on "
                                                    "and on until the line has to be broken"
                                                  : ""};
        sheet_row(sheet, texts, halves, 2, FALSE);
    }
    return sheet;
}

static guint
count_words(const char *text, const char *words)
{
    guint n = 0;
    for (const char *at = text; (at = strstr(at, words)); at += strlen(words))
        n++;
    return n;
}

// What a page holds by the private list: the rows in order, each once, a heading on every page.
static void
test_rows(void)
{
    g_autoptr(Sheet) sheet = make_table(97);
    guint pages = sheet_page_count(sheet), rows = 0, headings = 0;
    g_assert_cmpuint(pages, >, 2);
    for (guint i = 0; i < sheet->blocks->len; i++) {
        const SheetBlock *block = &g_array_index(sheet->blocks, SheetBlock, i);
        if (block->kind != SHEET_ROW)
            continue;
        headings += block->heading;
        if (block->heading)
            continue;
        g_autofree char *expected = g_strdup_printf("row-%u", rows++);
        g_assert_cmpstr(block->texts[0], ==, expected);
    }
    g_assert_cmpuint(rows, ==, 97);
    g_assert_cmpuint(headings, ==, pages);
    g_assert_cmpuint(sheet_page_count(sheet), ==, pages);
}

// The same by what another program reads in the file.
static void
test_read_back(void)
{
    g_autofree char *tool = g_find_program_in_path("pdftotext");
    if (!tool) {
        g_test_skip("pdftotext is not there");
        return;
    }
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "t.pdf", NULL);
    g_autoptr(Sheet) sheet = make_table(97);
    g_autoptr(GError) error = NULL;
    g_assert_true(sheet_write(sheet, path, FALSE, &error));
    const char *words[] = {tool, path, "-", NULL};
    g_autofree char *text = NULL;
    int status = 0;
    g_assert_true(g_spawn_sync(NULL, (char **)words, NULL, G_SPAWN_DEFAULT, NULL, NULL, &text, NULL,
                               &status, &error));
    g_assert_cmpint(status, ==, 0);
    for (guint i = 0; i < 97; i++) {
        g_autofree char *row = g_strdup_printf("row-%u\n", i);
        g_assert_cmpuint(count_words(text, row), ==, 1);
    }
    g_assert_cmpuint(count_words(text, "the foot"), ==, sheet_page_count(sheet));
    g_assert_cmpuint(count_words(text, "until the line"), ==, 14);
    check_folder_remove(folder);
}

// A heading is never the last thing on a page.
static void
test_heading_stays(void)
{
    for (guint lines = 30; lines < 60; lines++) {
        g_autoptr(Sheet) sheet = sheet_new("Headings", "");
        for (guint i = 0; i < lines; i++)
            sheet_words(sheet, "a line");
        sheet_head(sheet, "A heading");
        sheet_box(sheet, "what it heads", "at");
        sheet_page_count(sheet);
        const SheetBlock *last = &g_array_index(sheet->blocks, SheetBlock, sheet->blocks->len - 1);
        g_assert_cmpuint(last[-1].page, ==, last->page);
        g_assert_cmpfloat(last->y + last->height, <=, SHEET_HEIGHT - SHEET_FOOT);
    }
}

static void
check_ink(Sheet *sheet)
{
    for (guint page = 0; page < sheet_page_count(sheet); page++) {
        cairo_surface_t *surface = cairo_recording_surface_create(CAIRO_CONTENT_COLOR_ALPHA, NULL);
        cairo_t *cr = cairo_create(surface);
        sheet_paint(sheet, page, cr);
        cairo_destroy(cr);
        double x, y, width, height;
        cairo_recording_surface_ink_extents(surface, &x, &y, &width, &height);
        cairo_surface_destroy(surface);
        g_assert_cmpfloat(x, >=, SHEET_MARGIN - 1);
        g_assert_cmpfloat(x + width, <=, SHEET_WIDTH - SHEET_MARGIN + 1);
        g_assert_cmpfloat(y, >=, SHEET_MARGIN - 8);
        g_assert_cmpfloat(y + height, <=, SHEET_HEIGHT - 12);
    }
}

static void
test_margins(void)
{
    static const double three[] = {0.1, 0.1, 0.8};
    const char *cells[] = {"Donaudampfschifffahrtsgesellschaft", "", "x"};
    g_autoptr(Sheet) sheet = sheet_new("A title that is far too long for one line of the page and "
                                       "is therefore broken at a word, twice if need be, as here",
                                       "the foot");
    sheet_row(sheet, cells, three, 3, TRUE);
    for (guint i = 0; i < 40; i++) {
        sheet_pair(sheet, "A label of some length that goes over more than a line", "12.3 mm");
        sheet_box(sheet,
                  "Something to be done, said with more words than there is room for on one "
                  "line of the page, so that it is broken",
                  "at");
    }
    g_autoptr(Scene) scene = scene_new("circle");
    scene_add_circle(scene, ROLE_VISIBLE, 0, NULL, FALSE, TRUE, 0, 0, 50);
    sheet_picture(sheet, scene, 300);
    check_ink(sheet);
}

static void
test_file(void)
{
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "t.pdf", NULL);
    g_autofree char *png = g_build_filename(folder, "t.png", NULL);
    g_autofree char *nowhere = g_build_filename(folder, "no", "such", "t.pdf", NULL);
    g_autoptr(Sheet) sheet = make_table(3);
    g_autoptr(GError) error = NULL;
    g_assert_false(sheet_write(sheet, png, FALSE, &error));
    check_error(error, BASE_ERROR_VALUE, "end the name in .pdf");
    g_assert_false(sheet_write(sheet, nowhere, FALSE, &error));
    check_error(error, BASE_ERROR_FILE, "choose a folder");
    g_assert_true(sheet_write(sheet, path, FALSE, &error));
    g_assert_no_error(error);
    g_autofree char *first = NULL, *second = NULL;
    gsize n1 = 0, n2 = 0;
    g_assert_true(g_file_get_contents(path, &first, &n1, NULL));
    g_assert_false(sheet_write(sheet, path, FALSE, &error));
    check_error(error, BASE_ERROR_FILE, "is there already");
    g_autoptr(Sheet) again = make_table(3);
    g_assert_true(sheet_write(again, path, TRUE, &error));
    g_assert_true(g_file_get_contents(path, &second, &n2, NULL));
    g_assert_cmpmem(first, n1, second, n2);
    check_folder_remove(folder);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/report/sheet/rows", test_rows);
    g_test_add_func("/report/sheet/read-back", test_read_back);
    g_test_add_func("/report/sheet/heading-stays", test_heading_stays);
    g_test_add_func("/report/sheet/margins", test_margins);
    g_test_add_func("/report/sheet/file", test_file);
    return g_test_run();
}
