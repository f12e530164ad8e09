// SPDX-License-Identifier: GPL-3.0-or-later
// The pieces to print in the window: listed as the plan has them, the chosen one drawn, sums
// explained; written to a folder, stopped, refused where files are, replaced when asked.
#include <glib/gstdio.h>
#include <string.h>

#include "check.h"
#include "stage-hand.h"
#include "window/explain-popover.h"
#include "window/figure-row.h"
#include "window/notice.h"
#include "window/piece-row.h"
#include "window/pieces-page.h"

typedef struct {
    Desk *desk;
    GtkWidget *window, *page;
    char *folder;
} Fixture;

static void
set_up(Fixture *f, gconstpointer data)
{
    f->desk = desk_new(hand_tables());
    f->window = GTK_WIDGET(hand_open(f->desk, NULL));
    f->folder = check_folder();
    gtk_widget_activate_action(f->window, "win.inspect", "s", "pieces");
    hand_turn(50);
    hand_wait_settled(FW_WINDOW(f->window));
    f->page = hand_find(f->window, FW_TYPE_PIECES_PAGE, NULL, NULL);
    g_assert_nonnull(f->page);
    g_assert_true(gtk_widget_get_mapped(f->page));
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    hand_close(FW_WINDOW(f->window));
    g_object_unref(f->desk);
    check_folder_remove(f->folder);
    g_free(f->folder);
}

static gboolean
is_named(GtkWidget *widget, gconstpointer name)
{
    return g_strcmp0(fw_piece_row_get_name(widget), name) == 0;
}

static gboolean
is_figure(GtkWidget *widget, gconstpointer id)
{
    return g_str_equal(fw_figure_row_get_id(FW_FIGURE_ROW(widget)), id);
}

static void
test_list(Fixture *f, gconstpointer data)
{
    const BoardResult *boards = plan_board(desk_plan(f->desk));
    for (guint i = 0; i < boards->n_pieces; i++) {
        const BoardPiece *piece = &boards->pieces[i];
        GtkWidget *row = hand_find(f->page, GTK_TYPE_LIST_BOX_ROW, is_named, piece->name);
        g_assert_nonnull(row);
        g_autofree char *name = g_strdup_printf("%s, print %u", piece->name, piece->count);
        gtk_test_accessible_assert_property(GTK_ACCESSIBLE(row), GTK_ACCESSIBLE_PROPERTY_LABEL,
                                            name);
        g_autofree char *cut = board_piece_cut(piece);
        fw_pieces_page_choose(FW_PIECES_PAGE(f->page), piece->name);
        hand_turn(20);
        g_assert_nonnull(
            hand_find(f->page, GTK_TYPE_LABEL, hand_label_has, cut ? cut : piece->name));
    }
    hand_wait_settled(FW_WINDOW(f->window));
    // The demo's boards are larger than its printer's bed.
    g_assert_nonnull(
        hand_find(f->page, GTK_TYPE_LABEL, hand_label_has, "too large for the printer"));
}

static void
test_sums_are_explained(Fixture *f, gconstpointer data)
{
    static const char *const ids[] = {"board.pieces", "board.filament_mass", "board.print_time"};
    for (guint i = 0; i < G_N_ELEMENTS(ids); i++) {
        GtkWidget *row = hand_find(f->page, FW_TYPE_FIGURE_ROW, is_figure, ids[i]);
        g_assert_nonnull(row);
        g_signal_emit_by_name(row, "clicked");
        hand_turn(50);
        GtkWidget *popover = hand_find(f->window, FW_TYPE_EXPLAIN_POPOVER, NULL, NULL);
        g_assert_nonnull(popover);
        gtk_popover_popdown(GTK_POPOVER(popover));
        hand_turn(400);
    }
}

static void
test_other_steps_lack_the_page(Fixture *f, gconstpointer data)
{
    fw_window_choose_step(FW_WINDOW(f->window), "melt");
    hand_turn(50);
    g_assert_false(gtk_widget_get_mapped(f->page));
    desk_choose_job(f->desk, "pulley-hanger");
    hand_wait_settled(FW_WINDOW(f->window));
    gtk_widget_activate_action(f->window, "win.inspect", "s", "pieces");
    hand_turn(50);
    hand_wait_settled(FW_WINDOW(f->window));
    g_assert_true(gtk_widget_get_mapped(f->page));
}

static gboolean
is_writing(Fixture *f)
{
    return g_action_group_get_action_enabled(G_ACTION_GROUP(f->window), "stop-writing");
}

