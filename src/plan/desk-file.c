// SPDX-License-Identifier: GPL-3.0-or-later
// A Desk's dealings with files: open, save, drafts, and jobs from meshes. Mesh paths in a book are
// relative to its folder where they can be; saving elsewhere rewrites them.
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>
#include <utime.h>

#include "base/digest.h"
#include "base/error.h"
#include "book/store.h"
#include "plan/desk-private.h"
#include "plan/mesh-path.h"

gboolean
desk_open(Desk *desk, const char *path, GError **error)
{
    g_autofree char *whole = g_canonicalize_filename(path, NULL);
    // Before it is read: a change in between is then told once too often, never missed.
    g_autofree char *on_disk = digest_of_file(whole, NULL);
    g_autoptr(Book) book = store_read(whole, desk->tables, error);
    if (!book)
        return FALSE;
    desk_replace_book(desk, book, whole);
    desk->on_disk = g_steal_pointer(&on_disk);
    desk->offered = desk_has_draft(desk);
    return TRUE;
}

// Does the draft that was there before hold work that the book in hand does not? It has not been
// restored, or that was undone. Such a draft is neither written over nor removed: it is offered
// again.
static gboolean
is_draft_kept(Desk *desk)
{
    return desk->offered || (desk->restored && !history_holds(desk->history, desk->restored));
}

// Where the draft of the book in hand lies; NULL: it has none yet. Free.
static char *
draft_of_book(Desk *desk)
{
    if (desk->path && !is_draft_kept(desk))
        return draft_path(desk->path);
    return desk->slot ? g_strdup(draft_slot_path(desk->slot)) : NULL;
}

static void
forget_restored(Desk *desk)
{
    g_clear_pointer(&desk->restored, book_unref);
    desk->behind = FALSE;
}

// A new book's slot goes with the draft that is kept in it; another is taken when it is needed.
static void
let_kept_draft_go(Desk *desk)
{
    if (desk->path || !is_draft_kept(desk))
        return;
    g_clear_pointer(&desk->slot, draft_slot_free);
    forget_restored(desk);
}

static gboolean
is_in_slot(Desk *desk, const char *draft)
{
    return desk->slot && g_str_equal(draft, draft_slot_path(desk->slot));
}

static void
forget_draft(Desk *desk)
{
    let_kept_draft_go(desk);
    if (desk->draft_timer)
        g_source_remove(desk->draft_timer);
    desk->draft_timer = 0;
    g_autofree char *draft = draft_of_book(desk);
    if (!draft)
        return;
    desk->forgotten[is_in_slot(desk, draft)]++;
    g_unlink(draft);
}

// What lies in a slot while the draft of the book's file is kept, and is wanted no more.
static void
empty_slot(Desk *desk)
{
    if (!desk->slot)
        return;
    desk->forgotten[TRUE]++;
    g_unlink(draft_slot_path(desk->slot));
    g_clear_pointer(&desk->slot, draft_slot_free);
}

// The draft of a new book with changes stays, to be offered again.
void
desk_leave_drafts(Desk *desk)
{
    let_kept_draft_go(desk);
    if (!desk_is_dirty(desk))
        empty_slot(desk);
    g_clear_pointer(&desk->slot, draft_slot_free);
    forget_restored(desk);
    desk->offered = FALSE;
}

// Does the book come of a draft that is older than its file?
static gboolean
is_behind(Desk *desk)
{
    return desk->behind && history_holds(desk->history, desk->restored);
}

// What the file holds now is not in a draft that is older, nor in what is made of it: it is not to
// be saved over unasked.
gboolean
desk_is_overtaken(Desk *desk)
{
    g_autofree char *now = desk->on_disk ? digest_of_file(desk->path, NULL) : NULL;
    return now && (is_behind(desk) || !g_str_equal(now, desk->on_disk));
}

static void
take_sum(Desk *desk, const char *sum)
{
    g_free(desk->on_disk);
    desk->on_disk = g_strdup(sum);
}

gboolean
desk_save(Desk *desk, GError **error)
{
    if (!desk->path)
        return base_error_set(error, BASE_ERROR_FILE, NULL, NULL, _("the book has no file yet"),
                              _("save it under a name"));
    if (desk_is_overtaken(desk))
        return base_error_set(error, BASE_ERROR_CHANGED, desk->path, NULL,
                              is_behind(desk)
                                  ? _("was changed after this draft of it was made")
                                  : _("was changed by another program since it was opened here"),
                              _("save under another name to keep both, or replace it"));
    return desk_save_as(desk, desk->path, TRUE, error);
}

