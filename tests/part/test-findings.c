// SPDX-License-Identifier: GPL-3.0-or-later
// Broken meshes: what is said of each, what is made of it, and that nothing is said of sound ones.
#include "part/findings.h"

#include <string.h>

#include "broken.h"
#include "part/pattern.h"

#define MM 1e-3
#define BOX (30 * 20 * 10e-9)

// What is found of the mesh as a file would give it, and the sentences in one.
static PartFindings
find(SolidMesh *mesh, char **words)
{
    g_autoptr(SolidMesh) own = mesh;
    g_autoptr(GError) error = NULL;
    PartFindings f = {0};
    g_assert_true(part_find(own, &f, NULL, &error));
    g_assert_no_error(error);
    UnitSet units = unit_set_default();
    g_auto(GStrv) all = part_findings_words(&f, &units);
    for (char **one = all; *one; one++)
        g_assert_true(g_str_has_suffix(*one, "."));
    *words = g_strjoinv(" ", all);
    g_test_message("%s", *words);
    return f;
}

// What is to be cast of it, through the whole of the pattern.
static double
cast(const PartFindings *f, double allowance, EnvelopeResult *e)
{
    g_autoptr(FigureList) figures = figure_list_new();
    g_autoptr(GError) error = NULL;
    Vec3 pull = vec3(0, 0, 1);
    figure_give(figures, "mesh", "mesh", QUANTITY_TEXT, NAN, "it", "test");
    g_autoptr(PartResult) part = part_measure(f->mesh, figures, NULL, &error);
    g_assert_no_error(error);
    EnvelopeOptions o = {.cells = 72, .allowance = allowance};
    g_autoptr(PatternResult) p = pattern_make(part, &o, pull, e, NULL, &error);
    g_assert_no_error(error);
    double outside = p->outside;
    envelope_result_clear(e);
    return outside;
}

static void
test_sound(void)
{
    SolidMesh *sound[] = {check_mesh_box(31 * MM, 17 * MM, 9.3 * MM),
                          check_mesh_sphere(17 * MM, 24, 31), check_mesh_torus(0.05, 0.013, 37, 23),
                          check_mesh_blind_plate(0.05, 0.04, 0.02, 0.009, 0.011, 24)};
    for (guint i = 0; i < G_N_ELEMENTS(sound); i++) {
        g_autofree char *words = NULL;
        SolidMesh *turned = check_mesh_turned(sound[i]);
        solid_mesh_unref(sound[i]);
        g_auto(PartFindings) f = find(turned, &words);
        g_assert_cmpstr(words, ==, "");
        g_assert_true(f.solid);
        check_close(f.overlap.excess, 0, 0, "one skin");
        check_close(f.overlap.metal, f.measure.volume, 0.003, "two ways to measure");
    }
}

static void
test_overlap(void)
{
    g_autofree char *words = NULL;
    g_auto(PartFindings) f = find(broken_overlap(), &words);
    double both = 12 * 13 * 6e-9;
    g_assert_nonnull(strstr(words, "Shells overlap"));
    g_assert_nonnull(strstr(words, "must face inwards"));
    check_close(f.overlap.doubled, both, 0.02, "closed form");
    check_close(f.measure.volume, 2 * BOX - both, 0.002, "closed form");
    EnvelopeResult e;
    cast(&f, 0, &e);
    check_close(e.part_volume, 2 * BOX - both, 0.002, "closed form");
    check_close(e.volume, e.part_volume, 0.002, "parted where both boxes are, it draws");
}

