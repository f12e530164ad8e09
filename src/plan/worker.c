// SPDX-License-Identifier: GPL-3.0-or-later
// The worker thread and its one slot. Every run has a number; what an old run posts is dropped, so
// that finishing and stopping cannot race into the window.
#include "plan/worker.h"

#include "base/error.h"
#include "plan/walk.h"

// Shared with posts on their way; `post` is cleared when the worker goes.
typedef struct {
    WorkerPost post; // main thread only
    gpointer data;
    guint64 newest; // main thread only: number of the run that is wanted
} Link;

typedef struct {
    Book *book;
    char *job_id;
    Plan *before;
    gboolean quick;
    guint64 number;
} Order;

struct Worker {
    GThread *thread;
    GMainContext *context;
    const Tables *tables;
    Cache *cache;
    Link *link;
    GMutex lock;
    GCond wake;
    Order *slot;        // under the lock, as are all below
    Progress *progress; // of the run in hand
    gboolean quit;
};

typedef struct {
    Link *link;
    Plan *plan;
    gboolean last;
    GError *error;
    guint64 number;
} Letter;

static void
free_order(Order *order)
{
    if (!order)
        return;
    book_unref(order->book);
    g_free(order->job_id);
    plan_unref(order->before);
    g_free(order);
}

static void
free_letter(gpointer data)
{
    Letter *letter = data;
    g_atomic_rc_box_release(letter->link);
    plan_unref(letter->plan);
    g_clear_error(&letter->error);
    g_free(letter);
}

static gboolean
on_letter_arrived_cb(gpointer data)
{
    Letter *letter = data;
    if (letter->link->post && letter->number == letter->link->newest)
        letter->link->post(letter->plan, letter->last, letter->error, letter->link->data);
    return G_SOURCE_REMOVE;
}

static void
send_letter(Worker *worker, guint64 number, Plan *plan, gboolean last, GError *error)
{
    Letter *letter = g_new0(Letter, 1);
    letter->link = g_atomic_rc_box_acquire(worker->link);
    letter->plan = plan;
    letter->last = last;
    letter->error = error;
    letter->number = number;
    GSource *source = g_idle_source_new();
    g_source_set_priority(source, G_PRIORITY_DEFAULT_IDLE);
    g_source_set_callback(source, on_letter_arrived_cb, letter, free_letter);
    g_source_attach(source, worker->context);
    g_source_unref(source);
}

typedef struct {
    Worker *worker;
    guint64 number;
} Posting;

static void
on_stage_done_cb(Plan *plan, gboolean last, gpointer data)
{
    Posting *posting = data;
    send_letter(posting->worker, posting->number, plan, last, NULL);
}

static void
do_order(Worker *worker, Order *order, Progress *progress)
{
    g_autoptr(GError) error = NULL;
    Posting posting = {worker, order->number};
    g_autoptr(Plan) plan = walk_stages(order->book, order->job_id, worker->tables, worker->cache,
                                       STAGE_COUNT, order->before, order->quick, progress,
                                       on_stage_done_cb, &posting, &error);
    if (!plan)
        send_letter(worker, order->number, NULL, TRUE, g_steal_pointer(&error));
}

static gpointer
run_worker(gpointer data)
{
    Worker *worker = data;
    g_mutex_lock(&worker->lock);
    while (!worker->quit) {
        Order *order = g_steal_pointer(&worker->slot);
        if (!order) {
            g_cond_wait(&worker->wake, &worker->lock);
            continue;
        }
        Progress *progress = worker->progress = progress_new();
        g_mutex_unlock(&worker->lock);
        do_order(worker, order, progress);
        free_order(order);
        g_mutex_lock(&worker->lock);
        worker->progress = NULL;
        progress_unref(progress);
    }
    g_mutex_unlock(&worker->lock);
    return NULL;
}

Worker *
worker_new(const Tables *tables, Cache *cache, WorkerPost post, gpointer data)
{
    Worker *worker = g_new0(Worker, 1);
    worker->tables = tables;
    worker->cache = cache_ref(cache);
    worker->context = g_main_context_ref_thread_default();
    worker->link = g_atomic_rc_box_new0(Link);
    worker->link->post = post;
    worker->link->data = data;
    g_mutex_init(&worker->lock);
    g_cond_init(&worker->wake);
    worker->thread = g_thread_new("plan", run_worker, worker);
    return worker;
}

void
worker_free(Worker *worker)
{
    if (!worker)
        return;
    worker->link->post = NULL;
    g_mutex_lock(&worker->lock);
    worker->quit = TRUE;
    progress_stop(worker->progress);
    g_cond_signal(&worker->wake);
    g_mutex_unlock(&worker->lock);
    g_thread_join(worker->thread);
    free_order(worker->slot);
    cache_unref(worker->cache);
    g_main_context_unref(worker->context);
    g_atomic_rc_box_release(worker->link);
    g_mutex_clear(&worker->lock);
    g_cond_clear(&worker->wake);
    g_free(worker);
}

void
worker_submit(Worker *worker, const Book *book, const char *job_id, const Plan *before,
              gboolean quick)
{
    Order *order = g_new0(Order, 1);
    order->book = book_ref(book);
    order->job_id = g_strdup(job_id);
    order->before = before ? plan_ref(before) : NULL;
    order->quick = quick;
    order->number = ++worker->link->newest;
    g_mutex_lock(&worker->lock);
    Order *older = worker->slot;
    worker->slot = order;
    progress_stop(worker->progress);
    g_cond_signal(&worker->wake);
    g_mutex_unlock(&worker->lock);
    free_order(older);
}

// An order the thread has not taken yet never runs, so its end is told from here.
void
worker_stop(Worker *worker)
{
    g_mutex_lock(&worker->lock);
    Order *waiting = g_steal_pointer(&worker->slot);
    progress_stop(worker->progress);
    g_mutex_unlock(&worker->lock);
    if (!waiting)
        return;
    GError *error = NULL;
    base_error_set(&error, BASE_ERROR_CANCELLED, NULL, NULL, "stopped", NULL);
    send_letter(worker, waiting->number, NULL, TRUE, error);
    free_order(waiting);
}

void
worker_drop(Worker *worker)
{
    worker->link->newest++;
    worker_stop(worker);
}

double
worker_fraction(Worker *worker)
{
    g_mutex_lock(&worker->lock);
    double fraction = progress_get_fraction(worker->progress);
    g_mutex_unlock(&worker->lock);
    return fraction;
}

const char *
worker_words(Worker *worker)
{
    g_mutex_lock(&worker->lock);
    const char *words = progress_get_words(worker->progress);
    g_mutex_unlock(&worker->lock);
    return words;
}
