// SPDX-License-Identifier: GPL-3.0-or-later
// The stages "part" and "pattern" from a book: figures, choice of pull, mould axes, bad meshes.
#include "part/pattern.h"

#include <math.h>
#include <string.h>

#include "book/store.h"
#include "check.h"
#include "part/pull.h"
#include "rays.h"
#include "shapes.h"
#include "solid/write.h"

#define MM 1e-3

static Tables *tables;
static char *folder;
static const char *shop = ""; // members of the shop

// Writes the mesh beside the book and makes a book of one job with it.
static Book *
make_book(const SolidMesh *mesh, const char *job)
{
    g_autofree char *path = g_build_filename(folder, "part.stl", NULL);
    g_autoptr(GError) error = NULL;
    if (mesh)
        solid_write_stl(mesh, path, TRUE, &error);
    g_assert_no_error(error);
    g_autofree char *text = g_strdup_printf(
        "{\"format\":\"castbook\",\"version\":1,\"shop\":{%s},\"jobs\":[{\"id\":\"a\"%s%s}]}", shop,
        mesh ? ",\"mesh\":\"part.stl\"" : "", job);
    Book *book = store_parse(text, -1, "test", folder, tables, &error);
    g_assert_no_error(error);
    return book;
}

typedef struct {
    PartResult *part;
    PatternResult *pattern;
    FigureList *part_figures, *figures;
    GError *error;
} Run;

static Run
run_stages(const SolidMesh *mesh, const char *job)
{
    Run r = {.part_figures = figure_list_new(), .figures = figure_list_new()};
    g_autoptr(Book) book = make_book(mesh, job);
    g_autoptr(Inputs) part_inputs = inputs_resolve(book, "a", tables, NULL, part_reads);
    r.part = part_stage(part_inputs, r.part_figures, NULL, &r.error);
    figure_list_see(r.figures, r.part_figures);
    g_autoptr(Inputs) pull_inputs = inputs_resolve(book, "a", tables, NULL, pull_reads);
    g_autoptr(Inputs) inputs = inputs_resolve(book, "a", tables, NULL, pattern_reads);
    GError **error = r.error ? NULL : &r.error;
    g_autoptr(PullResult) pull = pull_stage(pull_inputs, r.part, r.figures, NULL, error);
    r.pattern = pattern_stage(inputs, r.part, pull, r.figures, NULL, error);
    return r;
}

static void
run_clear(Run *r)
{
    part_result_unref(r->part);
    pattern_result_unref(r->pattern);
    figure_list_unref(r->figures);
    figure_list_unref(r->part_figures);
    g_clear_error(&r->error);
}

static double
get_value(const Run *r, const char *id)
{
    return figure_list_value(r->figures, id);
}

static void
test_part(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(41.25 * MM, 30.5 * MM, 7.75 * MM);
    Run r = run_stages(mesh, ",\"allowance\":\"2.25 mm\"");
    g_assert_no_error(r.error);
    check_close(get_value(&r, "part.volume"), 41.25 * 30.5 * 7.75e-9, 1e-6, "box");
    check_close(get_value(&r, "part.size.y"), 30.5 * MM, 1e-6, "box");
    check_close(get_value(&r, "part.min_wall"), 7.75 * MM, 1e-5, "box");
    check_close(get_value(&r, "casting.min_wall"), 12.25 * MM, 1e-5, "wall and twice the stock");
    const Figure *closed = figure_list_find(r.figures, "part.closed");
    g_assert_cmpint(closed->state, !=, FIGURE_FAILS);
    check_figures(r.figures);
    // The flat way: least draft.
    check_close(fabs(get_value(&r, "pattern.pull.z")), 1, 1e-12, "across the plate");
    check_close(get_value(&r, "pattern.depth_of_draw"), (7.75 / 2 + 2.25) * MM, 0.01, "half");
    check_close(get_value(&r, "casting.volume"), r.pattern->volume, 0, "the same number");
    g_assert_cmpfloat(get_value(&r, "pattern.undercut_volume"), <, 1e-4 * r.pattern->volume);
    check_close(get_value(&r, "pattern.stub_volume"), 0, 1e-15, "no stub");
    check_close(get_value(&r, "casting.mass"), r.pattern->volume * 2680, 1e-6, "A356 in the table");
    run_clear(&r);
}

