// SPDX-License-Identifier: GPL-3.0-or-later
// Reading whole files: every format gives the same mesh, kinds are found by content, units, what
// the file system can do, and both kinds of STL with everything that can be wrong with them.
#include <glib/gstdio.h>
#include <locale.h>
#include <string.h>
#include <sys/stat.h>

#include "mesh-text.h"
#include "solid/check.h"
#include "solid/measure.h"
#include "solid/read.h"

static SolidMesh *
read_text(const char *text, const char *name, GError **error)
{
    return solid_read_bytes((const guchar *)text, strlen(text), name, NULL, NULL, error);
}

static SolidMesh *
read_array(const GByteArray *data, const char *name, GError **error)
{
    return solid_read_bytes(data->data, data->len, name, "mm", NULL, error);
}

static void
refuse_text(const char *text, const char *name, BaseError code, const char *words)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh) mesh = read_text(text, name, &error);
    g_assert_null(mesh);
    check_error(error, code, words);
}

static void
refuse_array(const GByteArray *data, const char *name, BaseError code, const char *words)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh) mesh = read_array(data, name, &error);
    g_assert_null(mesh);
    check_error(error, code, words);
}

// A box with odd sides, turned: 17 digits are needed, and no coordinate is special.
static SolidMesh *
make_part(void)
{
    g_autoptr(SolidMesh) box = check_mesh_box(0.03017, 0.02113, 0.01371);
    return check_mesh_turned(box);
}

static void
test_same_mesh(void)
{
    g_autoptr(SolidMesh) part = make_part();
    for (int kind = 0; kind < MESH_KINDS; kind++) {
        g_autoptr(GError) error = NULL;
        g_autoptr(GByteArray) data = mesh_text(part, kind);
        g_autoptr(SolidMesh) mesh = read_array(data, mesh_kind_names[kind], &error);
        g_assert_no_error(error);
        g_assert_cmpuint(mesh->n_vertices, ==, 8);
        g_assert_cmpuint(mesh->n_triangles, ==, 12);
        g_assert_true(solid_check(mesh).closed);
        // Binary STL holds 24 bits a number, the others all of them.
        mesh_check_same(part, mesh, kind == MESH_STL_BINARY ? 1e-7 : 1e-15);
        check_close(solid_measure(mesh).volume, 0.03017 * 0.02113 * 0.01371,
                    kind == MESH_STL_BINARY ? 1e-6 : 1e-12, "product of the sides");
    }
}

static void
test_kind_by_content(void)
{
    g_autoptr(SolidMesh) part = make_part();
    for (int kind = 0; kind < MESH_KINDS; kind++) {
        g_autoptr(GByteArray) data = mesh_text(part, kind);
        for (int name = 0; name < MESH_KINDS; name++) {
            g_autoptr(GError) error = NULL;
            g_autoptr(SolidMesh) mesh = read_array(data, mesh_kind_names[name], &error);
            g_assert_no_error(error);
            g_assert_cmpuint(mesh->n_triangles, ==, 12);
        }
    }
}

static void
test_comma_locale(void)
{
    if (!setlocale(LC_NUMERIC, "de_DE.UTF-8") && !setlocale(LC_NUMERIC, "de_DE") &&
        !setlocale(LC_NUMERIC, "fr_FR.UTF-8")) {
        g_test_skip("no locale with a decimal comma is installed");
        return;
    }
    test_same_mesh();
    setlocale(LC_NUMERIC, "C");
}

