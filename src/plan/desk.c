// SPDX-License-Identifier: GPL-3.0-or-later
// The one thing with state. An edit makes a new Book, the History remembers it, the Worker makes
// its Plan; whoever shows them hears of it by a signal.
#include "plan/desk.h"

#include <glib/gi18n-lib.h>

#include "base/error.h"
#include "plan/desk-private.h"

#define CACHE_ENTRIES 200
#define DRAFT_DELAY_S 3

G_DEFINE_FINAL_TYPE(Desk, desk, G_TYPE_OBJECT)

enum {
    BOOK_CHANGED,
    PLAN_CHANGED,
    BUSY_CHANGED,
    SIGNALS
};
static guint signals[SIGNALS];

static void
set_busy(Desk *desk, gboolean busy)
{
    if (desk->busy == busy)
        return;
    desk->busy = busy;
    g_signal_emit(desk, signals[BUSY_CHANGED], 0);
}

static void
on_plan_posted_cb(const Plan *plan, gboolean last, const GError *error, gpointer data)
{
    Desk *desk = data;
    if (plan) {
        plan_unref(desk->plan);
        desk->plan = plan_ref(plan);
        g_clear_pointer(&desk->trouble, g_free);
    }
    if (error) {
        g_free(desk->trouble);
        desk->trouble = g_strdup(error->message);
    }
    if (last)
        set_busy(desk, FALSE);
    g_signal_emit(desk, signals[PLAN_CHANGED], 0);
}

// Starts the plan of the book and job in hand.
static void
start_plan(Desk *desk)
{
    const Book *book = desk_book(desk);
    gboolean another = desk->plan && g_strcmp0(plan_job(desk->plan), desk->job) != 0;
    if (!book || !desk->job || another) {
        // The figures of one job must not stand under the name of another.
        worker_drop(desk->worker);
        g_clear_pointer(&desk->plan, plan_unref);
        g_clear_pointer(&desk->trouble, g_free);
        g_signal_emit(desk, signals[PLAN_CHANGED], 0);
    }
    if (!book || !desk->job) {
        set_busy(desk, FALSE);
        return;
    }
    worker_submit(desk->worker, book, desk->job, desk->plan, history_in_gesture(desk->history));
    set_busy(desk, TRUE);
}

static void
choose_a_job(Desk *desk)
{
    const Book *book = desk_book(desk);
    if (desk->job && book && book_has_job(book, desk->job))
        return;
    g_clear_pointer(&desk->job, g_free);
    if (book && book_job_count(book) > 0)
        desk->job = g_strdup(book_job_id(book, 0));
}

static gboolean
on_draft_due_cb(gpointer data)
{
    Desk *desk = data;
    desk->draft_timer = 0;
    desk_write_draft(desk);
    return G_SOURCE_REMOVE;
}

void
desk_book_changed(Desk *desk, gboolean plan_again)
{
    choose_a_job(desk);
    if (desk->draft_timer)
        g_source_remove(desk->draft_timer);
    desk->draft_timer = 0;
    if (desk_is_dirty(desk))
        desk->draft_timer = g_timeout_add_seconds(DRAFT_DELAY_S, on_draft_due_cb, desk);
    g_signal_emit(desk, signals[BOOK_CHANGED], 0);
    if (plan_again)
        start_plan(desk);
}

void
desk_replace_book(Desk *desk, const Book *book, const char *path)
{
    desk_leave_drafts(desk);
    g_clear_pointer(&desk->history, history_free);
    g_clear_pointer(&desk->on_disk, g_free);
    desk->history = book ? history_new(book) : NULL;
    g_free(desk->path);
    desk->path = g_strdup(path);
    g_clear_pointer(&desk->job, g_free);
    g_clear_pointer(&desk->plan, plan_unref);
    desk_book_changed(desk, TRUE);
}

void
desk_start(Desk *desk, const Book *book)
{
    desk_replace_book(desk, book, NULL);
}

void
desk_close(Desk *desk)
{
    desk_replace_book(desk, NULL, NULL);
}

const Tables *
desk_tables(Desk *desk)
{
    return desk->tables;
}

Cache *
desk_cache(Desk *desk)
{
    return desk->cache;
}

const Book *
desk_book(Desk *desk)
{
    return desk->history ? history_book(desk->history) : NULL;
}

const char *
desk_path(Desk *desk)
{
    return desk->path;
}

gboolean
desk_is_dirty(Desk *desk)
{
    return desk->history && history_is_dirty(desk->history);
}

const char *
desk_job(Desk *desk)
{
    return desk->job;
}

