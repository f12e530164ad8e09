// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "stock": metal over the finished faces, what may be taken, and machining time.
#include "stock/stock.h"

#include <string.h>

#include "book/store.h"
#include "check.h"

#define MM 1e-3

static Tables *tables;

typedef struct {
    FigureList *part_figures, *figures;
    PatternResult *pattern;
    StockResult *stock;
} Run;

static Inputs *
resolve(const char *job, const char *const *reads)
{
    g_autofree char *text = g_strdup_printf(
        "{\"format\":\"castbook\",\"version\":1,\"shop\":{},\"jobs\":[{\"id\":\"a\"%s}]}", job);
    g_autoptr(GError) error = NULL;
    g_autoptr(Book) book = store_parse(text, -1, "test", NULL, tables, &error);
    g_assert_no_error(error);
    return inputs_resolve(book, "a", tables, NULL, reads);
}

// Part, pattern and stock of a mesh with this mismatch (m).
static Run
run_stages(const SolidMesh *mesh, const char *job, double mismatch)
{
    Run r = {figure_list_new(), figure_list_new(), NULL, NULL};
    g_autoptr(GError) error = NULL;
    figure_give(r.part_figures, "mesh", "Mesh", QUANTITY_TEXT, NAN, "made here", "user");
    g_autoptr(PartResult) part = part_measure(mesh, r.part_figures, NULL, &error);
    g_autoptr(Inputs) pull_inputs = resolve(job, pull_reads);
    g_autoptr(Inputs) inputs = resolve(job, pattern_reads);
    FigureList *pattern = figure_list_new();
    figure_list_see(pattern, r.part_figures);
    g_autoptr(PullResult) pull = pull_stage(pull_inputs, part, pattern, NULL, &error);
    g_assert_no_error(error);
    r.pattern = pattern_stage(inputs, part, pull, pattern, NULL, &error);
    g_assert_no_error(error);
    figure_give(pattern, "mould.mismatch", "Mismatch", QUANTITY_LENGTH, mismatch, NULL, "user");
    figure_list_see(r.figures, r.part_figures);
    figure_list_see(r.figures, pattern);
    g_autoptr(Inputs) own = resolve(job, stock_reads);
    r.stock = stock_stage(own, r.pattern, NULL, r.figures, NULL, &error);
    g_assert_no_error(error);
    figure_list_unref(pattern);
    return r;
}

static void
run_clear(Run *r)
{
    figure_list_unref(r->figures);
    figure_list_unref(r->part_figures);
    pattern_result_unref(r->pattern);
    stock_result_unref(r->stock);
}

static void
test_plate(void)
{
    g_autoptr(SolidMesh)
                  mesh = check_mesh_blind_plate(84 * MM, 71 * MM, 21 * MM, 14 * MM, 15 * MM, 96);
    Run r = run_stages(
        mesh, ",\"allowance\":\"3.2 mm\",\"pull\":\"0,0,1\",\"tolerance_grade\":\"11\"", 0.7 * MM);
    check_close(figure_list_value(r.figures, "stock.nearest"), 3.2 * MM, 1e-9, "the allowance");
    check_close(figure_list_value(r.figures, "stock.tolerance"), 4.4 * MM, 1e-12,
                "ISO 8062-3, 84 mm, grade 11");
    check_close(r.stock->taken, 2.2 * MM + 0.7 * MM + 0.2 * MM, 1e-12, "half, mismatch, bow");
    check_close(r.stock->min, 0.1 * MM, 1e-6, "what is left");
    g_assert_cmpfloat(r.stock->max, >=, 3.2 * MM * 0.99);
    double chips = r.pattern->volume - 84 * 71 * 21e-9 +
                   0.5 * 96 * sin(2 * G_PI / 96) * 196 * 15e-9;
    check_close(r.stock->chip_volume, chips, 1e-6, "casting less part");
    // 0.7 GJ/m3, 500 W of which 15 %, 8 min handling: field and metal tables.
    check_close(r.stock->machining_time, chips * 0.7e9 / (500 * 0.15) + 480, 1e-6, "by energy");
    check_figures(r.figures);
    run_clear(&r);
}

static void
test_short(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_cylinder(31 * MM, 25 * MM, 128);
    Run r = run_stages(mesh, ",\"allowance\":\"1 mm\",\"tolerance_grade\":\"11\"", 0.4 * MM);
    const Figure *f = figure_list_find(r.figures, "stock.min");
    g_assert_cmpint(f->state, ==, FIGURE_FAILS);
    // 62 mm, grade 11: 4 mm wide.
    check_close(f->value, (1 - 2 - 0.4 - 0.2) * MM, 1e-9, "by hand");
    g_assert_nonnull(strstr(f->note, "2.6 mm"));
    g_assert_null(strstr(f->note, "-"));
    run_clear(&r);
}

static void
test_filled(void)
{
    // Parted at the far side the blind hole is filled, and its floor lies deep in metal.
    g_autoptr(SolidMesh)
                  mesh = check_mesh_blind_plate(50 * MM, 50 * MM, 20 * MM, 8 * MM, 12 * MM, 96);
    Run r = run_stages(mesh, ",\"allowance\":\"0.5 mm\",\"pull\":\"1,0,0\"", 0.4 * MM);
    check_close(r.stock->max, 12.5 * MM, 0.12, "hole depth and allowance");
    run_clear(&r);
}

static void
test_unknown(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(30 * MM, 40 * MM, 50 * MM);
    Run r = run_stages(mesh, ",\"tolerance_grade\":\"16\"", 0.4 * MM);
    g_assert_cmpstr(figure_list_find(r.figures, "stock.tolerance")->missing, ==,
                    "job.tolerance_grade");
    g_assert_cmpint(figure_list_find(r.figures, "stock.min")->state, ==, FIGURE_UNKNOWN);
    g_assert_false(isnan(figure_list_value(r.figures, "stock.machining_time")));
    run_clear(&r);
    g_autoptr(FigureList) figures = figure_list_new();
    g_autoptr(Inputs) inputs = resolve("", stock_reads);
    g_assert_null(stock_stage(inputs, NULL, NULL, figures, NULL, NULL));
    g_assert_cmpstr(figure_list_find(figures, "stock.min")->missing, ==, "casting.volume");
}

static void
test_stopped(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(30 * MM, 40 * MM, 50 * MM);
    g_autoptr(SolidGrid) grid = solid_grid_distance(mesh, 3 * MM, 5 * MM, 5 * MM, NULL, NULL);
    g_autoptr(Progress) progress = progress_new();
    g_autoptr(GError) error = NULL;
    double least, most;
    Vec3 where;
    g_assert_true(stock_look(mesh, mesh, grid, &least, &most, &where, progress, &error));
    check_close(least, 0, 1e-9, "the same surface");
    progress_stop(progress);
    g_assert_false(stock_look(mesh, mesh, grid, &least, &most, &where, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    tables = tables_load(NULL);
    g_test_add_func("/stock/stock/plate", test_plate);
    g_test_add_func("/stock/stock/short", test_short);
    g_test_add_func("/stock/stock/filled", test_filled);
    g_test_add_func("/stock/stock/unknown", test_unknown);
    g_test_add_func("/stock/stock/stopped", test_stopped);
    int result = g_test_run();
    tables_free(tables);
    return result;
}
