// SPDX-License-Identifier: GPL-3.0-or-later
// One job at a time. A mass is remembered for the very nodes it was worked out from, so judging
// castings, which changes only the log, costs nothing.
#include "window/planned-mass.h"

#include <math.h>

struct _FwPlannedMass {
    GObject parent;
    Desk *desk;
    GHashTable *masses; // job id -> double *
    Node *jobs, *shop;  // of the book they are of
    Progress *running;  // NULL: nothing is being worked out
};

G_DEFINE_FINAL_TYPE(FwPlannedMass, fw_planned_mass, G_TYPE_OBJECT)

static guint changed_signal;

typedef struct {
    Book *book;
    char *job;
    const Tables *tables;
    Progress *progress;
    GApplication *app; // keeps the tables
    double mass;
} Work;

static void
free_work(gpointer data)
{
    Work *work = data;
    book_unref(work->book);
    progress_unref(work->progress);
    g_clear_object(&work->app);
    g_free(work->job);
    g_free(work);
}

static void
work_in_thread(GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
    Work *work = data;
    g_autoptr(Plan)
                  plan = plan_make_mould(work->book, work->job, work->tables, work->progress, NULL);
    const Figure *figure = plan ? plan_figure(plan, "casting.mass") : NULL;
    work->mass = figure ? figure->value : NAN;
    g_task_return_boolean(task, TRUE);
}

static void
keep(FwPlannedMass *self, const char *job, double mass)
{
    double *kept = g_new(double, 1);
    *kept = mass;
    g_hash_table_insert(self->masses, g_strdup(job), kept);
}

static void
on_worked_cb(GObject *source, GAsyncResult *result, gpointer data)
{
    FwPlannedMass *self = FW_PLANNED_MASS(source);
    const Work *work = g_task_get_task_data(G_TASK(result));
    if (self->running != work->progress)
        return; // of a book that has changed since, or nobody waits any more
    g_clear_pointer(&self->running, progress_unref);
    keep(self, work->job, work->mass);
    g_signal_emit(self, changed_signal, 0);
}

static void
forget(FwPlannedMass *self)
{
    if (self->running)
        progress_stop(self->running);
    g_clear_pointer(&self->running, progress_unref);
    g_hash_table_remove_all(self->masses);
    g_clear_pointer(&self->jobs, node_unref);
    g_clear_pointer(&self->shop, node_unref);
}

static void
follow_book(FwPlannedMass *self, const Book *book)
{
    const Node *jobs = node_get(book_root(book), "/jobs"),
               *shop = node_get(book_root(book), "/shop");
    if (jobs == self->jobs && shop == self->shop)
        return;
    forget(self);
    self->jobs = jobs ? node_ref(jobs) : NULL;
    self->shop = shop ? node_ref(shop) : NULL;
}

static void
start_work(FwPlannedMass *self, const Book *book, const char *job_id)
{
    Work *work = g_new0(Work, 1);
    work->book = book_ref(book);
    work->job = g_strdup(job_id);
    work->tables = desk_tables(self->desk);
    work->progress = progress_new();
    g_set_object(&work->app, g_application_get_default());
    self->running = progress_ref(work->progress);
    g_autoptr(GTask) task = g_task_new(self, NULL, on_worked_cb, NULL);
    g_task_set_task_data(task, work, free_work);
    g_task_run_in_thread(task, work_in_thread);
}

double
fw_planned_mass_find(FwPlannedMass *self, const char *job_id)
{
    const Book *book = desk_book(self->desk);
    const Plan *plan = desk_plan(self->desk);
    if (!book || !job_id || !book_has_job(book, job_id))
        return NAN;
    const Figure *figure = plan && g_strcmp0(plan_job(plan), job_id) == 0
                               ? plan_figure(plan, "casting.mass")
                               : NULL;
    if (figure && isfinite(figure->value))
        return figure->value;
    follow_book(self, book);
    const double *kept = g_hash_table_lookup(self->masses, job_id);
    if (!kept && !self->running && !figure)
        start_work(self, book, job_id);
    return kept ? *kept : NAN;
}

static void
fw_planned_mass_dispose(GObject *object)
{
    FwPlannedMass *self = FW_PLANNED_MASS(object);
    if (self->masses)
        forget(self);
    g_clear_pointer(&self->masses, g_hash_table_unref);
    g_clear_object(&self->desk);
    G_OBJECT_CLASS(fw_planned_mass_parent_class)->dispose(object);
}

static void
fw_planned_mass_class_init(FwPlannedMassClass *klass)
{
    G_OBJECT_CLASS(klass)->dispose = fw_planned_mass_dispose;
    changed_signal = g_signal_new("changed", G_TYPE_FROM_CLASS(klass), G_SIGNAL_RUN_LAST, 0, NULL,
                                  NULL, NULL, G_TYPE_NONE, 0);
}

static void
fw_planned_mass_init(FwPlannedMass *self)
{
    self->masses = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, g_free);
}

FwPlannedMass *
fw_planned_mass_new(Desk *desk)
{
    FwPlannedMass *self = g_object_new(FW_TYPE_PLANNED_MASS, NULL);
    self->desk = g_object_ref(desk);
    return self;
}
