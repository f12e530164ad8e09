// SPDX-License-Identifier: GPL-3.0-or-later
// The worker: plans come on the main context, the newest wins, and stopping or freeing at any
// moment leaves nothing behind.
#include "make.h"

#include "plan/worker.h"

typedef struct {
    Tables *tables;
    Cache *cache;
    Worker *worker;
    GMainLoop *loop;
    char *folder, *mesh;
    Book *book;
    GThread *thread; // of the test
    Plan *plan;      // posted last
    guint posts, lasts, errors, stale;
    int error_code;
} Fixture;

static void
on_posted_cb(const Plan *plan, gboolean last, const GError *error, gpointer data)
{
    Fixture *f = data;
    g_assert_true(g_thread_self() == f->thread);
    f->posts++;
    f->lasts += last;
    if (plan) {
        g_assert_no_error(error);
        plan_unref(f->plan);
        f->plan = plan_ref(plan);
        for (guint i = 0; !last && i < plan_stage_count(plan); i++)
            f->stale += plan_stage_info(plan, i).stale;
    } else {
        g_assert_nonnull(error);
        g_assert_true(last);
        f->errors++;
        f->error_code = error->code;
    }
    if (last)
        g_main_loop_quit(f->loop);
}

static void
set_up(Fixture *f, gconstpointer data)
{
    f->tables = tables_load(NULL);
    f->cache = cache_new(100);
    f->loop = g_main_loop_new(NULL, FALSE);
    f->thread = g_thread_self();
    f->folder = check_folder();
    f->mesh = make_mesh_file(f->folder, "plate.stl", make_plate());
    f->book = make_book(f->mesh, f->tables);
    f->worker = worker_new(f->tables, f->cache, on_posted_cb, f);
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    worker_free(f->worker);
    plan_unref(f->plan);
    while (g_main_context_iteration(NULL, FALSE))
        ;
    check_folder_remove(f->folder);
    book_unref(f->book);
    g_main_loop_unref(f->loop);
    cache_unref(f->cache);
    tables_free(f->tables);
    g_free(f->folder);
    g_free(f->mesh);
}

// What is still on its way has come by now.
static void
drain(void)
{
    for (int i = 0; i < 50; i++) {
        g_usleep(1000);
        while (g_main_context_iteration(NULL, FALSE))
            ;
    }
}

static void
test_plans(Fixture *f, gconstpointer data)
{
    g_assert_cmpfloat(worker_fraction(f->worker), ==, 0);
    g_assert_cmpstr(worker_words(f->worker), ==, "");
    worker_submit(f->worker, f->book, "part", NULL, FALSE);
    g_main_loop_run(f->loop);
    g_assert_cmpuint(f->posts, ==, STAGE_COUNT); // one a stage
    g_assert_cmpuint(f->lasts, ==, 1);
    g_assert_cmpuint(f->errors, ==, 0);
    g_assert_cmpuint(f->stale, ==, STAGE_COUNT * (STAGE_COUNT - 1) / 2); // ever fewer
    g_autoptr(Plan) direct = make_plan(f->book, "part", f->tables, NULL);
    g_autofree char *a = make_dump(f->plan);
    g_autofree char *b = make_dump(direct);
    check_same_dump(a, b, "worker and plan_make()");
}

static void
test_reuses(Fixture *f, gconstpointer data)
{
    worker_submit(f->worker, f->book, "part", NULL, FALSE);
    g_main_loop_run(f->loop);
    f->posts = 0;
    worker_submit(f->worker, f->book, "part", f->plan, FALSE);
    g_main_loop_run(f->loop);
    g_assert_cmpuint(f->posts, ==, 1); // all of it was known
}

static void
test_newest_wins(Fixture *f, gconstpointer data)
{
    g_autoptr(Book) newest = NULL;
    for (int i = 1; i <= 9; i++) {
        g_autofree char *text = g_strdup_printf("%d.13 mm", i);
        g_clear_pointer(&newest, book_unref);
        newest = make_changed(f->book, "job.allowance", text, f->tables);
        worker_submit(f->worker, newest, "part", NULL, FALSE);
        g_usleep(3000);
    }
    g_main_loop_run(f->loop);
    drain();
    g_assert_cmpuint(f->lasts, ==, 1);
    g_assert_cmpuint(f->errors, ==, 0); // of being stopped for a newer one nothing is told
    g_assert_true(plan_book(f->plan) == newest);
}

