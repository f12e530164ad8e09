// SPDX-License-Identifier: GPL-3.0-or-later
// Missing is neither zero nor an error: what cannot be known is unknown, says what is missing, and
// everything else is still planned.
#include "make.h"

#include <glib/gstdio.h>
#include <string.h>

#include "book/edit.h"
#include "report/text.h"

static void
check_unknown(const Plan *plan, const char *id, const char *missing)
{
    const Figure *figure = plan_figure(plan, id);
    g_test_message("%s", id);
    g_assert_nonnull(figure);
    g_assert_cmpint(figure->state, ==, FIGURE_UNKNOWN);
    g_assert_true(isnan(figure->value));
    g_assert_cmpstr(figure->missing, ==, missing);
}

static void
check_known(const Plan *plan, const char *id, double expected)
{
    const Figure *figure = plan_figure(plan, id);
    g_assert_nonnull(figure);
    g_assert_cmpint(figure->state, !=, FIGURE_UNKNOWN);
    if (!isnan(expected))
        check_close(figure->value, expected, 1e-6, "closed form");
}

// Every figure owed is there; text and formulas stand unknown inputs.
static void
check_sane(const Plan *plan)
{
    for (guint i = 0; i < stage_figure_count(); i++)
        g_assert_nonnull(plan_figure(plan, stage_figure_at(i)->spec.id));
    PlanCount count = {0, 0};
    check_plan_figures(plan, &count);
    g_autofree char *text = report_text(plan);
    g_assert_null(strstr(text, "nan"));
    g_assert_null(strstr(text, "inf "));
    g_assert_null(strstr(text, "(null)"));
}

static void
test_no_file(Bare *f, gconstpointer data)
{
    g_autofree char *path = g_build_filename(f->folder, "gone.stl", NULL);
    g_autoptr(Book) book = make_book(path, f->tables);
    g_autoptr(Plan) plan = make_plan(book, "part", f->tables, NULL);
    g_assert_null(plan_part(plan));
    const char *error = plan_stage_info(plan, STAGE_PART).error;
    g_assert_nonnull(error);
    g_assert_nonnull(strstr(error, "gone.stl"));
    check_unknown(plan, "part.volume", "job.mesh");
    check_unknown(plan, "part.closed", "job.mesh");
    check_unknown(plan, "mould.cavities", "job.mesh");
    check_unknown(plan, "feed.simulated_time", "job.mesh");
    check_unknown(plan, "stock.min", "job.mesh");
    check_sane(plan);
    for (int i = STAGE_PATTERN; i < STAGE_COUNT; i++)
        g_assert_cmpstr(plan_stage_info(plan, i).error, ==, NULL); // said once, where it belongs
}

static void
test_no_mesh_named(Bare *f, gconstpointer data)
{
    g_autoptr(Book) book = make_book(NULL, f->tables);
    g_autoptr(Plan) plan = make_plan(book, "part", f->tables, NULL);
    check_unknown(plan, "part.volume", "job.mesh");
    check_unknown(plan, "casting.mass", "job.mesh");
    check_sane(plan);
}

// A file that appears is found, whatever the cache remembers of its absence.
static void
test_file_comes(Bare *f, gconstpointer data)
{
    g_autoptr(Cache) cache = cache_new(100);
    g_autofree char *path = g_build_filename(f->folder, "late.stl", NULL);
    g_autoptr(Book) book = make_book(path, f->tables);
    g_autoptr(Plan) before = make_plan(book, "part", f->tables, cache);
    check_unknown(before, "part.volume", "job.mesh");
    g_autofree char *made = make_mesh_file(f->folder, "late.stl",
                                           check_mesh_box(0.0371, 0.0233, 0.0119));
    g_autoptr(Plan) after = make_plan(book, "part", f->tables, cache);
    check_known(after, "part.volume", 0.0371 * 0.0233 * 0.0119);
    check_known(after, "mould.cavities", NAN);
    g_unlink(made);
    g_autoptr(Plan) gone = make_plan(book, "part", f->tables, cache);
    check_unknown(gone, "part.volume", "job.mesh");
}

static void
test_open_mesh(Bare *f, gconstpointer data)
{
    g_autofree char *path = make_mesh_file(f->folder, "open.stl", make_open_box());
    g_autoptr(Book) book = make_book(path, f->tables);
    g_autoptr(Plan) plan = make_plan(book, "part", f->tables, NULL);
    g_assert_cmpstr(plan_stage_info(plan, STAGE_PART).error, ==, NULL);
    g_assert_nonnull(plan_part(plan));
    g_assert_null(plan_pattern(plan));
    g_assert_cmpint(plan_figure(plan, "part.closed")->state, ==, FIGURE_FAILS);
    check_known(plan, "part.size.x", 0.0617);
    check_known(plan, "part.size.y", 0.0431);
    check_known(plan, "part.area", NAN);
    // A box's six sides without one triangle; which one is left out is not said.
    double whole = 2 * (0.0617 * 0.0431 + 0.0617 * 0.0123 + 0.0431 * 0.0123);
    double area = plan_figure(plan, "part.area")->value;
    g_assert_cmpfloat(area, <, whole - 0.49 * 0.0431 * 0.0123);
    g_assert_cmpfloat(area, >, whole - 0.51 * 0.0617 * 0.0431);
    check_unknown(plan, "part.volume", "part.closed");
    check_unknown(plan, "casting.volume", "part.closed");
    check_unknown(plan, "mould.cavities", "part.closed");
    check_unknown(plan, "stock.chip_volume", "part.closed");
    check_sane(plan);
}