static void
test_axes(void)
{
    g_autoptr(SolidMesh)
                  mesh = check_mesh_blind_plate(52 * MM, 44 * MM, 17.5 * MM, 11 * MM, 13 * MM, 64);
    Run r = run_stages(mesh, ",\"draft\":\"3 deg\",\"pull\":\"0,0,1\"");
    g_assert_no_error(r.error);
    const PatternResult *p = r.pattern;
    check_close(p->min.x + p->max.x, 0, 1e-4, "in the middle");
    check_close(p->min.y + p->max.y, 0, 1e-4, "in the middle");
    check_close(p->max.z, p->height_cope, 1e-12, "parting at 0");
    check_close(p->min.z, -p->height_drag, 1e-12, "parting at 0");
    for (guint32 i = 0; i < p->part->n_vertices; i++)
        g_assert_cmpfloat(solid_grid_sample(p->casting, p->part->vertices[i]), <, 0);
    check_close(solid_grid_volume(p->casting, 0), p->volume, 0.004, "the same casting");
    check_close(solid_grid_volume(p->part_distance, 0), r.part->measure.volume, 0.01, "the part");
    g_assert_cmpfloat(p->projected_area, >, 52 * 44e-6);
    check_figures(r.figures);
    run_clear(&r);
}

// A mesh turned in space with its pull turned along gives the same casting.
static void
test_turned(void)
{
    g_autoptr(SolidMesh)
                  mesh = check_mesh_blind_plate(52 * MM, 44 * MM, 17.5 * MM, 11 * MM, 13 * MM, 64);
    g_autoptr(SolidMesh) turned = check_mesh_turned(mesh);
    // The turned z axis, from the images of two points of the mesh's box: third column.
    g_autoptr(SolidMesh) probe = check_mesh_box(1, 1, 1);
    g_autoptr(SolidMesh) moved = check_mesh_turned(probe);
    Vec3 z = vec3_sub(moved->vertices[4], moved->vertices[0]);
    g_autofree char *job = g_strdup_printf(",\"pull\":\"%.12g,%.12g,%.12g\"", z.x, z.y, z.z);
    Run a = run_stages(mesh, ",\"pull\":\"0,0,1\""), b = run_stages(turned, job);
    g_assert_no_error(b.error);
    const char *ids[] = {"casting.volume", "casting.area", "pattern.allowance_volume"};
    for (guint i = 0; i < G_N_ELEMENTS(ids); i++)
        check_close(get_value(&b, ids[i]), get_value(&a, ids[i]), 0.01, ids[i]);
    check_close(get_value(&b, "casting.volume"), get_value(&a, "casting.volume"), 0.002, "turned");
    run_clear(&a);
    run_clear(&b);
}

// A cone lies with its base in the drag, whichever way it stands in the file.
static void
test_choice(void)
{
    g_autoptr(SolidMesh) cone = check_mesh_frustum(22 * MM, 13 * MM, 25 * MM, 96);
    double tip[9] = {0, 0, -1, 0, 1, 0, 1, 0, 0}; // part z along -x
    g_autoptr(SolidMesh) lying = solid_mesh_transformed(cone, tip, vec3(0.1, 0, 0));
    Run r = run_stages(lying, "");
    g_assert_no_error(r.error);
    check_close(fabs(get_value(&r, "pattern.pull.x")), 1, 1e-12, "along the cone");
    run_clear(&r);
    // With a stub, the cone goes into the drag and the stub stands on its base: least depth of
    // draw.
    Run stub = run_stages(cone, ",\"stub_diameter\":\"10\",\"stub_height\":\"8\"");
    g_assert_no_error(stub.error);
    check_close(get_value(&stub, "pattern.pull.z"), -1, 1e-9, "the stub stands on the base");
    run_clear(&stub);
}

