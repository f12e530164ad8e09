// SPDX-License-Identifier: GPL-3.0-or-later
// What a Desk holds; for desk.c and desk-file.c only.
#pragma once

#include "book/draft.h"
#include "book/history.h"
#include "plan/desk.h"
#include "plan/worker.h"

G_BEGIN_DECLS

struct _Desk {
    GObject parent;
    const Tables *tables;
    History *history; // NULL: no book
    char *path;       // NULL: never saved
    char *on_disk;    // SHA-256 of the file as it was read or saved; NULL: none
    DraftSlot *slot;  // of a book never saved, or while another draft of the book is kept; NULL
                      // until the first draft
    gboolean offered; // a draft of the book's file was there when it was opened, and still is
    Book *restored;   // from the draft in hand; NULL: none was
    gboolean behind;  // that draft is older than the book's file
    char *job;
    Plan *plan;
    Cache *cache;
    Worker *worker;
    gboolean busy;
    char *trouble;
    guint draft_timer;
    // counts of drafts of the book's file, and of the slot's; one begun before the last is not
    // wanted any more
    guint forgotten[2];
};

// Tells everyone; plans again if asked.
void desk_book_changed(Desk *desk, gboolean plan_again);
void desk_replace_book(Desk *desk, const Book *book, const char *path);
void desk_write_draft(Desk *desk);
void desk_leave_drafts(Desk *desk); // before another book takes the place of this

G_END_DECLS
