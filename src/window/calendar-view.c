// SPDX-License-Identifier: GPL-3.0-or-later
// A run has a number, and what comes of an older one is dropped.
#include "window/calendar-view.h"

#include <glib/gi18n.h>
#include <string.h>

#include "base/error.h"
#include "report/batch.h"
#include "sketch/calendar.h"

#define DELAY_MS 400 // after the last change

struct _FwCalendarView {
    GtkBox parent;
    FwSketchView *sketch;
    GtkListBox *needs;
    GtkLabel *words;
    Desk *desk;
    guint32 first; // 0: today
    Book *book;    // the plan, or the trouble, is of; NULL before the first
    guint32 day;   // likewise: its first day
    BatchPlan *batch;
    char *trouble;
    Progress *running; // of the run in hand, or NULL
    guint number;      // of the newest run
    guint timer;
    gboolean wanted; // though it cannot be seen
    GMutex lock;     // of the next two
    GCond ended;
    guint runs; // threads at work
};

G_DEFINE_FINAL_TYPE(FwCalendarView, fw_calendar_view, GTK_TYPE_BOX)

static guint made_signal;

typedef struct {
    Book *book;
    const Tables *tables;
    Cache *cache;
    guint32 first;
    Progress *progress;
    guint number;
    BatchPlan *batch;
    char *trouble;
} Run;

static void
free_run(gpointer data)
{
    Run *run = data;
    book_unref(run->book);
    cache_unref(run->cache);
    progress_unref(run->progress);
    batch_plan_unref(run->batch);
    g_free(run->trouble);
    g_free(run);
}

static void
make_in_thread(GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
    FwCalendarView *self = source;
    Run *run = data;
    g_autoptr(GError) error = NULL;
    run->batch = batch_plan_make(run->book, NULL, run->tables, run->cache, run->first,
                                 run->progress, &error);
    run->trouble = g_strdup(error ? error->message : NULL);
    g_mutex_lock(&self->lock);
    self->runs--;
    g_cond_signal(&self->ended);
    g_mutex_unlock(&self->lock);
    g_task_return_boolean(task, TRUE);
}

static guint32
first_day(FwCalendarView *self)
{
    return self->first ? self->first : batch_today();
}

// Is what is held of the book as it is?
static gboolean
is_current(FwCalendarView *self)
{
    const Book *book = desk_book(self->desk);
    return book && self->book && self->day == first_day(self) &&
           (book == self->book || node_equal(book_root(book), book_root(self->book))) &&
           g_strcmp0(book_folder(book), book_folder(self->book)) == 0;
}

// The day stands on the first row of it only; a screen reader hears it on each.
static GtkWidget *
make_need_row(const char *day, gboolean first, const char *words)
{
    GtkWidget *row = gtk_list_box_row_new();
    GtkWidget *box = gtk_box_new(GTK_ORIENTATION_HORIZONTAL, 12);
    GtkWidget *by = gtk_label_new(NULL), *what = gtk_label_new(words);
    gtk_label_set_width_chars(GTK_LABEL(by), 16);
    gtk_label_set_xalign(GTK_LABEL(by), 0);
    gtk_label_set_xalign(GTK_LABEL(what), 0);
    gtk_label_set_wrap(GTK_LABEL(what), TRUE);
    gtk_widget_set_hexpand(what, TRUE);
    g_autofree char *bold = g_markup_printf_escaped("<b>%s</b>", first ? day : "");
    gtk_label_set_markup(GTK_LABEL(by), bold);
    gtk_widget_set_valign(by, GTK_ALIGN_START);
    gtk_widget_set_valign(what, GTK_ALIGN_START);
    gtk_widget_set_margin_start(box, 12);
    gtk_widget_set_margin_end(box, 12);
    gtk_box_append(GTK_BOX(box), by);
    gtk_box_append(GTK_BOX(box), what);
    gtk_list_box_row_set_child(GTK_LIST_BOX_ROW(row), box);
    gtk_list_box_row_set_activatable(GTK_LIST_BOX_ROW(row), FALSE);
    g_autofree char *said = g_strdup_printf("%s: %s", day, words);
    gtk_accessible_update_property(GTK_ACCESSIBLE(row), GTK_ACCESSIBLE_PROPERTY_LABEL, said, -1);
    return row;
}