void
desk_choose_job(Desk *desk, const char *job_id)
{
    const Book *book = desk_book(desk);
    if (!book || !book_has_job(book, job_id) || g_strcmp0(desk->job, job_id) == 0)
        return;
    g_free(desk->job);
    desk->job = g_strdup(job_id);
    g_signal_emit(desk, signals[BOOK_CHANGED], 0);
    start_plan(desk);
}

gboolean
desk_edit(Desk *desk, const Edit *edit, GError **error)
{
    const Book *book = desk_book(desk);
    if (!book)
        return base_error_set(error, BASE_ERROR_NOT_FOUND, NULL, NULL, _("no book is open"),
                              _("open one or start one first"));
    g_autoptr(Book) next = edit_apply(book, edit, error);
    if (!next)
        return FALSE;
    if (node_equal(book_root(next), book_root(book)))
        return TRUE;
    history_push(desk->history, next, edit->label);
    desk_book_changed(desk, TRUE);
    return TRUE;
}

gboolean
desk_edit_field(Desk *desk, const char *path, const char *text, GError **error)
{
    const Field *field = field_find(path);
    g_return_val_if_fail(field != NULL, FALSE);
    const Book *book = desk_book(desk);
    if (!book)
        return base_error_set(error, BASE_ERROR_NOT_FOUND, NULL, NULL, _("no book is open"),
                              _("open one or start one first"));
    g_autoptr(Edit) edit = edit_field(book, desk->job, field, text, desk->tables, error);
    return edit && desk_edit(desk, edit, error);
}

void
desk_begin_gesture(Desk *desk)
{
    if (desk->history)
        history_begin_gesture(desk->history);
}

void
desk_end_gesture(Desk *desk)
{
    if (!desk->history || !history_in_gesture(desk->history))
        return;
    history_end_gesture(desk->history);
    start_plan(desk);
}

void
desk_undo(Desk *desk)
{
    if (!desk_can_undo(desk))
        return;
    history_undo(desk->history);
    desk_book_changed(desk, TRUE);
}

void
desk_redo(Desk *desk)
{
    if (!desk_can_redo(desk))
        return;
    history_redo(desk->history);
    desk_book_changed(desk, TRUE);
}

gboolean
desk_can_undo(Desk *desk)
{
    return desk->history && history_can_undo(desk->history);
}

gboolean
desk_can_redo(Desk *desk)
{
    return desk->history && history_can_redo(desk->history);
}

const char *
desk_undo_label(Desk *desk)
{
    return desk->history ? history_undo_label(desk->history) : NULL;
}

const char *
desk_redo_label(Desk *desk)
{
    return desk->history ? history_redo_label(desk->history) : NULL;
}

const Plan *
desk_plan(Desk *desk)
{
    return desk->plan;
}

const char *
desk_trouble(Desk *desk)
{
    return desk->trouble;
}

gboolean
desk_is_busy(Desk *desk)
{
    return desk->busy;
}

double
desk_fraction(Desk *desk)
{
    return worker_fraction(desk->worker);
}

const char *
desk_busy_words(Desk *desk)
{
    return worker_words(desk->worker);
}

void
desk_stop(Desk *desk)
{
    worker_stop(desk->worker);
}

static void
desk_finalize(GObject *object)
{
    Desk *desk = DESK_DESK(object);
    if (desk->draft_timer)
        g_source_remove(desk->draft_timer);
    desk_leave_drafts(desk);
    worker_free(desk->worker);
    history_free(desk->history);
    plan_unref(desk->plan);
    cache_unref(desk->cache);
    g_free(desk->path);
    g_free(desk->on_disk);
    g_free(desk->job);
    g_free(desk->trouble);
    G_OBJECT_CLASS(desk_parent_class)->finalize(object);
}

static void
desk_class_init(DeskClass *klass)
{
    static const char *const names[SIGNALS] = {"book-changed", "plan-changed", "busy-changed"};
    for (int i = 0; i < SIGNALS; i++)
        signals[i] = g_signal_new(names[i], DESK_TYPE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 0);
    G_OBJECT_CLASS(klass)->finalize = desk_finalize;
}

static void
desk_init(Desk *desk)
{
    desk->cache = cache_new(CACHE_ENTRIES);
}

Desk *
desk_new(const Tables *tables)
{
    Desk *desk = g_object_new(DESK_TYPE, NULL);
    desk->tables = tables;
    desk->worker = worker_new(tables, desk->cache, on_plan_posted_cb, desk);
    return desk;
}