// A metal whose cutting nobody has measured: time and cost are unknown, all else is planned.
static void
test_no_cutting_energy(Bare *f, gconstpointer data)
{
    const TableRow *row = tables_find(f->tables, TABLE_METALS, "za-12");
    g_assert_true(isnan(table_row_value(row, "cutting_energy")));
    g_autofree char *path = make_mesh_file(f->folder, "plate.stl", make_plate());
    g_autoptr(Book) plain = make_book(path, f->tables);
    g_autoptr(Book) large = make_changed(plain, "crucible.rating", "43 kg", f->tables);
    g_autoptr(Book) book = make_changed(large, "job.metal", "za-12", f->tables);
    g_autoptr(Plan) plan = make_plan(book, "part", f->tables, NULL);
    check_unknown(plan, "stock.machining_time", "metal.cutting_energy");
    check_unknown(plan, "cost.per_good_part", "metal.cutting_energy");
    check_unknown(plan, "cost.from_bar", "metal.cutting_energy");
    check_known(plan, "stock.chip_volume", NAN);
    check_known(plan, "mould.metal_mass", NAN);
    check_known(plan, "cost.metal", NAN);
    check_sane(plan);
}

// A part larger than the flask: no cavity, a sentence that says what would do, and no crash after.
static void
test_too_large(Bare *f, gconstpointer data)
{
    g_autofree char *path = make_mesh_file(f->folder, "beam.stl",
                                           check_mesh_box(1.37, 0.21, 0.083));
    g_autoptr(Book) book = make_book(path, f->tables);
    g_autoptr(Plan) plan = make_plan(book, "part", f->tables, NULL);
    const Figure *cavities = plan_figure(plan, "mould.cavities");
    g_assert_cmpint(cavities->state, ==, FIGURE_FAILS);
    g_assert_cmpfloat(cavities->value, ==, 0);
    g_assert_nonnull(cavities->note);
    g_assert_nonnull(strstr(cavities->note, "flask"));
    g_assert_null(strchr(cavities->note, '\n'));
    check_known(plan, "part.volume", 1.37 * 0.21 * 0.083);
    check_sane(plan);
}

// Some 0.01 mm long: nothing sensible can be planned, and nothing falls over.
static void
test_tiny(Bare *f, gconstpointer data)
{
    g_autofree char *path = make_mesh_file(f->folder, "dust.stl",
                                           check_mesh_box(1.1e-5, 0.7e-5, 0.9e-5));
    g_autoptr(Book) book = make_book(path, f->tables);
    g_autoptr(Plan) plan = make_plan(book, "part", f->tables, NULL);
    check_known(plan, "part.volume", 1.1e-5 * 0.7e-5 * 0.9e-5);
    check_sane(plan);
}

// A flask the shop does not have, as a book edited by hand may name.
static void
test_no_such_entry(Bare *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = make_mesh_file(f->folder, "plate.stl", make_plate());
    g_autoptr(Book) plain = make_book(path, f->tables);
    g_autoptr(Node) gone = node_new_text("gone");
    g_autoptr(Edit) edit = edit_set("/jobs/0/flask", gone, "Change flask");
    g_autoptr(Book) book = edit_apply(plain, edit, &error);
    g_assert_no_error(error);
    g_autoptr(Plan) plan = make_plan(book, "part", f->tables, NULL);
    g_assert_cmpint(plan_figure(plan, "mould.cavities")->state, ==, FIGURE_UNKNOWN);
    g_assert_nonnull(strstr(plan_stage_info(plan, STAGE_MOULD).error, "gone"));
    g_assert_cmpstr(plan_stage_info(plan, STAGE_PATTERN).error, ==, NULL);
    check_known(plan, "casting.volume", NAN);
    check_sane(plan);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/plan/unknown/" name, Bare, NULL, bare_set_up, function, bare_tear_down)
    ADD("no-file", test_no_file);
    ADD("no-mesh-named", test_no_mesh_named);
    ADD("file-comes", test_file_comes);
    ADD("open-mesh", test_open_mesh);
    ADD("no-cutting-energy", test_no_cutting_energy);
    ADD("too-large", test_too_large);
    ADD("tiny", test_tiny);
    ADD("no-such-entry", test_no_such_entry);
    return g_test_run();
}
