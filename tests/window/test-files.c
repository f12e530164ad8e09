// SPDX-License-Identifier: GPL-3.0-or-later
// What the window says of files: one that another program has changed is replaced only when a
// person says so, one that may not be written leads elsewhere, and books never saved are offered.
#include <errno.h>
#include <string.h>

#include "book/draft.h"
#include "book/store-hook.h"
#include "book/store.h"
#include "check.h"
#include "stage-hand.h"
#include "window/notice.h"

typedef struct {
    Desk *desk;
    GtkWidget *window;
    char *folder, *path;
} Fixture;

static void
set_up(Fixture *f, gconstpointer data)
{
    f->folder = check_folder();
    f->path = g_build_filename(f->folder, "shop.castbook", NULL);
    g_autoptr(Book) book = book_new_ready();
    g_autoptr(GError) error = NULL;
    g_assert_true(store_write(book, f->path, FALSE, &error));
    f->desk = desk_new(hand_tables());
    f->window = fw_window_new(NULL, f->desk);
    gtk_window_present(GTK_WINDOW(f->window));
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    gtk_window_destroy(GTK_WINDOW(f->window));
    hand_turn(100);
    g_assert_finalize_object(f->desk);
    check_folder_remove(f->folder);
    g_free(f->folder);
    g_free(f->path);
}

static gboolean
is_said(GtkWidget *widget, gconstpointer words)
{
    return gtk_widget_get_mapped(widget) && strstr(gtk_label_get_text(GTK_LABEL(widget)), words);
}

static gboolean
is_button(GtkWidget *widget, gconstpointer words)
{
    return gtk_widget_get_visible(widget) &&
           g_strcmp0(gtk_button_get_label(GTK_BUTTON(widget)), words) == 0;
}

static void
assert_notice(GtkWidget *window, const char *words, const char *button)
{
    GtkWidget *notice = hand_find(window, FW_TYPE_NOTICE, NULL, NULL);
    hand_turn(50);
    g_assert_nonnull(hand_find(notice, GTK_TYPE_LABEL, is_said, words));
    g_assert_nonnull(hand_find(notice, GTK_TYPE_BUTTON, is_button, button));
}

static void
press(GtkWidget *window, const char *button)
{
    GtkWidget *notice = hand_find(window, FW_TYPE_NOTICE, NULL, NULL);
    g_signal_emit_by_name(hand_find(notice, GTK_TYPE_BUTTON, is_button, button), "clicked");
}

static void
name_shop(Desk *desk, const char *name)
{
    g_autoptr(GError) error = NULL;
    desk_edit_field(desk, "shop.name", name, &error);
    g_assert_no_error(error);
}

static char *
name_in_file(const char *path)
{
    g_autoptr(Book) book = store_read(path, hand_tables(), NULL);
    return g_strdup(node_text(node_get(book_root(book), "/shop/name")));
}

static void
test_changed_by_another(Fixture *f, gconstpointer data)
{
    g_assert_true(fw_window_open(FW_WINDOW(f->window), f->path));
    name_shop(f->desk, "Ours");
    Desk *another = desk_new(hand_tables());
    g_assert_true(desk_open(another, f->path, NULL));
    name_shop(another, "Theirs");
    g_assert_true(desk_save(another, NULL));
    g_assert_finalize_object(another);
    gtk_widget_activate_action(f->window, "win.save", NULL);
    g_autofree char *kept = name_in_file(f->path);
    g_assert_cmpstr(kept, ==, "Theirs");
    assert_notice(f->window, "changed by another program", "Save as…");
    press(f->window, "Replace it");
    g_autofree char *replaced = name_in_file(f->path);
    g_assert_cmpstr(replaced, ==, "Ours");
    g_assert_false(desk_is_dirty(f->desk));
}

static int
fail_access(const char *call)
{
    return g_str_equal(call, "access") ? EROFS : 0;
}

static void
test_read_only(Fixture *f, gconstpointer data)
{
    g_assert_true(fw_window_open(FW_WINDOW(f->window), f->path));
    name_shop(f->desk, "Ours");
    store_fail_hook = fail_access;
    gtk_widget_activate_action(f->window, "win.save", NULL);
    store_fail_hook = NULL;
    assert_notice(f->window, "save it in another folder", "Save as…");
    g_assert_true(desk_is_dirty(f->desk));
    g_assert_null(hand_find(f->window, GTK_TYPE_BUTTON, is_button, "Replace it"));
}

static const char *
name_in_hand(const Fixture *f)
{
    return node_text(node_get(book_root(desk_book(f->desk)), "/shop/name"));
}

// The draft that is offered stays what it was, whatever is changed meanwhile, until it is restored
// or thrown away.
static void
test_draft_offered(Fixture *f, gconstpointer data)
{
    g_assert_true(fw_window_open(FW_WINDOW(f->window), f->path));
    name_shop(f->desk, "Ours");
    desk_keep_draft(f->desk);
    g_assert_true(fw_window_open(FW_WINDOW(f->window), f->path));
    assert_notice(f->window, "were never saved", "Throw it away");
    name_shop(f->desk, "Later");
    desk_keep_draft(f->desk);
    press(f->window, "Restore the draft");
    g_assert_cmpstr(name_in_hand(f), ==, "Ours");
    desk_undo(f->desk);
    g_assert_cmpstr(name_in_hand(f), ==, "Later");
    desk_undo(f->desk);
    g_assert_true(fw_window_open(FW_WINDOW(f->window), f->path));
    press(f->window, "Throw it away");
    g_assert_false(desk_has_draft(f->desk));
    g_auto(GStrv) lost = draft_lost();
    g_assert_cmpuint(g_strv_length(lost), ==, 0);
}

// As a window leaves a new book that was never saved.
static void
leave_new_book(const char *name)
{
    g_autoptr(Book) ready = book_new_ready();
    Desk *desk = desk_new(hand_tables());
    desk_start(desk, ready);
    name_shop(desk, name);
    desk_keep_draft(desk);
    g_assert_finalize_object(desk);
}

static void
test_lost_books(Fixture *f, gconstpointer data)
{
    leave_new_book("One");
    leave_new_book("Two");
    g_autoptr(Desk) desk = desk_new(hand_tables());
    GtkWidget *window = fw_window_new(NULL, desk);
    gtk_window_present(GTK_WINDOW(window));
    assert_notice(window, "the oldest of 2", "Throw it away");
    press(window, "Restore the draft");
    g_assert_nonnull(desk_book(desk));
    g_assert_true(desk_is_dirty(desk));
    assert_notice(window, "Work was never saved", "Restore the draft");
    press(window, "Throw it away");
    hand_turn(50);
    GtkWidget *notice = hand_find(window, FW_TYPE_NOTICE, NULL, NULL);
    g_assert_null(hand_find(notice, GTK_TYPE_LABEL, is_said, "never saved"));
    g_auto(GStrv) left = draft_lost();
    g_assert_cmpuint(g_strv_length(left), ==, 0); // the other is being worked at
    desk_discard_draft(desk);
    gtk_window_destroy(GTK_WINDOW(window));
    hand_turn(100);
}

int
main(int argc, char **argv)
{
    hand_init(&argc, &argv);
#define ADD(name, function)                                                                        \
    g_test_add("/window/files/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("changed-by-another", test_changed_by_another);
    ADD("read-only", test_read_only);
    ADD("draft-offered", test_draft_offered);
    ADD("lost-books", test_lost_books);
    return hand_run();
}
