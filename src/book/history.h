// SPDX-License-Identifier: GPL-3.0-or-later
// A list of Books with a cursor, a label for each step and a mark where it was saved.
#pragma once

#include "book/book.h"

G_BEGIN_DECLS

typedef struct History History;

History *history_new(const Book *book);
void history_free(History *history);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(History, history_free)

const Book *history_book(const History *history);
// Drops what was undone. While a gesture is open the top step is replaced instead.
void history_push(History *history, const Book *book, const char *label);
// Puts another Book in place of the one at the cursor, as no step of its own (a saved copy whose
// mesh paths were rewritten).
void history_replace(History *history, const Book *book);
void history_begin_gesture(History *history);
void history_end_gesture(History *history);
gboolean history_in_gesture(const History *history);

// Whether that very Book is the one in hand or one that undoing leads to.
gboolean history_holds(const History *history, const Book *book);

gboolean history_can_undo(const History *history);
gboolean history_can_redo(const History *history);
const char *history_undo_label(const History *history); // NULL if none
const char *history_redo_label(const History *history);
void history_undo(History *history);
void history_redo(History *history);

void history_mark_saved(History *history);
gboolean history_is_dirty(const History *history);

G_END_DECLS