static void
test_units(void)
{
    check_close(solid_unit_metres("mm"), 1e-3, 0, "SI");
    check_close(solid_unit_metres("cm"), 1e-2, 0, "SI");
    check_close(solid_unit_metres("m"), 1, 0, "SI");
    check_close(solid_unit_metres("in"), 0.0254, 0, "international inch");
    check_close(solid_unit_metres("ft"), 0.3048, 0, "international foot");
    check_close(solid_unit_metres("furlong"), 0, 1e-300, "not known");
    check_close(solid_unit_metres(NULL), 0, 1e-300, "not known");
    g_autoptr(SolidMesh) part = make_part();
    g_autoptr(GByteArray) data = mesh_text(part, MESH_OBJ);
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh)
                  inch = solid_read_bytes(data->data, data->len, "part.obj", "in", NULL, &error);
    g_assert_no_error(error);
    check_close(solid_measure(inch).volume, 0.03017 * 0.02113 * 0.01371 * 25.4 * 25.4 * 25.4, 1e-12,
                "25.4 mm to the inch");
    g_assert_null(solid_read_bytes(data->data, data->len, "part.obj", "ell", NULL, &error));
    check_error(error, BASE_ERROR_VALUE, "\"ell\" is not a unit of length");
}

static void
test_guess(void)
{
    const struct {
        double longest; // in the file's numbers
        const char *unit;
    } cases[] = {{188, "mm"}, {50, "mm"}, {16, "mm"}, {6, "in"}, {0.7, "in"}, {0.31, "m"}};
    for (gsize i = 0; i < G_N_ELEMENTS(cases); i++) {
        double x = cases[i].longest / 1000;
        g_autoptr(SolidMesh) box = check_mesh_box(x / 2, x, x / 3);
        g_assert_cmpstr(solid_guess_unit(box), ==, cases[i].unit);
    }
    g_autoptr(SolidMesh) nothing = solid_mesh_new(0, 0);
    g_assert_cmpstr(solid_guess_unit(nothing), ==, "mm");
}

static void
test_files(void)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *folder = check_folder();
    g_autofree char *missing = g_build_filename(folder, "no\nsuch.stl", NULL);
    g_assert_null(solid_read(missing, NULL, NULL, &error));
    check_error(error, BASE_ERROR_FILE, "no?such.stl: No such file");
    g_assert_null(solid_read(folder, NULL, NULL, &error));
    check_error(error, BASE_ERROR_FILE, "is not an ordinary file");
    g_autofree char *pipe = g_build_filename(folder, "pipe.stl", NULL);
    g_assert_cmpint(mkfifo(pipe, 0600), ==, 0);
    g_assert_null(solid_read(pipe, NULL, NULL, &error));
    check_error(error, BASE_ERROR_FILE, "is not an ordinary file");
    g_autofree char *path = g_build_filename(folder, "empty.stl", NULL);
    g_assert_true(g_file_set_contents(path, "", 0, NULL));
    g_assert_null(solid_read(path, NULL, NULL, &error));
    check_error(error, BASE_ERROR_FORMAT, "empty.stl: the file is empty");
    // A hole of 3 GB in a file takes no room, but is larger than we read.
    g_assert_cmpint(truncate(path, 3ll << 30), ==, 0);
    g_assert_null(solid_read(path, NULL, NULL, &error));
    check_error(error, BASE_ERROR_LIMIT, "larger than 2048 MB");
    g_autoptr(SolidMesh) part = make_part();
    g_autoptr(GByteArray) data = mesh_text(part, MESH_STL_BINARY);
    g_assert_true(g_file_set_contents(path, (const char *)data->data, data->len, NULL));
    g_autoptr(SolidMesh) mesh = solid_read(path, NULL, NULL, &error);
    g_assert_no_error(error);
    mesh_check_same(part, mesh, 1e-7);
    check_folder_remove(folder);
}

static void
test_not_a_mesh(void)
{
    refuse_text("", "x.stl", BASE_ERROR_FORMAT, "x.stl: the file is empty");
    refuse_text("hello", "x", BASE_ERROR_FORMAT, "byte 0: the file is not an STL, OBJ, PLY or 3MF");
    refuse_text("hello", "x.ply", BASE_ERROR_FORMAT, "not an STL, OBJ, PLY or 3MF");
    refuse_text("hello", "x.3mf", BASE_ERROR_FORMAT, "cannot be opened as a zip package");
    refuse_text("hello", "x.stl", BASE_ERROR_FORMAT, "byte 5: the file ends inside the STL header");
    refuse_text("\xFF\xFEs", "x.stl", BASE_ERROR_FORMAT, "the file is UTF-16 text");
}