static void
test_crossing(void)
{
    g_autofree char *words = NULL;
    double r = 23.7 * MM, h = 11.3 * MM;
    g_auto(PartFindings) f = find(broken_star(r, h), &words);
    // The five corners span 5/2 r² sin 144° with the inner pentagon twice; its radius is r / phi².
    double phi = (1 + sqrt(5)) / 2, inner = r / (phi * phi);
    double core = 2.5 * inner * inner * sin(2 * G_PI / 5) * h;
    g_assert_nonnull(strstr(words, "crosses itself"));
    check_close(f.overlap.doubled, core, 0.02, "pentagon");
    check_close(f.measure.volume, 2.5 * r * r * sin(4 * G_PI / 5) * h - core, 0.005, "star");
    EnvelopeResult e;
    cast(&f, 0, &e);
    check_close(e.volume, f.measure.volume, 0.01, "a prism draws");
}

static void
test_nested(void)
{
    g_autofree char *solid_words = NULL, *hollow_words = NULL;
    double inner = 12 * 8 * 4e-9;
    g_auto(PartFindings) f = find(broken_nested(FALSE), &solid_words);
    g_assert_nonnull(strstr(solid_words, "Shells overlap"));
    check_close(f.overlap.doubled, inner, 0.02, "closed form");
    check_close(f.measure.volume, BOX, 0.002, "closed form");
    g_auto(PartFindings) g = find(broken_nested(TRUE), &hollow_words);
    g_assert_cmpstr(hollow_words, ==, "1 enclosed hollow is cast solid: no sand can leave it.");
    check_close(g.measure.volume, BOX - inner, 1e-9, "closed form");
    EnvelopeResult e;
    cast(&g, 0, &e);
    check_close(e.undercut_volume, inner, 0.03, "fills up");
    check_close(e.volume, BOX, 0.003, "fills up");
}

// Two boxes that lie apart in one file.
static void
test_apart(void)
{
    g_autoptr(SolidMesh) box = check_mesh_box(30 * MM, 20 * MM, 10 * MM);
    SolidMesh *two = solid_mesh_new(2 * box->n_vertices, 2 * box->n_triangles);
    for (guint32 i = 0; i < box->n_vertices; i++) {
        two->vertices[i] = box->vertices[i];
        two->vertices[box->n_vertices + i] = vec3_add(box->vertices[i], vec3(41 * MM, 0, 0));
    }
    for (guint32 t = 0; t < box->n_triangles; t++)
        for (int k = 0; k < 3; k++) {
            two->triangles[t][k] = box->triangles[t][k];
            two->triangles[box->n_triangles + t][k] = box->triangles[t][k] + box->n_vertices;
        }
    g_autofree char *words = NULL;
    g_auto(PartFindings) f = find(two, &words);
    g_assert_true(g_str_has_prefix(words, "2 separate bodies are taken as one part"));
    check_close(f.measure.volume, 2 * BOX, 1e-9, "closed form");
}

static void
test_turned(void)
{
    g_autofree char *box_words = NULL, *hollow_words = NULL, *beside_words = NULL;
    g_autoptr(SolidMesh) box = check_mesh_box(30 * MM, 20 * MM, 10 * MM);
    g_auto(PartFindings) f = find(solid_mesh_flipped(box), &box_words);
    g_assert_cmpstr(box_words, ==, "The faces looked inwards and have been turned over.");
    check_close(f.measure.volume, BOX, 1e-9, "closed form");
    g_autoptr(SolidMesh) nested = broken_nested(TRUE);
    g_auto(PartFindings) g = find(solid_mesh_flipped(nested), &hollow_words);
    g_assert_nonnull(strstr(hollow_words, "turned over. 1 enclosed hollow is cast solid"));
    check_close(g.measure.volume, BOX - 12 * 8 * 4e-9, 1e-9, "closed form");
    g_auto(PartFindings) h = find(broken_inward(), &beside_words);
    g_assert_nonnull(strstr(beside_words, "faces inwards"));
    g_assert_null(strstr(beside_words, "hollow is"));
    check_close(h.overlap.inward, 12 * 8 * 4e-9, 0.02, "closed form");
    check_close(h.measure.volume, BOX + 12 * 8 * 4e-9, 0.002, "metal after all");
}