gboolean
desk_save_as(Desk *desk, const char *path, gboolean replace, GError **error)
{
    const Book *book = desk_book(desk);
    if (!book)
        return base_error_set(error, BASE_ERROR_NOT_FOUND, NULL, NULL, _("no book is open"), NULL);
    g_autofree char *whole = g_canonicalize_filename(path, NULL);
    g_autofree char *folder = g_path_get_dirname(whole);
    g_autoptr(Book) moved = mesh_path_rebase(book, folder);
    g_autofree char *text = store_text(moved);
    g_autofree char *sum = g_compute_checksum_for_string(G_CHECKSUM_SHA256, text, -1);
    if (!store_write(moved, whole, replace, error)) {
        // What the disk did not confirm may be there all the same, and is nobody else's change.
        g_autofree char *there = desk->on_disk ? digest_of_file(desk->path, NULL) : NULL;
        if (g_strcmp0(there, sum) == 0)
            take_sum(desk, sum);
        return FALSE;
    }
    forget_draft(desk);
    empty_slot(desk);
    if (g_strcmp0(desk->path, whole) != 0 || !is_draft_kept(desk)) {
        desk->offered = FALSE;
        forget_restored(desk);
    }
    take_sum(desk, sum);
    if (g_strcmp0(book_folder(book), folder) != 0)
        history_replace(desk->history, moved);
    g_free(desk->path);
    desk->path = g_steal_pointer(&whole);
    history_mark_saved(desk->history);
    desk_book_changed(desk, FALSE);
    return TRUE;
}

// `text` may be NULL for a field left blank.
static gboolean
check_text(Desk *desk, const char *path, const char *text, GError **error)
{
    UnitSet units = book_units(desk_book(desk));
    return !text || field_check(field_find(path), text, &units, desk->tables, NULL, error);
}

gboolean
desk_add_job(Desk *desk, const char *mesh_path, const char *sha256, const char *unit,
             const char *metal, const char *quantity, GError **error)
{
    const Book *book = desk_book(desk);
    if (!book)
        return base_error_set(error, BASE_ERROR_NOT_FOUND, NULL, NULL, _("no book is open"),
                              _("open one or start one first"));
    if (!check_text(desk, "job.mesh_unit", unit, error) ||
        !check_text(desk, "job.metal", metal, error) ||
        !check_text(desk, "job.quantity", quantity, error))
        return FALSE;
    g_autofree char *sum = sha256 ? g_strdup(sha256) : digest_of_file(mesh_path, error);
    if (!sum)
        return FALSE;
    g_autofree char *base = g_path_get_basename(mesh_path);
    char *dot = strrchr(base, '.');
    if (dot && dot != base)
        *dot = '\0';
    g_autofree char *id = book_new_job_id(book, base);
    g_autofree char *stored = mesh_path_stored(mesh_path, book_folder(book));
    g_autoptr(Node) node = edit_job_node(id, base, stored, sum, unit, metal, quantity);
    g_autoptr(Edit) edit = edit_insert("/jobs/-", node, _("Add job"));
    if (!desk_edit(desk, edit, error))
        return FALSE;
    desk_choose_job(desk, id);
    return TRUE;
}

typedef struct {
    Book *book;
    char *path;
    gboolean in_slot;
    guint forgotten; // desk->forgotten of its kind when it was begun
} Draft;

static void
free_draft(gpointer data)
{
    Draft *draft = data;
    book_unref(draft->book);
    g_free(draft->path);
    g_free(draft);
}

// Off the main thread: a durable write can take longer than a frame.
static void
write_in_thread(GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
    const Draft *draft = data;
    store_write(draft->book, draft->path, TRUE, NULL);
    g_task_return_boolean(task, TRUE);
}

// A draft written anew from an older one is still to be known as older than the file.
static void
keep_behind(Desk *desk, const char *draft)
{
    GStatBuf file;
    if (!desk->path || !is_behind(desk) || g_stat(desk->path, &file) != 0)
        return;
    struct utimbuf before = {file.st_mtime - 1, file.st_mtime - 1};
    g_utime(draft, &before);
}

