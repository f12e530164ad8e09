// SPDX-License-Identifier: GPL-3.0-or-later
// OBJ: polygons, numbers from the end, forward references, and everything refused.
#include <string.h>

#include "check.h"
#include "solid/check.h"
#include "solid/measure.h"
#include "solid/read.h"

static SolidMesh *
read_text(const char *text, GError **error)
{
    return solid_read_bytes((const guchar *)text, strlen(text), "p.obj", NULL, NULL, error);
}

#define BOX "v 0 0 0\nv 7 0 0\nv 7 5 0\nv 0 5 0\nv 0 0 3\nv 7 0 3\nv 7 5 3\nv 0 5 3\n"

static void
check_box(const char *text)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh) mesh = read_text(text, &error);
    g_assert_no_error(error);
    g_assert_cmpuint(mesh->n_triangles, ==, 12);
    g_assert_true(solid_check(mesh).closed);
    check_close(solid_measure(mesh).volume, 105e-9, 1e-12, "7 x 5 x 3 mm");
}

static void
test_quads(void)
{
    check_box("# a box\nmtllib x.mtl\no box\n" BOX "vt 0 0\nvn 0 0 1\ng side\ns off\n"
              "usemtl steel\nf 4 3 2 1\nf 5/1/1 6/1/1 7//1 8/1\nf 1 2 6 5 # front\n"
              "f 3 4 8 7\nf 2 3 \\\n 7 6\nf 1 5 8 4\nl 1 2\np 3\n");
}

static void
test_from_the_end(void)
{
    check_box(BOX "f -5 -6 -7 -8\nf -4 -3 -2 -1\nf -8 -7 -3 -4\nf -6/2/-1 -5 -1 -2\n"
                  "f -7 -6 -2 -3\nf -8 -4 -1 -5\n");
}

// Faces may come before their vertices; weights and colours may follow the coordinates.
static void
test_forward(void)
{
    check_box("f 4 3 2 1\nf 5 6 7 8\nf 1 2 6 5\nf 3 4 8 7\nf 2 3 7 6\nf 1 5 8 4\n"
              "v 0 0 0 1.0\nv 7 0 0 0.5 0.5 0.5\nv 7 5 0\nv 0 5 0\nv 0 0 3\nv 7 0 3\nv 7 5 3\n"
              "v 0 5 3\n");
}

// An L-shaped face has a fan that folds over from most corners: area shows it.
static void
test_hollow_polygon(void)
{
    g_autoptr(GError) error = NULL;
    for (int first = 0; first < 6; first++) {
        g_autoptr(GString) text = g_string_new("v 0 0 0\nv 4 0 0\nv 4 1 0\nv 1 1 0\nv 1 3 0\n"
                                               "v 0 3 0\nf");
        for (int i = 0; i < 6; i++)
            g_string_append_printf(text, " %d", (first + i) % 6 + 1);
        g_autoptr(SolidMesh) mesh = read_text(text->str, &error);
        g_assert_no_error(error);
        g_assert_cmpuint(mesh->n_triangles, ==, 4);
        check_close(solid_measure(mesh).area, 6e-6, 1e-12, "4 x 1 + 1 x 2 mm2");
    }
}

// A vertex no face uses does not widen the box.
static void
test_stray_vertex(void)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh)
                  mesh = read_text("v 900 900 900\nv 0 0 0\nv 1 0 0\nv 0 2 0\nf 2 3 4\n", &error);
    g_assert_no_error(error);
    g_assert_cmpuint(mesh->n_vertices, ==, 3);
    check_close(solid_measure(mesh).max.y, 0.002, 1e-12, "the used vertices");
}

static void
test_bad(void)
{
    const struct {
        const char *text, *words;
    } cases[] = {
        {"v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 4\n", "p.obj: line 4: a face names vertex 4 of 3"},
        {"v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 3\nf 1 2 99999999\n", "line 5: a face names vertex 999"},
        {"v 0 0 0\nv 1 0 0\nv 0 1 0\nf 0 1 2\n", "line 4: \"0\" names a vertex that is not there"},
        {"v 0 0 0\nv 1 0 0\nv 0 1 0\nf -4 1 2\n", "line 4: \"-4\" names a vertex"},
        {"v 0 0 0\nf 4294967297 1 2\n", "\"4294967297\" names a vertex that is not there"},
        {"v 0 0 0\nf 99999999999999999999 1 2\n", "is not a vertex number"},
        {"v 0 0 0\nf 1.5 1 2\n", "line 2: \"1.5\" is not a vertex number"},
        {"v 0 0 0\nf /1 1 2\n", "line 2: \"/1\" is not a vertex number"},
        {"v 0 0 0\nf 1 1\n", "line 2: a face has fewer than three corners"},
        {"v 0 0 0\nf\n", "line 2: a face has fewer than three corners"},
        {"v 0 0\n", "line 1: a vertex has 2 of 3 coordinates"},
        {"v 0 0 zero\n", "line 1: \"zero\" is not a coordinate"},
        {"v 0 0 nan\n", "line 1: \"nan\" is not a coordinate"},
        {"v 0 0 1e999\n", "line 1: a coordinate is not a finite number"},
        {"v 0 0 0\nsurf 0 1 0 1\n", "line 2: \"surf\" is a free-form curve or surface"},
        {"v 0 0 0\nvertex 1 2 3\n", "line 2: \"vertex\" is not a word of OBJ"},
        {"v 0 0 0\n", "p.obj: the file holds no triangles"},
        {"# nothing", "p.obj: the file holds no triangles"},
    };
    for (gsize i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autoptr(GError) error = NULL;
        g_assert_null(read_text(cases[i].text, &error));
        check_error(error, BASE_ERROR_FORMAT, cases[i].words);
    }
    g_autoptr(GError) error = NULL;
    g_assert_null(read_text("v 0 0 1e300\n", &error));
    check_error(error, BASE_ERROR_LIMIT, "line 1: a corner lies more than 1000 km");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/solid/read-obj/quads", test_quads);
    g_test_add_func("/solid/read-obj/from-the-end", test_from_the_end);
    g_test_add_func("/solid/read-obj/forward", test_forward);
    g_test_add_func("/solid/read-obj/hollow-polygon", test_hollow_polygon);
    g_test_add_func("/solid/read-obj/stray-vertex", test_stray_vertex);
    g_test_add_func("/solid/read-obj/bad", test_bad);
    return g_test_run();
}
