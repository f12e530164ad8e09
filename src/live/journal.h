// SPDX-License-Identifier: GPL-3.0-or-later
// The journal of a day: a file to which lines are only ever added, each forced to the disk before
// it counts as kept. The first line holds the whole plan of the day, so the day can be gone on with
// whatever happens to the book.
//
// It lies with the drafts in the user's own data folder, under a hash of the book's path, and not
// beside the book: a book may lie on a stick that is pulled out, on a share whose word on what is
// on the disk is worth little, or where nothing may be written, and none of it may cost a tick. A
// book saved elsewhere takes its journal along (live_journal_move).
#pragma once

#include "live/line.h"

G_BEGIN_DECLS

typedef struct LiveJournal LiveJournal;

// Where the journal of a book that has (path) or has not (NULL) a file is kept. Its folder is made.
// Free.
char *live_journal_path(const char *book_path);
gboolean live_journal_exists(const char *book_path);

// Begins one with its first line, whole or not at all. An existing file is never touched:
// BASE_ERROR_FILE.
LiveJournal *live_journal_start(const char *path, const Node *first, GError **error);
// Reads one and holds it: no other program adds to it meanwhile. BASE_ERROR_FILE, also when another
// holds it; BASE_ERROR_FORMAT when not one line of it is whole.
LiveJournal *live_journal_open(const char *path, GError **error);
// The same only to look: whoever holds it goes on adding, and nothing can be added here.
LiveJournal *live_journal_look(const char *path, GError **error);
// Lets go of it. NULL is harmless.
void live_journal_close(LiveJournal *journal);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LiveJournal, live_journal_close)

// Adds one line. TRUE only when it is on the disk; else nothing of it counts.
gboolean live_journal_add(LiveJournal *journal, const Node *line, GError **error);

const char *live_journal_file(const LiveJournal *journal);
// What was read and added, in order; borrowed.
const LiveLines *live_journal_lines(const LiveJournal *journal);

// Gives the file another place, which must be free.
gboolean live_journal_move(LiveJournal *journal, const char *path, GError **error);
// Puts a journal that is done with aside, under the name of its day: nothing is deleted.
gboolean live_journal_put_aside(LiveJournal *journal, const char *day_id, GError **error);

G_END_DECLS
