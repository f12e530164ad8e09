// SPDX-License-Identifier: GPL-3.0-or-later
// The sheets of a job: every step of the plan is on them, with room for what really happens, and a
// plan that is not whole says what is missing.
#include "../plan/make.h"

#include <string.h>

#include "report/sheet-private.h"
#include "report/traveller.h"

static guint
count_blocks(const Sheet *sheet, SheetKind kind, const char *text)
{
    guint n = 0;
    for (guint i = 0; i < sheet->blocks->len; i++) {
        const SheetBlock *block = &g_array_index(sheet->blocks, SheetBlock, i);
        for (guint k = 0; block->kind == kind && k < block->n_texts; k++)
            if (strstr(block->texts[k], text)) {
                n++;
                break;
            }
    }
    return n;
}

// Rows below the heading that has this text, to the end of the table.
static guint
count_rows_below(const Sheet *sheet, const char *heading)
{
    gboolean found = FALSE;
    guint n = 0;
    for (guint i = 0; i < sheet->blocks->len; i++) {
        const SheetBlock *block = &g_array_index(sheet->blocks, SheetBlock, i);
        gboolean row = block->kind == SHEET_ROW;
        if (row && block->heading)
            found = g_str_equal(block->texts[0], heading);
        n += found && row && !block->heading;
    }
    return n;
}

static Plan *
make_whole(Bare *f)
{
    g_autofree char *path = make_mesh_file(f->folder, "plate.stl", make_plate());
    g_autoptr(Book) plain = make_book(path, f->tables);
    g_autoptr(Book) book = make_changed(plain, "crucible.rating", "31 kg", f->tables);
    return make_plan(book, "part", f->tables, NULL);
}

static void
test_whole(Bare *f, gconstpointer data)
{
    g_autoptr(Plan) plan = make_whole(f);
    g_autoptr(Sheet) sheet = traveller_sheet(plan);
    const SessionResult *session = plan_session(plan);
    const MeltResult *melt = plan_melt(plan);
    const BoardResult *boards = plan_board(plan);
    g_assert_nonnull(session);
    guint by_hand = 0;
    for (guint i = 0; i < session->n_tasks; i++) {
        by_hand += session->tasks[i].person;
        if (session->tasks[i].person)
            g_assert_cmpuint(count_blocks(sheet, SHEET_ROW, session->tasks[i].label), >=, 1);
    }
    g_assert_cmpuint(count_rows_below(sheet, "Planned"), ==, by_hand);
    g_assert_cmpuint(count_rows_below(sheet, "Piece"), ==, boards->n_pieces);
    g_assert_cmpuint(count_rows_below(sheet, "Mould"), ==,
                     (guint)session->flasks * plan_mould(plan)->n_cavities);
    for (guint i = 0; i < melt->n_warmup; i++)
        g_assert_cmpuint(count_blocks(sheet, SHEET_BOX, melt->warmup[i].prompt), ==, 1);
    for (const char *const *caution = plan_cautions(plan); *caution; caution++)
        g_assert_cmpuint(count_blocks(sheet, SHEET_BOX, *caution), ==, 1);
    g_assert_cmpuint(count_blocks(sheet, SHEET_PICTURE, ""), ==, 0); // pictures have no words
    g_assert_cmpuint(sheet_page_count(sheet), >=, 6);
}

// Without a mesh each part says why it is empty, and cautions stand all the same.
static void
test_nothing(Bare *f, gconstpointer data)
{
    g_autoptr(Book) book = make_book(NULL, f->tables);
    g_autoptr(Plan) plan = make_plan(book, "part", f->tables, NULL);
    g_autoptr(Sheet) sheet = traveller_sheet(plan);
    g_assert_cmpuint(count_blocks(sheet, SHEET_HEAD, "Mould"), ==, 1);
    g_assert_cmpuint(count_blocks(sheet, SHEET_WORDS, ""), >=, 3);
    g_assert_cmpuint(count_blocks(sheet, SHEET_BOX, plan_cautions(plan)[0]), ==, 1);
    g_assert_cmpuint(count_rows_below(sheet, "Mould"), ==, 0);
    g_assert_cmpuint(sheet_page_count(sheet), >=, 1);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add("/report/traveller/whole", Bare, NULL, bare_set_up, test_whole, bare_tear_down);
    g_test_add("/report/traveller/nothing", Bare, NULL, bare_set_up, test_nothing, bare_tear_down);
    return g_test_run();
}
