// SPDX-License-Identifier: GPL-3.0-or-later
// The only thing with state: Book, History, Plan, busy. A GObject without GTK, used from the main
// thread; the window watches it.
#pragma once

#include <gio/gio.h>

#include "book/edit.h"
#include "metal/tables.h"
#include "plan/plan.h"

G_BEGIN_DECLS

#define DESK_TYPE (desk_get_type())
G_DECLARE_FINAL_TYPE(Desk, desk, DESK, DESK, GObject)

// Signals: "book-changed" (the Book, the job, dirty or the file changed), "plan-changed" (a new
// Plan was posted; some stages may still be stale), "busy-changed". `tables` must outlive the desk.
Desk *desk_new(const Tables *tables);

// Whole books. Opening replaces book and history.
gboolean desk_open(Desk *desk, const char *path, GError **error);
void desk_start(Desk *desk, const Book *book); // a new, unsaved book
// Over the book's own file. BASE_ERROR_CHANGED if that is no longer what was read or saved here.
gboolean desk_save(Desk *desk, GError **error);
// Under any name; `replace` allows to overwrite what is there, whatever it is.
gboolean desk_save_as(Desk *desk, const char *path, gboolean replace, GError **error);
// Whether another program has changed the book's file; one that is gone has not.
gboolean desk_is_overtaken(Desk *desk);
void desk_close(Desk *desk);

const Tables *desk_tables(Desk *desk);
Cache *desk_cache(Desk *desk);     // of its plans; for plans of other jobs of the book
const Book *desk_book(Desk *desk); // NULL: none
const char *desk_path(Desk *desk); // NULL: never saved
gboolean desk_is_dirty(Desk *desk);
const char *desk_job(Desk *desk); // NULL: no job
void desk_choose_job(Desk *desk, const char *job_id);

// Edits. Each is one undo step; within a gesture they are one together.
gboolean desk_edit(Desk *desk, const Edit *edit, GError **error);
gboolean desk_edit_field(Desk *desk, const char *path, const char *text, GError **error);
void desk_begin_gesture(Desk *desk);
void desk_end_gesture(Desk *desk);
void desk_undo(Desk *desk);
void desk_redo(Desk *desk);
gboolean desk_can_undo(Desk *desk);
gboolean desk_can_redo(Desk *desk);
const char *desk_undo_label(Desk *desk);
const char *desk_redo_label(Desk *desk);

// A job from a mesh file: copies nothing, stores its path (relative when below the book's folder)
// and SHA-256 (computed here when `sha256` is NULL: hash big files off the main thread first).
// Chooses the new job.
gboolean desk_add_job(Desk *desk, const char *mesh_path, const char *sha256, const char *unit,
                      const char *metal, const char *quantity, GError **error);

const Plan *desk_plan(Desk *desk); // NULL until the first stage is done
gboolean desk_is_busy(Desk *desk);
double desk_fraction(Desk *desk); // of the run in hand
const char *desk_busy_words(Desk *desk);
void desk_stop(Desk *desk); // stop the run in hand

// Trouble of the last run, or NULL.
const char *desk_trouble(Desk *desk);

// Drafts: kept 3 s after a change, removed by a save, offered back on opening. One that is not
// restored, or whose restoring is undone, holds work the book in hand does not: it stays, whatever
// is changed or saved, until it is restored or discarded.
gboolean desk_has_draft(Desk *desk); // of the book in hand
gboolean desk_restore_draft(Desk *desk, GError **error);
// Brings back one of draft_lost() to a desk without a book.
gboolean desk_restore_lost(Desk *desk, const char *draft, GError **error);
void desk_discard_draft(Desk *desk);
void desk_keep_draft(Desk *desk); // writes it now, before the window closes

G_END_DECLS