static void
test_cancel(void)
{
    g_autoptr(SolidMesh) part = make_part();
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    for (int kind = 0; kind < MESH_KINDS; kind++) {
        g_autoptr(GError) error = NULL;
        g_autoptr(GByteArray) data = mesh_text(part, kind);
        g_assert_null(solid_read_bytes(data->data, data->len, "x", NULL, progress, &error));
        check_error(error, BASE_ERROR_CANCELLED, "stopped");
    }
}

static void
set_u32(GByteArray *data, guint at, guint32 value)
{
    value = GUINT32_TO_LE(value);
    memcpy(data->data + at, &value, 4);
}

static void
test_binary_counts(void)
{
    g_autoptr(SolidMesh) part = make_part();
    g_autoptr(GByteArray) data = mesh_text(part, MESH_STL_BINARY);
    set_u32(data, 80, 13);
    refuse_array(data, "p.stl", BASE_ERROR_FORMAT,
                 "p.stl: byte 684: the file ends in triangle 13 of the 13 its header promises");
    set_u32(data, 80, G_MAXUINT32);
    refuse_array(data, "p.stl", BASE_ERROR_FORMAT, "triangle 13 of the 4294967295");
    set_u32(data, 80, 11);
    refuse_array(data, "p.stl", BASE_ERROR_FORMAT,
                 "byte 634: 50 bytes follow the last of the 11 triangles");
    // The same though the header begins like that of an ASCII file.
    memcpy(data->data, "solid thing", 11);
    refuse_array(data, "p", BASE_ERROR_FORMAT, "byte 634: 50 bytes follow");
    set_u32(data, 80, 12);
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh) mesh = read_array(data, "p.stl", &error);
    g_assert_no_error(error);
    g_assert_cmpuint(mesh->n_triangles, ==, 12);
    g_byte_array_set_size(data, 84);
    set_u32(data, 80, 0);
    refuse_array(data, "p.stl", BASE_ERROR_FORMAT, "the file holds no triangles");
}

static void
test_binary_numbers(void)
{
    const struct {
        guint32 bits;
        BaseError code;
        const char *words;
    } cases[] = {{0x7FC00000, BASE_ERROR_FORMAT, "byte 200: a coordinate is not a finite number"},
                 {0x7F800000, BASE_ERROR_FORMAT, "byte 200: a coordinate is not a finite number"},
                 {0xFF800000, BASE_ERROR_FORMAT, "byte 200: a coordinate is not a finite number"},
                 {0x7F7FFFFF, BASE_ERROR_LIMIT, "byte 200: a corner lies more than 1000 km"}};
    g_autoptr(SolidMesh) part = make_part();
    g_autoptr(GByteArray) data = mesh_text(part, MESH_STL_BINARY);
    guint32 keep;
    // Triangle 2, first corner: 84 + 2 * 50 + 12; normals may hold anything.
    set_u32(data, 84, 0x7FC00000);
    for (gsize i = 0; i < G_N_ELEMENTS(cases); i++) {
        memcpy(&keep, data->data + 200, 4);
        set_u32(data, 200, cases[i].bits);
        refuse_array(data, "p.stl", cases[i].code, cases[i].words);
        memcpy(data->data + 200, &keep, 4);
    }
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh) mesh = read_array(data, "p.stl", &error);
    g_assert_no_error(error);
    g_assert_cmpuint(mesh->n_triangles, ==, 12);
}

#define FACET                                                                                      \
    "facet normal nan nan nan\n outer loop\n vertex 1.5 0 0\r\n vertex 0 2.25e0 0\n"               \
    " vertex 0 0 -7E-1\n endloop\nendfacet\n"

