// SPDX-License-Identifier: GPL-3.0-or-later
// A list with a cursor, not two stacks: undoing and redoing only move the cursor. Whether there is
// something to save is a comparison with the saved Book, so undoing back to it is clean.
#include "book/history.h"

typedef struct {
    Book *book;
    char *label; // of the step that led here; NULL for the first
} Step;

struct History {
    GPtrArray *steps;
    guint cursor;
    Book *saved;
    gboolean in_gesture;
    gboolean gesture_pushed; // the step at the cursor belongs to the open gesture
};

static void
free_step(gpointer data)
{
    Step *step = data;
    book_unref(step->book);
    g_free(step->label);
    g_free(step);
}

static Step *
make_step(const Book *book, const char *label)
{
    Step *step = g_new0(Step, 1);
    step->book = book_ref(book);
    step->label = g_strdup(label);
    return step;
}

static const Step *
step_at(const History *history, guint index)
{
    return g_ptr_array_index(history->steps, index);
}

// The first Book counts as saved.
History *
history_new(const Book *book)
{
    g_return_val_if_fail(book != NULL, NULL);
    History *history = g_new0(History, 1);
    history->steps = g_ptr_array_new_with_free_func(free_step);
    g_ptr_array_add(history->steps, make_step(book, NULL));
    history->saved = book_ref(book);
    return history;
}

void
history_free(History *history)
{
    if (!history)
        return;
    g_ptr_array_unref(history->steps);
    book_unref(history->saved);
    g_free(history);
}

const Book *
history_book(const History *history)
{
    g_return_val_if_fail(history != NULL, NULL);
    return step_at(history, history->cursor)->book;
}

void
history_push(History *history, const Book *book, const char *label)
{
    g_return_if_fail(history != NULL && book != NULL);
    guint keep = history->cursor + 1;
    if (history->in_gesture && history->gesture_pushed)
        keep--;
    if (keep < history->steps->len)
        g_ptr_array_remove_range(history->steps, keep, history->steps->len - keep);
    g_ptr_array_add(history->steps, make_step(book, label));
    history->cursor = keep;
    history->gesture_pushed = history->in_gesture;
}

// Gestures do not nest: beginning one ends the one before.
void
history_replace(History *history, const Book *book)
{
    Step *step = g_ptr_array_index(history->steps, history->cursor);
    Book *before = step->book;
    step->book = book_ref(book);
    book_unref(before);
}

void
history_begin_gesture(History *history)
{
    g_return_if_fail(history != NULL);
    history->in_gesture = TRUE;
    history->gesture_pushed = FALSE;
}

void
history_end_gesture(History *history)
{
    g_return_if_fail(history != NULL);
    history->in_gesture = FALSE;
    history->gesture_pushed = FALSE;
}

gboolean
history_in_gesture(const History *history)
{
    g_return_val_if_fail(history != NULL, FALSE);
    return history->in_gesture;
}

gboolean
history_holds(const History *history, const Book *book)
{
    g_return_val_if_fail(history != NULL, FALSE);
    for (guint i = 0; i <= history->cursor; i++)
        if (step_at(history, i)->book == book)
            return TRUE;
    return FALSE;
}

gboolean
history_can_undo(const History *history)
{
    g_return_val_if_fail(history != NULL, FALSE);
    return history->cursor > 0;
}

gboolean
history_can_redo(const History *history)
{
    g_return_val_if_fail(history != NULL, FALSE);
    return history->cursor + 1 < history->steps->len;
}

const char *
history_undo_label(const History *history)
{
    return history_can_undo(history) ? step_at(history, history->cursor)->label : NULL;
}

const char *
history_redo_label(const History *history)
{
    return history_can_redo(history) ? step_at(history, history->cursor + 1)->label : NULL;
}

// Harmless when there is nothing to undo. Ends an open gesture's claim on its step.
void
history_undo(History *history)
{
    if (history_can_undo(history))
        history->cursor--;
    history->gesture_pushed = FALSE;
}

void
history_redo(History *history)
{
    if (history_can_redo(history))
        history->cursor++;
    history->gesture_pushed = FALSE;
}

// What is pushed later in an open gesture makes a new step: the saved state stays reachable.
void
history_mark_saved(History *history)
{
    g_return_if_fail(history != NULL);
    book_unref(history->saved);
    history->saved = book_ref(history_book(history));
    history->gesture_pushed = FALSE;
}

gboolean
history_is_dirty(const History *history)
{
    g_return_val_if_fail(history != NULL, FALSE);
    const Book *book = history_book(history);
    return book != history->saved && !node_equal(book_root(book), book_root(history->saved));
}
