// SPDX-License-Identifier: GPL-3.0-or-later
// A plan as far as laying out days asks: what it has is that of the whole plan, and the heat flow
// is run neither with it nor for it.
#include "plan/walk.h"

#include <math.h>

#include "make.h"

typedef struct {
    Tables *tables;
    char *folder;
    Book *book;
} Fixture;

static void
set_up(Fixture *f, gconstpointer data)
{
    f->tables = tables_load(NULL);
    f->folder = check_folder();
    g_autofree char *path = make_mesh_file(f->folder, "part.stl", make_plate());
    f->book = make_book(path, f->tables);
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    check_folder_remove(f->folder);
    g_free(f->folder);
    book_unref(f->book);
    tables_free(f->tables);
}

static Plan *
make_for_days(const Fixture *f, Cache *cache, gboolean boards)
{
    g_autoptr(GError) error = NULL;
    Plan *plan = walk_for_days(f->book, "part", f->tables, cache, boards, NULL, &error);
    g_assert_no_error(error);
    return plan;
}

// Each figure of `part` that is known has the value it has in `whole`; how many there are.
static guint
check_same(const Plan *part, const Plan *whole)
{
    guint n = 0;
    for (guint i = 0; i < plan_figure_count(part); i++) {
        const Figure *figure = plan_figure_at(part, i);
        const Figure *other = plan_figure(whole, figure->spec->id);
        if (figure->state == FIGURE_UNKNOWN)
            continue;
        g_assert_nonnull(other);
        g_test_message("%s", figure->spec->id);
        g_assert_cmpstr(figure->text, ==, other->text);
        if (!figure->text)
            check_close(figure->value, other->value, 0, "the whole plan");
        g_assert_cmpint(figure->state, ==, other->state);
        n++;
    }
    return n;
}

static void
test_same(Fixture *f, gconstpointer data)
{
    g_autoptr(Plan) whole = make_plan(f->book, "part", f->tables, NULL);
    g_autoptr(Plan) lean = make_for_days(f, NULL, FALSE);
    g_autoptr(Plan) boards = make_for_days(f, NULL, TRUE);
    guint n = check_same(lean, whole);
    g_assert_cmpuint(check_same(boards, whole), >, n);
    g_assert_cmpuint(n, >, 100);
    static const char *const known[] = {"run.sessions", "feed.shakeout_time", "melt.loss",
                                        "run.session_length"};
    for (guint i = 0; i < G_N_ELEMENTS(known); i++)
        g_assert_cmpint(plan_figure(lean, known[i])->state, !=, FIGURE_UNKNOWN);
    g_assert_cmpint(plan_figure(whole, "feed.simulated_time")->state, !=, FIGURE_UNKNOWN);
    g_assert_cmpint(plan_figure(lean, "feed.simulated_time")->state, ==, FIGURE_UNKNOWN);
    g_assert_null(plan_figure(lean, "cost.metal"));
    g_assert_null(plan_board(lean));
    g_assert_nonnull(plan_board(boards));
    g_assert_null(plan_stock(lean));
}

// What a whole plan has left in the cache serves this one, and not the other way about.
static void
test_cache(Fixture *f, gconstpointer data)
{
    g_autoptr(Cache) cache = cache_new(100);
    g_autoptr(Plan) lean = make_for_days(f, cache, FALSE);
    g_assert_false(plan_stage_info(lean, STAGE_FREEZE).reused);
    g_autoptr(Plan) again = make_for_days(f, cache, FALSE);
    g_assert_true(plan_stage_info(again, STAGE_FREEZE).reused);
    g_assert_true(plan_stage_info(again, STAGE_SESSION).reused);
    g_autoptr(Plan) whole = make_plan(f->book, "part", f->tables, cache);
    g_assert_true(plan_stage_info(whole, STAGE_MOULD).reused);
    g_assert_false(plan_stage_info(whole, STAGE_FREEZE).reused);
    g_assert_cmpint(plan_figure(whole, "feed.simulated_time")->state, !=, FIGURE_UNKNOWN);
    g_autoptr(Plan) after = make_for_days(f, cache, TRUE);
    g_assert_nonnull(plan_freeze(after));
    g_assert_true(plan_stage_info(after, STAGE_SESSION).reused);
}

static void
test_refused(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_assert_null(walk_for_days(f->book, "none", f->tables, NULL, TRUE, NULL, &error));
    check_error(error, BASE_ERROR_NOT_FOUND, "none");
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    g_assert_null(walk_for_days(f->book, "part", f->tables, NULL, TRUE, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
#define ADD(path, function)                                                                        \
    g_test_add("/plan/walk/" path, Fixture, NULL, set_up, function, tear_down)
    ADD("same", test_same);
    ADD("cache", test_cache);
    ADD("refused", test_refused);
    return g_test_run();
}
