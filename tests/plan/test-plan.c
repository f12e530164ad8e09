// SPDX-License-Identifier: GPL-3.0-or-later
// A whole plan: every figure it owes is there with label, kind and source; every formula shown is
// the one that was computed; the demo's plans are complete.
#include "make.h"

#include "book/store.h"

// Blank by default, so unknown in a plan of defaults.
static gboolean
may_be_unknown(const char *id)
{
    return g_str_equal(id, "cost.bought_in");
}

static void
check_owed(const Plan *plan)
{
    for (guint i = 0; i < stage_figure_count(); i++) {
        const StageFigure *owed = stage_figure_at(i);
        const Figure *figure = plan_figure(plan, owed->spec.id);
        g_test_message("%s", owed->spec.id);
        g_assert_nonnull(figure);
        g_assert_false(figure->given);
        g_assert_cmpstr(figure->spec->label, !=, NULL);
        g_assert_cmpstr(figure->spec->label, !=, "");
        g_assert_cmpint(figure->spec->kind, ==, owed->spec.kind);
        g_assert_cmpstr(figure_source(figure), !=, NULL);
        g_assert_nonnull(
            figure_list_find(plan_stage_figures(plan, stage_at(owed->stage)->name), owed->spec.id));
        if (figure->state == FIGURE_UNKNOWN && !may_be_unknown(owed->spec.id))
            g_error("%s is unknown: %s %s", owed->spec.id, figure->missing, figure->note);
    }
}

static void
check_whole(const Plan *plan)
{
    for (guint i = 0; i < plan_stage_count(plan); i++) {
        PlanStageInfo info = plan_stage_info(plan, i);
        g_assert_cmpstr(info.error, ==, NULL);
        g_assert_false(info.stale);
        g_assert_cmpfloat(info.seconds, >=, 0);
        g_assert_cmpstr(info.id, ==, stage_at(i)->name);
    }
    g_assert_nonnull(plan_part(plan));
    g_assert_nonnull(plan_pattern(plan));
    g_assert_nonnull(plan_feed(plan));
    g_assert_nonnull(plan_mould(plan));
    g_assert_nonnull(plan_board(plan));
    g_assert_nonnull(plan_freeze(plan));
    g_assert_nonnull(plan_melt(plan));
    g_assert_nonnull(plan_stock(plan));
    g_assert_nonnull(plan_session(plan));
    g_assert_nonnull(plan_metal(plan));
    g_assert_cmpuint(g_strv_length((char **)plan_cautions(plan)), >=, 6);
    check_owed(plan);
}

// The list of design figures, each once and of a stage that comes in order.
static void
test_owed_table(void)
{
    g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);
    for (guint i = 0; i < stage_figure_count(); i++) {
        const StageFigure *owed = stage_figure_at(i);
        g_assert_true(g_hash_table_add(seen, (gpointer)owed->spec.id));
        g_assert_cmpint(owed->stage, <, STAGE_COUNT);
    }
    for (int i = 0; i < STAGE_COUNT; i++) {
        const Stage *stage = stage_at(i);
        g_assert_cmpint(stage->id, ==, i);
        g_assert_cmpuint(stage->after >> i, ==, 0); // reads earlier stages only
        g_assert_cmpuint(stage->needs & ~stage->after, ==, 0);
    }
}