// A save or a discard may have overtaken the writing.
static void
on_draft_written_cb(GObject *source, GAsyncResult *result, gpointer data)
{
    const Draft *draft = g_task_get_task_data(G_TASK(result));
    keep_behind(DESK_DESK(source), draft->path);
    if (draft->forgotten != DESK_DESK(source)->forgotten[draft->in_slot])
        g_unlink(draft->path);
}

// Where to write a draft to: a new book gets its slot with the first. NULL: nowhere. Free.
static char *
place_draft(Desk *desk)
{
    let_kept_draft_go(desk);
    gboolean slotted = !desk->path || is_draft_kept(desk);
    if (slotted && !desk->slot)
        desk->slot = draft_slot_new();
    if (!slotted)
        empty_slot(desk);
    return draft_of_book(desk);
}

// What a draft holds: mesh paths that are right when it is read back.
static Book *
draft_book(Desk *desk)
{
    gboolean slotted = !desk->path || is_draft_kept(desk);
    g_autofree char *folder = slotted ? NULL : g_path_get_dirname(desk->path);
    return mesh_path_rebase(desk_book(desk), folder);
}

void
desk_write_draft(Desk *desk)
{
    g_autofree char *path = desk_book(desk) ? place_draft(desk) : NULL;
    if (!path)
        return;
    Draft *draft = g_new0(Draft, 1);
    draft->book = draft_book(desk);
    draft->path = g_steal_pointer(&path);
    draft->in_slot = is_in_slot(desk, draft->path);
    draft->forgotten = desk->forgotten[draft->in_slot];
    g_autoptr(GTask) task = g_task_new(desk, NULL, on_draft_written_cb, NULL);
    g_task_set_task_data(task, draft, free_draft);
    g_task_run_in_thread(task, write_in_thread);
}

void
desk_keep_draft(Desk *desk)
{
    g_autofree char *path = desk_book(desk) ? place_draft(desk) : NULL;
    if (!path)
        return;
    g_autoptr(Book) book = draft_book(desk);
    if (store_write(book, path, TRUE, NULL))
        keep_behind(desk, path);
}

gboolean
desk_has_draft(Desk *desk)
{
    g_autofree char *draft = desk->path ? draft_path(desk->path) : draft_of_book(desk);
    return draft && g_file_test(draft, G_FILE_TEST_EXISTS);
}

// Was the book's file written after the draft?
static gboolean
is_older(const char *draft, const char *book)
{
    GStatBuf a, b;
    return g_stat(draft, &a) == 0 && g_stat(book, &b) == 0 && a.st_mtime < b.st_mtime;
}

static void
push_restored(Desk *desk, const Book *book)
{
    book_unref(desk->restored);
    desk->restored = book_ref(book);
    history_push(desk->history, book, _("Restore draft"));
    desk_book_changed(desk, TRUE);
}

gboolean
desk_restore_draft(Desk *desk, GError **error)
{
    g_return_val_if_fail(desk->path != NULL, FALSE);
    g_autofree char *draft = draft_path(desk->path);
    g_autoptr(Book) found = store_read(draft, desk->tables, error);
    if (!found)
        return FALSE;
    g_autofree char *folder = g_path_get_dirname(desk->path);
    g_autoptr(Book) book = book_with_folder(found, folder);
    desk->behind = is_older(draft, desk->path);
    desk->offered = FALSE;
    push_restored(desk, book);
    return TRUE;
}

gboolean
desk_restore_lost(Desk *desk, const char *draft, GError **error)
{
    g_return_val_if_fail(desk->history == NULL, FALSE);
    DraftSlot *slot = draft_slot_take(draft);
    if (!slot)
        return base_error_set(error, BASE_ERROR_FILE, draft, NULL,
                              _("this draft is gone, or open in another window"), NULL);
    g_autoptr(Book) found = store_read(draft, desk->tables, error);
    if (!found) {
        draft_slot_free(slot);
        return FALSE;
    }
    g_autoptr(Book) book = book_with_folder(found, NULL);
    // Nothing of it was ever saved, so it must count as changed.
    g_autoptr(Book) blank = book_new_ready();
    desk_replace_book(desk, blank, NULL);
    desk->slot = slot;
    push_restored(desk, book);
    return TRUE;
}

void
desk_discard_draft(Desk *desk)
{
    gboolean due = desk->draft_timer > 0;
    if (is_draft_kept(desk))
        forget_restored(desk);
    desk->offered = FALSE;
    forget_draft(desk);
    if (due) // changes made since want a draft of their own
        desk_book_changed(desk, FALSE);
}