static const ShapeClevis ears = {.ear = 6.1 * MM,
                                 .gap = 12.3 * MM,
                                 .y = 17 * MM,
                                 .z = 21 * MM,
                                 .base = 7.3 * MM,
                                 .sunk = 0.5 * MM,
                                 .hole = 4 * MM};

// No vertex of the skin lies outside of the shadow, which is little larger than the cells' and has
// few points.
static void
test_shadow(void)
{
    g_autoptr(SolidMesh) box = check_mesh_box(41.25 * MM, 30.5 * MM, 7.75 * MM);
    g_autoptr(SolidMesh) odd = check_mesh_turned(box);
    g_autoptr(SolidMesh) clevis = shape_clevis(&ears, 32);
    g_autoptr(SolidMesh) ring = check_mesh_torus(21 * MM, 5 * MM, 64, 24);
    const struct {
        const SolidMesh *mesh;
        const char *job;
    } cases[] = {{box, ",\"pull\":\"0,0,1\""},
                 {box, ",\"pull\":\"0,0,1\",\"draft\":\"4 deg\",\"fillet\":\"2 mm\""},
                 {odd, ""},
                 {clevis, ",\"pull\":\"0,1,0\""},
                 {ring, ",\"pull\":\"0,0,1\",\"cells\":\"61\""}};
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        Run r = run_stages(cases[i].mesh, cases[i].job);
        g_assert_no_error(r.error);
        const PatternResult *p = r.pattern;
        double worst = 0;
        for (guint32 v = 0; v < p->mesh->n_vertices; v++)
            worst = fmax(worst,
                         rays_outside(p->shadow, p->mesh->vertices[v].x, p->mesh->vertices[v].y));
        g_assert_cmpfloat(worst, <, 1e-6);
        g_autoptr(SolidOutline) cells = solid_section_shadow(p->casting, 0);
        double area = solid_outline_area(p->shadow), by_cells = solid_outline_area(cells);
        g_assert_cmpfloat(area, >=, by_cells * (1 - 1e-6));
        // An eighth of a cell further out all round is more than corners and creases reach.
        g_autoptr(SolidOutline) wide = solid_section_shadow(p->casting, p->casting->cell / 8);
        g_assert_cmpfloat(area, <, solid_outline_area(wide));
        check_close(p->projected_area, area, 1e-12, "of this outline");
        g_assert_cmpuint(p->shadow->n_points, <, 2 * cells->n_points);
        g_test_message("%u points for %u of cells", p->shadow->n_points, cells->n_points);
        run_clear(&r);
    }
}

#define PEG_JOB ",\"pull\":\"0,0,1\",\"cells\":\"48\",\"allowance\":\"1.2 mm\""

// The value a slender peg's note names, in the shop's own words, makes the check hold.
static void
check_cure(const SolidMesh *mesh, double diameter, double step)
{
    Run r = run_stages(mesh, PEG_JOB);
    const Figure *peg = figure_list_find(r.figures, "pattern.peg_slenderness");
    check_figures(r.figures);
    g_assert_cmpint(peg->state, ==, FIGURE_FAILS);
    static const char words[] = "\"Close holes up to\" (job.close_holes) set to ";
    const char *at = strstr(peg->note, words);
    g_assert_nonnull(at);
    at += strlen(words);
    g_autofree char *value = g_strndup(at, strcspn(at, ","));
    UnitSet units = unit_set_default();
    double named = 0;
    g_assert_true(quantity_parse(QUANTITY_LENGTH, value, &units, &named, NULL));
    g_assert_cmpfloat(named, >=, diameter);
    g_assert_cmpfloat(named, <, diameter + 2 * step);
    check_close(named / step, round(named / step), 1e-9, "as a shop gives holes");
    g_autofree char *job = g_strdup_printf(PEG_JOB ",\"close_holes\":\"%s\"", value);
    Run cured = run_stages(mesh, job);
    g_assert_cmpint(figure_list_find(cured.figures, "pattern.peg_slenderness")->state, ==,
                    FIGURE_HOLDS);
    g_assert_cmpfloat(get_value(&cured, "pattern.closed_volume"), >, 0);
    run_clear(&cured);
    run_clear(&r);
}

