// SPDX-License-Identifier: GPL-3.0-or-later
// The thread works on what the plan holds, which nobody changes; the plan is kept meanwhile, and
// after it too, so that "replace" writes what was asked for even when the book has changed.
#include "window/piece-writer.h"

#include "base/error.h"

typedef struct {
    Plan *plan;
    BoardOptions options;
    char *folder;
    BoardFormat format;
    gboolean replace;
    GApplication *app;
    Progress *progress;
    PiecesEnd end;
    guint files, pieces;
    char *first, *trouble;
} Writing;

struct _FwPieceWriter {
    GObject parent;
    Writing *last; // or the one under way
    gboolean running;
};

G_DEFINE_FINAL_TYPE(FwPieceWriter, fw_piece_writer, G_TYPE_OBJECT)

static guint changed_signal;

static void
clear_writing(gpointer data)
{
    Writing *w = data;
    plan_unref(w->plan);
    g_free(w->folder);
    g_clear_object(&w->app);
    progress_unref(w->progress);
    g_free(w->first);
    g_free(w->trouble);
}

static void
unref_writing(gpointer data)
{
    if (data)
        g_atomic_rc_box_release_full(data, clear_writing);
}

// The plan's coarse pieces have the names of those that will be written.
static gboolean
find_there(Writing *w)
{
    const BoardResult *list = plan_board(w->plan);
    g_auto(GStrv) there = list && !w->replace ? board_files_there(list, w->folder, w->format)
                                              : NULL;
    if (!there || !there[0])
        return FALSE;
    w->end = PIECES_THERE;
    w->files = g_strv_length(there);
    w->first = g_strdup(there[0]);
    return TRUE;
}

static void
write_in_thread(GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
    Writing *w = data;
    g_autoptr(GError) error = NULL;
    g_autoptr(BoardResult) boards = NULL;
    if (!find_there(w)) {
        boards = board_make(&w->options, plan_pattern(w->plan), plan_mould(w->plan), w->progress,
                            &error);
        if (boards &&
            board_files_write(boards, w->folder, w->format, w->replace, w->progress, &error)) {
            w->end = PIECES_WRITTEN;
            w->files = boards->n_pieces;
            w->pieces = boards->count;
        } else if (g_error_matches(error, BASE_ERROR, BASE_ERROR_CANCELLED)) {
            w->end = PIECES_STOPPED;
        } else {
            w->end = PIECES_FAILED;
            w->trouble = g_strdup(error ? error->message : NULL);
        }
    }
    g_task_return_boolean(task, TRUE);
}

static void
on_written_cb(GObject *source, GAsyncResult *result, gpointer data)
{
    FwPieceWriter *self = FW_PIECE_WRITER(source);
    self->running = FALSE;
    if (self->last->app)
        g_application_release(self->last->app);
    g_clear_object(&self->last->app);
    g_signal_emit(self, changed_signal, 0);
}

void
fw_piece_writer_start(FwPieceWriter *self, const Plan *plan, const BoardOptions *options,
                      const char *folder, BoardFormat format, gboolean replace, GApplication *app)
{
    g_return_if_fail(plan_pattern(plan) && plan_mould(plan));
    if (self->running)
        return;
    Writing *w = g_atomic_rc_box_new0(Writing);
    w->plan = plan_ref(plan);
    w->options = *options;
    w->folder = g_strdup(folder);
    w->format = format;
    w->replace = replace;
    w->app = app ? g_object_ref(app) : NULL;
    if (app)
        g_application_hold(app);
    w->progress = progress_new();
    unref_writing(self->last);
    self->last = w;
    self->running = TRUE;
    g_autoptr(GTask) task = g_task_new(self, NULL, on_written_cb, NULL);
    g_task_set_task_data(task, g_atomic_rc_box_acquire(w), unref_writing);
    g_task_run_in_thread(task, write_in_thread);
    g_signal_emit(self, changed_signal, 0);
}

void
fw_piece_writer_replace(FwPieceWriter *self)
{
    if (!self->last || self->last->end != PIECES_THERE)
        return;
    Writing *old = g_atomic_rc_box_acquire(self->last);
    fw_piece_writer_start(self, old->plan, &old->options, old->folder, old->format, TRUE,
                          g_application_get_default());
    unref_writing(old);
}

void
fw_piece_writer_stop(FwPieceWriter *self)
{
    if (self->running)
        progress_stop(self->last->progress);
}

gboolean
fw_piece_writer_is_running(FwPieceWriter *self)
{
    return self->running;
}

double
fw_piece_writer_fraction(FwPieceWriter *self)
{
    return self->running ? progress_get_fraction(self->last->progress) : 0;
}

const char *
fw_piece_writer_words(FwPieceWriter *self)
{
    const char *words = self->running ? progress_get_words(self->last->progress) : NULL;
    return words ? words : "";
}

PiecesEnd
fw_piece_writer_end(FwPieceWriter *self)
{
    return self->last && !self->running ? self->last->end : PIECES_NOTHING;
}

const char *
fw_piece_writer_folder(FwPieceWriter *self)
{
    return self->last ? self->last->folder : NULL;
}

guint
fw_piece_writer_files(FwPieceWriter *self)
{
    return self->running || !self->last ? 0 : self->last->files;
}

guint
fw_piece_writer_pieces(FwPieceWriter *self)
{
    return self->running || !self->last ? 0 : self->last->pieces;
}

const char *
fw_piece_writer_first(FwPieceWriter *self)
{
    return self->running || !self->last ? NULL : self->last->first;
}

const char *
fw_piece_writer_trouble(FwPieceWriter *self)
{
    return self->running || !self->last ? NULL : self->last->trouble;
}

static void
fw_piece_writer_finalize(GObject *object)
{
    unref_writing(FW_PIECE_WRITER(object)->last);
    G_OBJECT_CLASS(fw_piece_writer_parent_class)->finalize(object);
}

static void
fw_piece_writer_class_init(FwPieceWriterClass *klass)
{
    G_OBJECT_CLASS(klass)->finalize = fw_piece_writer_finalize;
    changed_signal = g_signal_new("changed", FW_TYPE_PIECE_WRITER, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                  NULL, G_TYPE_NONE, 0);
}

static void
fw_piece_writer_init(FwPieceWriter *self)
{
}

FwPieceWriter *
fw_piece_writer_new(void)
{
    return g_object_new(FW_TYPE_PIECE_WRITER, NULL);
}
