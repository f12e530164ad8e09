// SPDX-License-Identifier: GPL-3.0-or-later
// Undo, redo, gestures, and what counts as dirty.
#include "book/history.h"

#include "book/edit.h"
#include "check.h"

static Book *
with_name(const Book *book, const char *name)
{
    g_autoptr(Node) value = node_new_text(name);
    g_autoptr(Edit) edit = edit_set("/shop/name", value, "Change name");
    return edit_apply(book, edit, NULL);
}

static const char *
name_of(const History *history)
{
    return node_text(node_get(book_root(history_book(history)), "/shop/name"));
}

static void
push(History *history, const char *name, const char *label)
{
    g_autoptr(Book) book = with_name(history_book(history), name);
    history_push(history, book, label);
}

static History *
make_history(void)
{
    g_autoptr(Book) ready = book_new_ready();
    g_autoptr(Book) book = with_name(ready, "zero");
    return history_new(book);
}

static void
test_undo(void)
{
    g_autoptr(History) history = make_history();
    g_assert_false(history_can_undo(history) || history_can_redo(history));
    g_assert_null(history_undo_label(history));
    history_undo(history);
    history_redo(history);
    push(history, "one", "First");
    push(history, "two", "Second");
    g_assert_cmpstr(history_undo_label(history), ==, "Second");
    history_undo(history);
    g_assert_cmpstr(name_of(history), ==, "one");
    g_assert_cmpstr(history_undo_label(history), ==, "First");
    g_assert_cmpstr(history_redo_label(history), ==, "Second");
    history_redo(history);
    g_assert_cmpstr(name_of(history), ==, "two");
    history_undo(history);
    history_undo(history);
    g_assert_cmpstr(name_of(history), ==, "zero");
    push(history, "three", "Third");
    g_assert_false(history_can_redo(history));
    g_assert_null(history_redo_label(history));
    history_undo(history);
    g_assert_cmpstr(name_of(history), ==, "zero");
}

static void
test_gesture(void)
{
    g_autoptr(History) history = make_history();
    push(history, "one", "First");
    history_begin_gesture(history);
    g_assert_true(history_in_gesture(history));
    push(history, "drag 1", "Drag");
    push(history, "drag 2", "Drag");
    push(history, "drag 3", "Drag");
    history_end_gesture(history);
    g_assert_false(history_in_gesture(history));
    push(history, "two", "Second");
    history_undo(history);
    g_assert_cmpstr(name_of(history), ==, "drag 3");
    history_undo(history);
    g_assert_cmpstr(name_of(history), ==, "one");
    history_begin_gesture(history);
    history_end_gesture(history);
    g_assert_cmpstr(history_redo_label(history), ==, "Drag");
}

static void
test_dirty(void)
{
    g_autoptr(History) history = make_history();
    g_assert_false(history_is_dirty(history));
    push(history, "one", "First");
    g_assert_true(history_is_dirty(history));
    history_undo(history);
    g_assert_false(history_is_dirty(history));
    history_redo(history);
    history_mark_saved(history);
    g_assert_false(history_is_dirty(history));
    history_undo(history);
    g_assert_true(history_is_dirty(history));
    push(history, "other", "Other"); // the saved step is gone
    g_assert_true(history_is_dirty(history));
    push(history, "one", "Back"); // but the same content is as saved
    g_assert_false(history_is_dirty(history));
}

// A save in the middle of a drag keeps the saved step.
static void
test_save_in_gesture(void)
{
    g_autoptr(History) history = make_history();
    history_begin_gesture(history);
    push(history, "drag 1", "Drag");
    history_mark_saved(history);
    push(history, "drag 2", "Drag");
    g_assert_true(history_is_dirty(history));
    history_undo(history);
    g_assert_cmpstr(name_of(history), ==, "drag 1");
    g_assert_false(history_is_dirty(history));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/book/history/undo", test_undo);
    g_test_add_func("/book/history/gesture", test_gesture);
    g_test_add_func("/book/history/dirty", test_dirty);
    g_test_add_func("/book/history/save-in-gesture", test_save_in_gesture);
    return g_test_run();
}
