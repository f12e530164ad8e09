// SPDX-License-Identifier: GPL-3.0-or-later
// The stage that settles the pull: as given, or the search's best. Expected directions are those of
// the faces of boxes made here.
#include <math.h>

#include "book/store.h"
#include "check.h"
#include "part/direction.h"
#include "part/pull-stage.h"

static Tables *tables;

typedef struct {
    FigureList *figures;
    PullResult *pull;
    GError *error;
} Run;

static Run
run_stage(const SolidMesh *mesh, const char *job)
{
    Run r = {.figures = figure_list_new()};
    g_autofree char *text = g_strdup_printf(
        "{\"format\":\"castbook\",\"version\":1,\"shop\":{},\"jobs\":[{\"id\":\"a\"%s}]}", job);
    g_autoptr(Book) book = store_parse(text, -1, "test", NULL, tables, &r.error);
    g_assert_no_error(r.error);
    figure_give(r.figures, "mesh", "Mesh", QUANTITY_TEXT, NAN, "made here", "user");
    g_autoptr(PartResult) part = part_measure(mesh, r.figures, NULL, &r.error);
    g_assert_no_error(r.error);
    g_autoptr(Inputs) inputs = inputs_resolve(book, "a", tables, NULL, pull_reads);
    r.pull = pull_stage(inputs, part, r.figures, NULL, &r.error);
    return r;
}

static void
run_clear(Run *r)
{
    pull_result_unref(r->pull);
    figure_list_unref(r->figures);
    g_clear_error(&r->error);
}

static void
test_given(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(0.021, 0.034, 0.013);
    Run r = run_stage(mesh, ",\"pull\":\"0,-3,4\"");
    g_assert_no_error(r.error);
    g_assert_false(r.pull->searched);
    g_assert_cmpuint(r.pull->found.n, ==, 0);
    check_close(r.pull->pull.y, -0.6, 1e-12, "3, 4, 5");
    check_close(figure_list_find(r.figures, "pattern.pull.z")->value, 0.8, 1e-12, "3, 4, 5");
    run_clear(&r);
}

// A box that lies askew draws square to its largest faces, which is none of the file's axes.
static void
test_askew(void)
{
    g_autoptr(SolidMesh) box = check_mesh_box(0.041, 0.034, 0.009);
    double c = cos(0.6), s = sin(0.6), turn[9] = {1, 0, 0, 0, c, -s, 0, s, c};
    g_autoptr(SolidMesh) askew = solid_mesh_transformed(box, turn, vec3(0.02, 0, 0));
    Run r = run_stage(askew, "");
    g_assert_no_error(r.error);
    g_assert_true(r.pull->searched);
    g_assert_cmpuint(r.pull->found.n, >, 1);
    g_assert_cmpfloat(direction_angle(r.pull->pull, vec3(0, -s, c)), <, 1e-3);
    const Figure *figure = figure_list_find(r.figures, "pattern.pull.y");
    g_assert_nonnull(strstr(figure->note, "directions"));
    run_clear(&r);
}

// What comes after is made anew when the pull differs, not when another way led to it.
static void
test_digest(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(0.041, 0.034, 0.009);
    Run searched = run_stage(mesh, ",\"allowance\":\"1.5\""), same = run_stage(mesh, "");
    double z = searched.pull->pull.z;
    check_close(fabs(z), 1, 0, "across the largest face, exactly");
    Run given = run_stage(mesh, z > 0 ? ",\"pull\":\"0,0,2\"" : ",\"pull\":\"0,0,-2\"");
    Run other = run_stage(mesh, ",\"pull\":\"1,0,0\"");
    g_assert_cmpstr(searched.pull->digest, ==, given.pull->digest);
    g_assert_cmpstr(searched.pull->digest, ==, same.pull->digest);
    g_assert_cmpstr(given.pull->digest, !=, other.pull->digest);
    run_clear(&searched);
    run_clear(&same);
    run_clear(&given);
    run_clear(&other);
}

static void
test_refused(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(0.02, 0.03, 0.01);
    mesh->n_triangles--;
    Run r = run_stage(mesh, "");
    g_assert_no_error(r.error);
    g_assert_null(r.pull);
    g_assert_cmpstr(figure_list_find(r.figures, "pattern.pull.x")->missing, ==, "part.closed");
    run_clear(&r);
}

static void
test_stopped(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(0.02, 0.03, 0.01);
    g_autoptr(FigureList) figures = figure_list_new();
    figure_give(figures, "mesh", "Mesh", QUANTITY_TEXT, NAN, "made here", "user");
    g_autoptr(GError) error = NULL;
    g_autoptr(PartResult) part = part_measure(mesh, figures, NULL, &error);
    g_autoptr(Book) book = store_parse("{\"format\":\"castbook\",\"version\":1,\"shop\":{},"
                                       "\"jobs\":[{\"id\":\"a\"}]}",
                                       -1, "test", NULL, tables, &error);
    g_assert_no_error(error);
    g_autoptr(Inputs) inputs = inputs_resolve(book, "a", tables, NULL, pull_reads);
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    g_assert_null(pull_stage(inputs, part, figures, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    tables = tables_load(NULL);
    g_test_add_func("/part/pull-stage/given", test_given);
    g_test_add_func("/part/pull-stage/askew", test_askew);
    g_test_add_func("/part/pull-stage/digest", test_digest);
    g_test_add_func("/part/pull-stage/refused", test_refused);
    g_test_add_func("/part/pull-stage/stopped", test_stopped);
    int failed = g_test_run();
    tables_free(tables);
    return failed;
}
