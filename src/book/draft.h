// SPDX-License-Identifier: GPL-3.0-or-later
// Where drafts are kept: in the user's own data folder, never beside or over the book. A book with
// a file has one draft, found by its path. Books never saved have a slot each, held for as long as
// somebody works at them, so that two do not write over one another and only what nobody holds is
// offered back.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct DraftSlot DraftSlot;

// The draft of the book at `path`. Its folder is made if it is not there. Free.
char *draft_path(const char *path);

// A slot of its own for a book that has no file. NULL if the data folder cannot be written.
DraftSlot *draft_slot_new(void);
// Takes over the draft of a book nobody holds. NULL if it is held, here or in another program, or
// gone.
DraftSlot *draft_slot_take(const char *path);
// Lets go of it; a draft written there stays and can be taken.
void draft_slot_free(DraftSlot *slot);
const char *draft_slot_path(const DraftSlot *slot);

// Drafts of books never saved that nobody holds, the oldest change first. g_strfreev.
char **draft_lost(void);
// Throws one of them away; FALSE if somebody holds it.
gboolean draft_discard(const char *path);

G_END_DECLS