static void
check_refused(SolidMesh *mesh, const char *what, const char *told)
{
    g_autofree char *words = NULL;
    g_autoptr(GError) error = NULL;
    g_auto(PartFindings) f = find(mesh, &words);
    g_assert_false(f.solid);
    g_assert_nonnull(strstr(words, what));
    g_assert_false(part_findings_refuse(&f, "it.stl", &error));
    check_error(error, BASE_ERROR_VALUE, told);
}

static void
test_refused(void)
{
    check_refused(broken_open(), "3 open edges", "not closed: 3 open edges");
    check_refused(broken_doubled(), "1 doubled triangle", "every edge has two triangles");
    check_refused(broken_sheet(), "holds nothing", "give the sheet a thickness");
    SolidMesh *edge = broken_edge();
    // As a reader welds it: the common edge belongs to both.
    for (guint32 t = 0; t < edge->n_triangles; t++)
        for (int c = 0; c < 3; c++)
            for (guint32 v = 0; v < 8; v++)
                if (vec3_length(
                        vec3_sub(edge->vertices[edge->triangles[t][c]], edge->vertices[v])) < 1e-9)
                    edge->triangles[t][c] = v;
    check_refused(edge, "more than two triangles", "not closed");
}

// A wall between the cells is told; an allowance finds it again.
static void
test_thin(void)
{
    g_autofree char *words = NULL;
    g_auto(PartFindings) f = find(broken_thin_cup(), &words);
    g_assert_cmpstr(words, ==, "");
    EnvelopeResult e;
    g_assert_cmpfloat(cast(&f, 0, &e), >, 0.3);
    check_close(cast(&f, 1.5 * MM, &e), 0, 0, "all of it deep in the casting");
    // A cylinder 33 mm across and 23 mm high, less a hole 26.9 mm across and 18 mm deep; its outer
    // edges are rounded, which takes about 0.7 %.
    double gon = 24 * sin(2 * G_PI / 48);
    check_close(e.part_volume + e.allowance_volume,
                gon * (16.5 * 16.5 * 23 - 13.45 * 13.45 * 18) * 1e-9, 0.02, "closed form");
}

static void
test_stopped(void)
{
    g_autoptr(SolidMesh) mesh = broken_overlap();
    g_autoptr(Progress) progress = progress_new();
    g_autoptr(GError) error = NULL;
    PartFindings f = {0};
    progress_stop(progress);
    g_assert_false(part_find(mesh, &f, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
    g_assert_null(f.mesh);
}

// Inches taken for metres, or millimetres for metres, are asked about; what is only small is not.
static void
test_size(void)
{
    const struct {
        double longest;
        const char *words;
    } cases[] = {{4.7 * MM, ""},
                 {1.3 * MM, "The part is 1.3 mm long: see whether the unit of its file is the "
                            "right one."},
                 {2.71, ""},
                 {31.7, "The part is 31.7 m long: see whether the unit of its file is the right "
                        "one."}};
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        double x = cases[i].longest;
        g_autofree char *words = NULL;
        g_auto(PartFindings) f = find(check_mesh_box(0.3 * x, x, 0.4 * x), &words);
        g_assert_cmpstr(words, ==, cases[i].words);
        g_assert_true(f.solid);
    }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/part/findings/sound", test_sound);
    g_test_add_func("/part/findings/overlap", test_overlap);
    g_test_add_func("/part/findings/crossing", test_crossing);
    g_test_add_func("/part/findings/nested", test_nested);
    g_test_add_func("/part/findings/apart", test_apart);
    g_test_add_func("/part/findings/turned", test_turned);
    g_test_add_func("/part/findings/refused", test_refused);
    g_test_add_func("/part/findings/thin", test_thin);
    g_test_add_func("/part/findings/stopped", test_stopped);
    g_test_add_func("/part/findings/size", test_size);
    return g_test_run();
}