static void
test_text_good(void)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh) upper = read_text("\xEF\xBB\xBF  SOLID\nFACET NORMAL 0 0 1 OUTER LOOP "
                                           "VERTEX 1 2 3 VERTEX 4 5 6\rVERTEX 7 8 +9.5 ENDLOOP "
                                           "ENDFACET ENDSOLID",
                                           "a", &error);
    g_assert_no_error(error);
    check_close(upper->vertices[2].z, 0.0095, 1e-15, "as written");
    g_autoptr(SolidMesh) two = read_text(
        "solid a\n" FACET "endsolid a b c\nsolid\n" FACET FACET "endsolid\n\n", "a", &error);
    g_assert_no_error(error);
    g_assert_cmpuint(two->n_triangles, ==, 3);
    g_assert_cmpuint(two->n_vertices, ==, 3);
    check_close(two->vertices[2].z, -0.0007, 1e-15, "as written");
}

static void
test_text_bad(void)
{
    const struct {
        const char *text, *words;
    } cases[] = {
        {"solid a\n" FACET, "line 9: the file ends before \"endsolid\""},
        {"solid a\nendsolid a\n", "a.stl: the file holds no triangles"},
        {"solid a\n" FACET "garbage\nendsolid", "line 9: found \"garbage\" where \"facet\""},
        {"solid a\n" FACET "endsolid\nmore", "line 10: found \"more\" where \"solid\""},
        {"solid a\nfacet normal 0 0 1\nouter loop\nvertex 1 2 x\n", "line 4: \"x\" is not a coord"},
        {"solid a\nfacet normal 0 0 1\nouter loop\nvertex 1,5 2 3\n", "\"1,5\" is not a coord"},
        {"solid a\nfacet normal 0 0 1\nouter loop\nvertex nan 2 3\n", "\"nan\" is not a coord"},
        {"solid a\nfacet normal 0 0 1\nouter loop\nvertex inf 2 3\n", "\"inf\" is not a coord"},
        {"solid a\nfacet normal 0 0 1\nouter loop\nvertex 0x10 2 3\n", "\"0x10\" is not a coord"},
        {"solid a\nfacet normal 0 0 1\nouter loop\nvertex 1e999 2 3\n", "\"1e999\" is not a coord"},
        {"solid a\nfacet normal 0 0 1\nouter loop\nvertex 1 2 3\nvertex 1 2 4\nendloop",
         "line 6: found \"endloop\" where \"vertex\""},
        {"solid a\nfacet normal 0 0 1\nouter loop\nvertex 1 2 3\nvertex 1 2 4\nvertex 1 3 4\n"
         "vertex 3 3 3\n",
         "line 7: found \"vertex\" where \"endloop\""},
        {"solid a\nfacet normal 0 0", "line 2: the file ends before"},
        {"solid a\nfacet abnormal", "found \"abnormal\" where \"normal\""},
        {"solid a\nfacet normal 0 0 1\nouter loop\nvertex 1 2 \x7f\xc3\xbc\n", "\"???\" is not"},
    };
    for (gsize i = 0; i < G_N_ELEMENTS(cases); i++)
        refuse_text(cases[i].text, "a.stl", BASE_ERROR_FORMAT, cases[i].words);
    refuse_text("solid\nfacet normal 0 0 1\nouter loop\nvertex 1e30 2 3\n", "a.stl",
                BASE_ERROR_LIMIT, "line 4: a corner lies more than 1000 km");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/solid/read/same-mesh", test_same_mesh);
    g_test_add_func("/solid/read/kind-by-content", test_kind_by_content);
    g_test_add_func("/solid/read/comma-locale", test_comma_locale);
    g_test_add_func("/solid/read/units", test_units);
    g_test_add_func("/solid/read/guess", test_guess);
    g_test_add_func("/solid/read/files", test_files);
    g_test_add_func("/solid/read/not-a-mesh", test_not_a_mesh);
    g_test_add_func("/solid/read/cancel", test_cancel);
    g_test_add_func("/solid/read/binary-counts", test_binary_counts);
    g_test_add_func("/solid/read/binary-numbers", test_binary_numbers);
    g_test_add_func("/solid/read/text-good", test_text_good);
    g_test_add_func("/solid/read/text-bad", test_text_bad);
    return g_test_run();
}