static void
test_peg(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_blind_plate(42 * MM, 38 * MM, 23.3 * MM, 6.1 * MM,
                                                       17.9 * MM, 64);
    check_cure(mesh, 12.2 * MM, 1 * MM);
    shop = "\"lengths\":\"in\"";
    check_cure(mesh, 12.2 * MM, 0.05 * 0.0254);
    shop = "";
}

// 3 mm on every face of a plate 2.4 mm thick is a body of 8.4 mm less its own 2.4 mm: more stock
// than plate. Half a millimetre is not.
static void
test_stock(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(41 * MM, 29 * MM, 2.4 * MM);
    Run r = run_stages(mesh, ",\"pull\":\"0,0,1\",\"cells\":\"60\"");
    const Figure *f = figure_list_find(r.figures, "pattern.allowance_volume");
    check_close(f->limit, 41 * 29 * 2.4e-9, 1e-6, "the plate");
    g_assert_cmpfloat(f->value, >, 41 * 29 * 6e-9);
    g_assert_cmpint(f->state, ==, FIGURE_CLOSE);
    g_assert_nonnull(strstr(f->note, "3 mm"));
    g_assert_nonnull(strstr(f->note, "\"Machining allowance\" (job.allowance)"));
    run_clear(&r);
    Run thin = run_stages(mesh, ",\"pull\":\"0,0,1\",\"cells\":\"60\",\"allowance\":\"0.5 mm\"");
    f = figure_list_find(thin.figures, "pattern.allowance_volume");
    g_assert_cmpint(f->state, ==, FIGURE_HOLDS);
    g_assert_null(f->note);
    // Nothing of a plate stands in the way of the sand.
    f = figure_list_find(thin.figures, "pattern.undercut_area");
    g_assert_cmpint(f->state, ==, FIGURE_HOLDS);
    g_assert_null(f->note);
    run_clear(&thin);
}

// A hole across the pull is filled out, at least as much of its skin to be machined as looks away.
static void
test_hidden(void)
{
    g_autoptr(SolidMesh) mesh = shape_clevis(&ears, 32);
    Run r = run_stages(mesh, ",\"pull\":\"0,0,1\",\"cells\":\"48\",\"allowance\":\"0\"");
    const Figure *f = figure_list_find(r.figures, "pattern.undercut_area");
    g_assert_cmpfloat(f->value, >, 0);
    g_assert_cmpfloat(get_value(&r, "pattern.undercut_volume"), >, 0);
    g_assert_cmpint(f->state, ==, FIGURE_CLOSE);
    g_assert_nonnull(strstr(f->note, "to be machined"));
    check_figures(r.figures);
    run_clear(&r);
}

static void
test_rotation(void)
{
    Vec3 ways[5] = {{0, 0, 1}, {0, 0, -1}, {1, 0, 0}, {0, -1, 0}, {0.48, -0.6, 0.64}};
    for (int n = 0; n < 5; n++) {
        double r[9];
        pull_rotation(ways[n], r);
        Vec3 x = vec3(r[0], r[1], r[2]), y = vec3(r[3], r[4], r[5]), z = vec3(r[6], r[7], r[8]);
        check_close(vec3_dot(x, vec3_cross(y, z)), 1, 1e-12, "right-handed");
        check_close(vec3_dot(z, ways[n]), 1, 1e-12, "the pull becomes z");
        check_close(vec3_dot(x, y), 0, 1e-12, "square");
    }
}