static void
show_left(FwCalendarView *self)
{
    guint n = 0;
    for (guint i = 0; i < self->batch->n_jobs; i++) {
        const BatchJob *job = &self->batch->jobs[i];
        if (!job->why)
            continue;
        g_autofree char *end = report_batch_end(job);
        g_autofree char *words = g_strdup_printf("%s: %s", job->name, end);
        gtk_list_box_append(self->needs, make_need_row(_("Not planned"), n++ == 0, words));
    }
}

static void
show_needs(FwCalendarView *self)
{
    GtkWidget *row;
    while ((row = gtk_widget_get_first_child(GTK_WIDGET(self->needs))))
        gtk_list_box_remove(self->needs, row);
    if (!self->batch)
        return;
    show_left(self);
    for (guint i = 0; self->batch->lists_stock && i < self->batch->n_shelves; i++) {
        g_autofree char *words = report_batch_shelf(self->batch, &self->batch->shelves[i]);
        gtk_list_box_append(self->needs, make_need_row(_("In stock"), i == 0, words));
    }
    for (guint i = 0; i < self->batch->n_needs; i++) {
        const CalendarNeed *need = &self->batch->needs[i];
        gboolean first = i == 0 || need[-1].by != need->by;
        g_autofree char *day = report_batch_day(need->by);
        g_autofree char *words = report_batch_need(self->batch, need);
        gtk_list_box_append(self->needs, make_need_row(day, first, words));
    }
}

// What the batch costs to buy for, in one line.
static void
show_words(FwCalendarView *self)
{
    if (self->running || self->timer) {
        gtk_label_set_text(self->words, _("Planning all jobs over the free days…"));
        return;
    }
    if (!self->batch) {
        gtk_label_set_text(self->words, "");
        return;
    }
    const BatchPlan *batch = self->batch;
    g_autofree char *ingot = quantity_format(QUANTITY_MASS, batch->totals.ingot, &batch->units);
    g_autofree char *sand = quantity_format(QUANTITY_MASS, batch->totals.sand, &batch->units);
    g_autofree char *text = g_strdup_printf(_("To buy in all: %s of ingot, %s of sand"), ingot,
                                            sand);
    gtk_label_set_text(self->words, text);
}

static void
show(FwCalendarView *self)
{
    show_words(self);
    if (self->batch) {
        g_autoptr(Scene) scene = sketch_calendar_scene(self->batch);
        fw_sketch_view_set_scene(self->sketch, scene, NULL);
    } else {
        fw_sketch_view_set_scene(self->sketch, NULL,
                                 self->trouble ? self->trouble
                                               : _("Planning all jobs over the free days…"));
    }
    show_needs(self);
}

static void
on_made_cb(GObject *source, GAsyncResult *result, gpointer data)
{
    FwCalendarView *self = FW_CALENDAR_VIEW(source);
    Run *run = g_task_get_task_data(G_TASK(result));
    if (run->number != self->number || !self->desk)
        return;
    g_clear_pointer(&self->running, progress_unref);
    batch_plan_unref(self->batch);
    book_unref(self->book);
    g_free(self->trouble);
    self->batch = g_steal_pointer(&run->batch);
    self->trouble = g_steal_pointer(&run->trouble);
    self->book = g_steal_pointer(&run->book);
    self->day = run->first;
    self->wanted = FALSE;
    show(self);
    g_signal_emit(self, made_signal, 0);
}