static void
test_plate(void)
{
    g_autoptr(Tables) tables = tables_load(NULL);
    g_autofree char *folder = check_folder();
    g_autofree char *mesh = make_mesh_file(folder, "plate.stl", make_plate());
    g_autoptr(Book) book = make_book(mesh, tables);
    g_autoptr(Plan) plan = make_plan(book, "part", tables, NULL);
    check_whole(plan);
    PlanCount count = {0, 0};
    check_plan_figures(plan, &count);
    g_assert_cmpuint(count.figures, >=, stage_figure_count());
    g_assert_cmpuint(count.formulas, >=, 40);
    g_assert_true(plan_book(plan) == book);
    g_assert_cmpstr(plan_job(plan), ==, "part");

    // A 24-gon's area against the plate's: closed form. Coordinates went through single precision.
    double sides = 24, hole = 0.5 * sides * sin(2 * G_PI / sides) * 0.0092 * 0.0092 * 0.0057;
    check_close(plan_figure(plan, "part.volume")->value, 0.0617 * 0.0431 * 0.0123 - hole, 1e-6,
                "closed form");
    check_close(plan_figure(plan, "part.size.x")->value, 0.0617, 1e-6, "as made");
    check_folder_remove(folder);
}

static void
test_made_twice(void)
{
    g_autoptr(Tables) tables = tables_load(NULL);
    g_autofree char *folder = check_folder();
    g_autofree char *mesh = make_mesh_file(folder, "plate.stl", make_plate());
    g_autoptr(Book) book = make_book(mesh, tables);
    g_autoptr(Plan) first = make_plan(book, "part", tables, NULL);
    g_autoptr(Plan) second = make_plan(book, "part", tables, NULL);
    g_autofree char *a = make_dump(first);
    g_autofree char *b = make_dump(second);
    check_same_dump(a, b, "the same book planned twice");
    check_folder_remove(folder);
}

static void
test_demo(void)
{
    g_autoptr(Tables) tables = tables_load(NULL);
    g_autoptr(GError) error = NULL;
    g_autofree char *folder = g_build_filename(g_getenv("FW_SOURCE_DIR"), "data", "demo", NULL);
    g_autoptr(GDir) dir = g_dir_open(folder, 0, &error);
    g_assert_no_error(error);
    guint jobs = 0;
    const char *name;
    while ((name = g_dir_read_name(dir))) {
        if (!g_str_has_suffix(name, ".castbook"))
            continue;
        g_autofree char *path = g_build_filename(folder, name, NULL);
        g_autoptr(Book) book = store_read(path, tables, &error);
        g_assert_no_error(error);
        for (guint i = 0; i < book_job_count(book); i++, jobs++) {
            g_test_message("%s, job %s", name, book_job_id(book, i));
            g_autoptr(Plan) plan = make_plan(book, book_job_id(book, i), tables, NULL);
            PlanCount count = {0, 0};
            check_whole(plan);
            check_plan_figures(plan, &count);
        }
    }
    g_assert_cmpuint(jobs, >=, 3);
}

static void
test_no_such_job(void)
{
    g_autoptr(Tables) tables = tables_load(NULL);
    g_autoptr(Book) book = make_book(NULL, tables);
    g_autoptr(GError) error = NULL;
    g_assert_null(plan_make(book, "other", tables, NULL, NULL, &error));
    check_error(error, BASE_ERROR_NOT_FOUND, "no job called other");
    g_assert_null(plan_make(book, NULL, tables, NULL, NULL, &error));
    check_error(error, BASE_ERROR_NOT_FOUND, "no job called");
}

static void
test_stopped(void)
{
    g_autoptr(Tables) tables = tables_load(NULL);
    g_autoptr(Book) book = make_book(NULL, tables);
    g_autoptr(Cache) cache = cache_new(50);
    g_autoptr(Progress) progress = progress_new();
    g_autoptr(GError) error = NULL;
    progress_stop(progress);
    g_assert_null(plan_make(book, "part", tables, cache, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "stopped");
    g_assert_cmpuint(cache_size(cache), ==, 0);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/plan/plan/owed-table", test_owed_table);
    g_test_add_func("/plan/plan/plate", test_plate);
    g_test_add_func("/plan/plan/made-twice", test_made_twice);
    g_test_add_func("/plan/plan/demo", test_demo);
    g_test_add_func("/plan/plan/no-such-job", test_no_such_job);
    g_test_add_func("/plan/plan/stopped", test_stopped);
    return g_test_run();
}