static void
test_open(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(0.02, 0.03, 0.01);
    mesh->n_triangles--;
    Run r = run_stages(mesh, "");
    g_assert_no_error(r.error);
    g_assert_nonnull(r.part);
    g_assert_null(r.pattern);
    g_assert_cmpint(figure_list_find(r.figures, "part.closed")->state, ==, FIGURE_FAILS);
    g_assert_cmpstr(figure_list_find(r.figures, "part.volume")->missing, ==, "part.closed");
    g_assert_cmpstr(figure_list_find(r.figures, "casting.mass")->missing, ==, "part.closed");
    check_close(get_value(&r, "part.size.y"), 0.03, 1e-6, "still known");
    run_clear(&r);
}

static void
test_inside_out(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(0.02, 0.03, 0.01);
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        guint32 swap = mesh->triangles[t][0];
        mesh->triangles[t][0] = mesh->triangles[t][1];
        mesh->triangles[t][1] = swap;
    }
    Run r = run_stages(mesh, "");
    check_close(get_value(&r, "part.volume"), 6e-6, 1e-6, "box, turned over");
    g_assert_nonnull(strstr(figure_list_find(r.figures, "part.closed")->note, "turned over"));
    g_assert_nonnull(r.pattern);
    run_clear(&r);
}

static void
test_bad(void)
{
    Run r = run_stages(NULL, "");
    g_assert_null(r.part);
    check_error(r.error, BASE_ERROR_NOT_FOUND, "choose");
    g_assert_cmpstr(figure_list_find(r.figures, "part.volume")->missing, ==, "job.mesh");
    g_assert_cmpint(figure_list_find(r.figures, "casting.volume")->state, ==, FIGURE_UNKNOWN);
    run_clear(&r);
}

static void
test_stopped(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_box(0.02, 0.03, 0.01);
    g_autoptr(Book) book = make_book(mesh, "");
    g_autoptr(Progress) progress = progress_new();
    g_autoptr(Inputs) inputs = inputs_resolve(book, "a", tables, NULL, part_reads);
    g_autoptr(FigureList) figures = figure_list_new();
    g_autoptr(GError) error = NULL;
    g_autoptr(PartResult) part = part_stage(inputs, figures, NULL, &error);
    g_assert_no_error(error);
    g_autoptr(Inputs) asked = inputs_resolve(book, "a", tables, NULL, pull_reads);
    g_autoptr(PullResult) pull = pull_stage(asked, part, figures, NULL, &error);
    g_assert_no_error(error);
    g_autoptr(Inputs) more = inputs_resolve(book, "a", tables, NULL, pattern_reads);
    progress_stop(progress);
    g_assert_null(pattern_stage(more, part, pull, figures, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    tables = tables_load(NULL);
    folder = check_folder();
    g_test_add_func("/part/pattern/part", test_part);
    g_test_add_func("/part/pattern/axes", test_axes);
    g_test_add_func("/part/pattern/turned", test_turned);
    g_test_add_func("/part/pattern/choice", test_choice);
    g_test_add_func("/part/pattern/shadow", test_shadow);
    g_test_add_func("/part/pattern/peg", test_peg);
    g_test_add_func("/part/pattern/stock", test_stock);
    g_test_add_func("/part/pattern/hidden", test_hidden);
    g_test_add_func("/part/pattern/rotation", test_rotation);
    g_test_add_func("/part/pattern/open", test_open);
    g_test_add_func("/part/pattern/inside-out", test_inside_out);
    g_test_add_func("/part/pattern/bad", test_bad);
    g_test_add_func("/part/pattern/stopped", test_stopped);
    int result = g_test_run();
    check_folder_remove(folder);
    g_free(folder);
    tables_free(tables);
    return result;
}
