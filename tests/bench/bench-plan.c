// SPDX-License-Identifier: GPL-3.0-or-later
// How long each stage of a plan takes: for the demo, and for a part of a million triangles. Prints
// times, asserts nothing. The second plan of the demo shows what the cache saves.
#include <stdio.h>
#include <stdlib.h>

#include "book/edit.h"
#include "book/store.h"
#include "bumpy.h"
#include "check.h"
#include "plan/plan.h"
#include "solid/write.h"

static void
print_plan(const char *title, const Plan *plan)
{
    double sum = 0;
    printf("%s\n", title);
    for (guint i = 0; i < plan_stage_count(plan); i++) {
        PlanStageInfo info = plan_stage_info(plan, i);
        printf("  %-10s %8.3f s%s\n", info.id, info.reused ? 0 : info.seconds,
               info.reused ? "  (kept)" : "");
        sum += info.reused ? 0 : info.seconds;
    }
    printf("  %-10s %8.3f s\n", "together", sum);
}

static Plan *
plan_or_stop(const Book *book, const char *job, const Tables *tables, Cache *cache)
{
    g_autoptr(GError) error = NULL;
    Plan *plan = plan_make(book, job, tables, cache, NULL, &error);
    if (plan)
        return plan;
    fprintf(stderr, "%s\n", error->message);
    exit(1);
}

static void
bench_demo(const Tables *tables)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_build_filename(g_getenv("FW_SOURCE_DIR"), "data", "demo",
                                             "loom-hardware.castbook", NULL);
    g_autoptr(Book) book = store_read(path, tables, &error);
    g_assert_no_error(error);
    g_autoptr(Cache) cache = cache_new(100);
    g_autoptr(Plan) first = plan_or_stop(book, "treadle-bracket", tables, cache);
    print_plan("Demo, treadle bracket", first);
    g_autoptr(Plan) again = plan_or_stop(book, "treadle-bracket", tables, cache);
    print_plan("Demo, nothing changed", again);
    g_autoptr(Edit) edit = edit_field(book, "treadle-bracket", field_find("sand.cover_wall"),
                                      "26 mm", tables, &error);
    g_autoptr(Book) other = edit_apply(book, edit, &error);
    g_autoptr(Plan) changed = plan_or_stop(other, "treadle-bracket", tables, cache);
    print_plan("Demo, more sand to the wall", changed);
}

static void
bench_million(const Tables *tables, guint triangles)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "bumpy.stl", NULL);
    g_autoptr(SolidMesh) mesh = bumpy_sphere(triangles, 0.04);
    solid_write_stl(mesh, path, TRUE, &error);
    g_assert_no_error(error);
    g_autoptr(Book) ready = book_new_ready();
    g_autoptr(Node) node = edit_job_node("bumpy", "Bumpy", path, NULL, "mm", "a356", "40");
    g_autoptr(Edit) edit = edit_insert("/jobs/-", node, "Add job");
    g_autoptr(Book) book = edit_apply(ready, edit, &error);
    g_assert_no_error(error);
    g_autoptr(Plan) plan = plan_or_stop(book, "bumpy", tables, NULL);
    g_autofree char *title = g_strdup_printf("A part of %u triangles", mesh->n_triangles);
    print_plan(title, plan);
    check_folder_remove(folder);
}

int
main(int argc, char **argv)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Tables) tables = tables_load(&error);
    g_assert_no_error(error);
    bench_demo(tables);
    bench_million(tables, argc > 1 ? (guint)atoi(argv[1]) : 1000000);
    return 0;
}