static void
test_no_such_job(Fixture *f, gconstpointer data)
{
    worker_submit(f->worker, f->book, "other", NULL, FALSE);
    g_main_loop_run(f->loop);
    g_assert_cmpuint(f->errors, ==, 1);
    g_assert_cmpint(f->error_code, ==, BASE_ERROR_NOT_FOUND);
}

// Stopped at many different moments, the run always ends once: whole or told as stopped.
static void
test_stop(Fixture *f, gconstpointer data)
{
    guint stopped = 0;
    for (int i = 0; i < 12; i++) {
        g_autofree char *text = g_strdup_printf("%d.37 mm", i + 1);
        g_autoptr(Book) book = make_changed(f->book, "job.allowance", text, f->tables);
        f->lasts = f->errors = 0;
        worker_submit(f->worker, book, "part", NULL, FALSE);
        g_usleep(i * i * 150);
        worker_stop(f->worker);
        g_main_loop_run(f->loop);
        drain();
        g_assert_cmpuint(f->lasts, ==, 1);
        if (f->errors)
            g_assert_cmpint(f->error_code, ==, BASE_ERROR_CANCELLED);
        stopped += f->errors;
    }
    g_assert_cmpuint(stopped, >, 0);
}

static void
test_stop_idle(Fixture *f, gconstpointer data)
{
    worker_stop(f->worker);
    worker_stop(f->worker);
    drain();
    g_assert_cmpuint(f->posts, ==, 0);
}

static void
test_drop(Fixture *f, gconstpointer data)
{
    worker_submit(f->worker, f->book, "part", NULL, FALSE);
    g_usleep(20000);
    worker_drop(f->worker);
    drain();
    g_assert_cmpuint(f->posts, ==, 0);
    worker_submit(f->worker, f->book, "part", NULL, FALSE);
    g_main_loop_run(f->loop);
    g_assert_cmpuint(f->lasts, ==, 1);
    g_assert_cmpuint(f->errors, ==, 0);
}

// Freed while idle, just after an order, and in the middle of it.
static void
test_free_while_running(Fixture *f, gconstpointer data)
{
    for (int i = 0; i < 8; i++) {
        worker_submit(f->worker, f->book, "part", NULL, FALSE);
        g_usleep(i * i * 400);
        worker_free(f->worker);
        guint posts = f->posts;
        drain();
        g_assert_cmpuint(f->posts, ==, posts);
        g_clear_pointer(&f->cache, cache_unref);
        f->cache = cache_new(100);
        f->worker = worker_new(f->tables, f->cache, on_posted_cb, f);
    }
}

// In a gesture slow stages, and what stands on them, keep what they had.
static void
test_quick(Fixture *f, gconstpointer data)
{
    worker_submit(f->worker, f->book, "part", NULL, FALSE);
    g_main_loop_run(f->loop);
    double before = plan_figure(f->plan, "feed.simulated_time")->value;
    g_autoptr(Book) book = make_changed(f->book, "job.allowance", "3.07 mm", f->tables);
    worker_submit(f->worker, book, "part", f->plan, TRUE);
    g_main_loop_run(f->loop);
    g_assert_true(plan_book(f->plan) == book);
    g_assert_false(plan_stage_info(f->plan, STAGE_MOULD).stale);
    g_assert_true(plan_stage_info(f->plan, STAGE_FREEZE).stale);
    g_assert_true(plan_stage_info(f->plan, STAGE_SESSION).stale);
    g_assert_false(plan_stage_info(f->plan, STAGE_MELT).stale);
    g_assert_cmpfloat(plan_figure(f->plan, "feed.simulated_time")->value, ==, before);

    worker_submit(f->worker, book, "part", f->plan, FALSE);
    g_main_loop_run(f->loop);
    g_autoptr(Plan) direct = make_plan(book, "part", f->tables, NULL);
    g_autofree char *a = make_dump(f->plan);
    g_autofree char *b = make_dump(direct);
    check_same_dump(a, b, "after the gesture");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/plan/worker/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("plans", test_plans);
    ADD("reuses", test_reuses);
    ADD("newest-wins", test_newest_wins);
    ADD("no-such-job", test_no_such_job);
    ADD("stop", test_stop);
    ADD("stop-idle", test_stop_idle);
    ADD("drop", test_drop);
    ADD("free-while-running", test_free_while_running);
    ADD("quick", test_quick);
    return g_test_run();
}