static void
stop(FwCalendarView *self)
{
    self->number++;
    g_clear_handle_id(&self->timer, g_source_remove);
    if (self->running)
        progress_stop(self->running);
    g_clear_pointer(&self->running, progress_unref);
}

static void
start(FwCalendarView *self)
{
    stop(self);
    Run *run = g_new0(Run, 1);
    run->book = book_ref(desk_book(self->desk));
    run->tables = desk_tables(self->desk);
    run->cache = cache_ref(desk_cache(self->desk));
    run->first = first_day(self);
    run->progress = progress_new();
    run->number = self->number;
    self->running = progress_ref(run->progress);
    g_mutex_lock(&self->lock);
    self->runs++;
    g_mutex_unlock(&self->lock);
    g_autoptr(GTask) task = g_task_new(self, NULL, on_made_cb, NULL);
    g_task_set_task_data(task, run, free_run);
    g_task_run_in_thread(task, make_in_thread);
    if (self->batch)
        show_words(self);
    else
        show(self);
}

static gboolean
on_due_cb(gpointer data)
{
    FwCalendarView *self = data;
    self->timer = 0;
    start(self);
    return G_SOURCE_REMOVE;
}

// Starts a run a little after the last change, when it is wanted and the desk is done: the job in
// hand is then in the cache.
static void
update(FwCalendarView *self)
{
    gboolean needed = self->wanted || gtk_widget_get_mapped(GTK_WIDGET(self));
    if (!self->desk)
        return;
    if (!desk_book(self->desk)) {
        stop(self);
        g_clear_pointer(&self->batch, batch_plan_unref);
        g_clear_pointer(&self->book, book_unref);
        return;
    }
    if (!needed || is_current(self))
        return;
    if (desk_is_busy(self->desk)) {
        stop(self);
        return;
    }
    if (!self->running && !self->timer)
        self->timer = g_timeout_add(DELAY_MS, on_due_cb, self);
    show_words(self);
}

static void
on_book_changed_cb(FwCalendarView *self)
{
    if (!is_current(self))
        stop(self);
    update(self);
}

static void
on_part_chosen_cb(FwSketchView *sketch, const char *part, const char *figure, FwCalendarView *self)
{
    if (!self->batch)
        return;
    if (g_str_has_prefix(part, "due-") || g_str_has_prefix(part, "left-"))
        desk_choose_job(self->desk, strchr(part, '-') + 1);
    for (guint i = 0; i < self->batch->n_sessions; i++) {
        const BatchSession *session = &self->batch->sessions[i];
        g_autofree char *id = g_strdup_printf("session-%d", session->number);
        if (g_str_equal(id, part) && session->n_pours > 0)
            desk_choose_job(self->desk, self->batch->jobs[session->pours[0].job].id);
    }
}

FwSketchView *
fw_calendar_view_sketch(FwCalendarView *self)
{
    return self->sketch;
}

void
fw_calendar_view_set_first(FwCalendarView *self, guint32 first)
{
    self->first = first;
    stop(self);
    update(self);
}

const BatchPlan *
fw_calendar_view_batch(FwCalendarView *self, gboolean want)
{
    if (self->batch && is_current(self))
        return self->batch;
    if (want) {
        // What has failed is tried again: a file may have come since.
        g_clear_pointer(&self->book, book_unref);
        self->wanted = TRUE;
        update(self);
    }
    return NULL;
}

const char *
fw_calendar_view_trouble(FwCalendarView *self)
{
    return self->trouble;
}

Scene *
fw_calendar_view_scene(FwCalendarView *self, GError **error)
{
    const BatchPlan *batch = fw_calendar_view_batch(self, FALSE);
    if (batch)
        return sketch_calendar_scene(batch);
    base_error_set(error, BASE_ERROR_NOT_FOUND, NULL, NULL,
                   self->trouble ? self->trouble : _("the days are still being planned"),
                   self->trouble ? NULL : _("wait until they are there"));
    return NULL;
}