static void
wait_written(Fixture *f)
{
    for (int i = 0; i < 2400 && is_writing(f); i++)
        hand_turn(50);
    g_assert_false(is_writing(f));
}

// All that is in the folder, hidden things too.
static guint
count_files(const char *folder, const char *suffix)
{
    g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
    const char *name;
    guint n = 0;
    while ((name = g_dir_read_name(dir)))
        n += g_str_has_suffix(name, suffix);
    return n;
}

static GtkWidget *
find_words(Fixture *f, const char *words)
{
    GtkWidget *notice = hand_find(f->window, FW_TYPE_NOTICE, NULL, NULL);
    return hand_find(notice, GTK_TYPE_LABEL, hand_label_has, words);
}

static void
test_write(Fixture *f, gconstpointer data)
{
    guint n = plan_board(desk_plan(f->desk))->n_pieces;
    fw_window_write_patterns(FW_WINDOW(f->window), f->folder, BOARD_3MF, FALSE);
    g_assert_true(is_writing(f));
    wait_written(f);
    g_assert_cmpuint(count_files(f->folder, ".3mf"), ==, n);
    g_assert_cmpuint(count_files(f->folder, ""), ==, n);
    g_autofree char *words = g_strdup_printf("%u files for the", n);
    g_assert_nonnull(find_words(f, words));
    g_assert_nonnull(find_words(f, f->folder));
}

static void
test_existing(Fixture *f, gconstpointer data)
{
    g_autofree char *mine = g_build_filename(f->folder, "sprue-pin.stl", NULL), *kept = NULL;
    g_file_set_contents(mine, "mine", -1, NULL);
    fw_window_write_patterns(FW_WINDOW(f->window), f->folder, BOARD_STL, FALSE);
    wait_written(f);
    g_assert_cmpuint(count_files(f->folder, ""), ==, 1);
    g_file_get_contents(mine, &kept, NULL, NULL);
    g_assert_cmpstr(kept, ==, "mine");
    g_assert_nonnull(find_words(f, "Nothing was written"));
    g_assert_nonnull(find_words(f, mine));
    gtk_widget_activate_action(f->window, "win.replace-patterns", NULL);
    g_assert_true(is_writing(f));
    wait_written(f);
    GStatBuf state;
    g_assert_cmpint(g_stat(mine, &state), ==, 0);
    g_assert_cmpint(state.st_size, >, 84);
    g_assert_cmpuint(count_files(f->folder, ""), ==, plan_board(desk_plan(f->desk))->n_pieces);
    g_assert_false(
        g_action_group_get_action_enabled(G_ACTION_GROUP(f->window), "replace-patterns"));
}

static void
test_stop(Fixture *f, gconstpointer data)
{
    fw_window_write_patterns(FW_WINDOW(f->window), f->folder, BOARD_STL, FALSE);
    hand_turn(300);
    gtk_widget_activate_action(f->window, "win.stop-writing", NULL);
    wait_written(f);
    g_assert_cmpuint(count_files(f->folder, ""), ==, 0);
    g_assert_nonnull(
        hand_find(f->window, GTK_TYPE_LABEL, hand_label_has, "no pattern was written"));
}

static void
test_close_while_writing(Fixture *f, gconstpointer data)
{
    fw_window_write_patterns(FW_WINDOW(f->window), f->folder, BOARD_STL, FALSE);
    hand_turn(100);
}

static void
test_trouble(Fixture *f, gconstpointer data)
{
    g_autofree char *file = g_build_filename(f->folder, "file", NULL);
    g_file_set_contents(file, "not a folder", -1, NULL);
    fw_window_write_patterns(FW_WINDOW(f->window), file, BOARD_STL, FALSE);
    wait_written(f);
    g_assert_nonnull(find_words(f, "The file “file”"));
    g_assert_nonnull(find_words(f, "the folder cannot be made"));
}

int
main(int argc, char **argv)
{
    hand_init(&argc, &argv);
#define ADD(name, function)                                                                        \
    g_test_add("/window/pieces/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("list", test_list);
    ADD("sums", test_sums_are_explained);
    ADD("other-steps", test_other_steps_lack_the_page);
    ADD("write", test_write);
    ADD("existing", test_existing);
    ADD("stop", test_stop);
    ADD("close", test_close_while_writing);
    ADD("trouble", test_trouble);
    return hand_run();
}