gboolean
fw_calendar_view_is_settled(FwCalendarView *self)
{
    gboolean needed = self->wanted || gtk_widget_get_mapped(GTK_WIDGET(self));
    return !self->running && !self->timer &&
           (!needed || !self->desk || !desk_book(self->desk) || is_current(self));
}

static void
fw_calendar_view_map(GtkWidget *widget)
{
    GTK_WIDGET_CLASS(fw_calendar_view_parent_class)->map(widget);
    update(FW_CALENDAR_VIEW(widget));
}

// The tables may go with the desk, so no run outlives it; one that is stopped soon ends.
// A thread at work holds the view, but not the tables, which go when the window has gone.
static void
end_runs(FwCalendarView *self)
{
    stop(self);
    g_mutex_lock(&self->lock);
    while (self->runs > 0)
        g_cond_wait(&self->ended, &self->lock);
    g_mutex_unlock(&self->lock);
}

static void
fw_calendar_view_unroot(GtkWidget *widget)
{
    end_runs(FW_CALENDAR_VIEW(widget));
    GTK_WIDGET_CLASS(fw_calendar_view_parent_class)->unroot(widget);
}

static void
fw_calendar_view_dispose(GObject *object)
{
    FwCalendarView *self = FW_CALENDAR_VIEW(object);
    end_runs(self);
    g_clear_object(&self->desk);
    g_clear_pointer(&self->batch, batch_plan_unref);
    g_clear_pointer(&self->book, book_unref);
    G_OBJECT_CLASS(fw_calendar_view_parent_class)->dispose(object);
}

static void
fw_calendar_view_finalize(GObject *object)
{
    FwCalendarView *self = FW_CALENDAR_VIEW(object);
    g_mutex_clear(&self->lock);
    g_cond_clear(&self->ended);
    g_free(self->trouble);
    G_OBJECT_CLASS(fw_calendar_view_parent_class)->finalize(object);
}

static void
fw_calendar_view_class_init(FwCalendarViewClass *klass)
{
    g_type_ensure(FW_TYPE_SKETCH_VIEW);
    G_OBJECT_CLASS(klass)->dispose = fw_calendar_view_dispose;
    G_OBJECT_CLASS(klass)->finalize = fw_calendar_view_finalize;
    GtkWidgetClass *widget = GTK_WIDGET_CLASS(klass);
    widget->map = fw_calendar_view_map;
    widget->unroot = fw_calendar_view_unroot;
    made_signal = g_signal_new("made", FW_TYPE_CALENDAR_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                               NULL, G_TYPE_NONE, 0);
    gtk_widget_class_set_template_from_resource(widget,
                                                "/org/flaskwright/Flaskwright/ui/calendar-view.ui");
    gtk_widget_class_bind_template_child(widget, FwCalendarView, sketch);
    gtk_widget_class_bind_template_child(widget, FwCalendarView, needs);
    gtk_widget_class_bind_template_child(widget, FwCalendarView, words);
    gtk_widget_class_bind_template_callback(widget, on_part_chosen_cb);
}

static void
fw_calendar_view_init(FwCalendarView *self)
{
    g_mutex_init(&self->lock);
    g_cond_init(&self->ended);
    gtk_widget_init_template(GTK_WIDGET(self));
}

void
fw_calendar_view_set_desk(FwCalendarView *self, Desk *desk)
{
    g_return_if_fail(!self->desk);
    self->desk = g_object_ref(desk);
    g_signal_connect_object(desk, "book-changed", G_CALLBACK(on_book_changed_cb), self,
                            G_CONNECT_SWAPPED);
    g_signal_connect_object(desk, "busy-changed", G_CALLBACK(update), self, G_CONNECT_SWAPPED);
    update(self);
}

GtkWidget *
fw_calendar_view_new(void)
{
    return g_object_new(FW_TYPE_CALENDAR_VIEW, NULL);
}
