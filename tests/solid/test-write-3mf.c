// SPDX-License-Identifier: GPL-3.0-or-later
// Writing 3MF: reading back, the same bytes every time, names that need escaping, not replacing,
// and another program's opinion where it is installed.
#include <locale.h>
#include <string.h>

#include "check.h"
#include "solid/check.h"
#include "solid/measure.h"
#include "solid/read.h"
#include "solid/write.h"

typedef struct {
    char *folder, *path, *second;
    SolidMesh *mesh;
} Fixture;

static void
set_up(Fixture *f, gconstpointer data)
{
    f->folder = check_folder();
    f->path = g_build_filename(f->folder, "part.3mf", NULL);
    f->second = g_build_filename(f->folder, "second.3mf", NULL);
    g_autoptr(SolidMesh) sphere = check_mesh_sphere(0.0137, 20, 60);
    f->mesh = check_mesh_turned(sphere);
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    check_folder_remove(f->folder);
    g_free(f->folder);
    g_free(f->path);
    g_free(f->second);
    solid_mesh_unref(f->mesh);
}

static void
write_file(Fixture *f, const char *name, const char *path)
{
    g_autoptr(GError) error = NULL;
    g_assert_true(solid_write_3mf(f->mesh, name, path, FALSE, &error));
    g_assert_no_error(error);
}

static void
test_round_trip(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    write_file(f, "cope-pattern", f->path);
    // The file says millimetres, whatever is asked for.
    g_autoptr(SolidMesh) mesh = solid_read(f->path, NULL, NULL, &error);
    g_assert_no_error(error);
    g_assert_cmpuint(mesh->n_triangles, ==, f->mesh->n_triangles);
    g_assert_cmpuint(mesh->n_vertices, ==, f->mesh->n_vertices);
    for (guint32 t = 0; t < mesh->n_triangles; t++)
        for (int c = 0; c < 3; c++) {
            Vec3 a = f->mesh->vertices[f->mesh->triangles[t][c]];
            Vec3 b = mesh->vertices[mesh->triangles[t][c]];
            check_close(vec3_length(vec3_sub(a, b)), 0, 1e-7, "a tenth of a micrometre");
        }
    SolidCheck check = solid_check(mesh);
    g_assert_true(check.closed);
}

static void
test_same_bytes(Fixture *f, gconstpointer data)
{
    g_autofree char *x = NULL, *y = NULL;
    gsize n = 0, m = 0;
    write_file(f, "a", f->path);
    g_usleep(2100000); // a zip's dates count in twos of seconds
    write_file(f, "a", f->second);
    g_assert_true(g_file_get_contents(f->path, &x, &n, NULL));
    g_assert_true(g_file_get_contents(f->second, &y, &m, NULL));
    g_assert_cmpmem(x, n, y, m);
}

static void
test_names(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    write_file(f, "<\"&' \xc3\xa4>", f->path);
    g_autoptr(SolidMesh) mesh = solid_read(f->path, NULL, NULL, &error);
    g_assert_no_error(error);
    g_assert_nonnull(mesh);
    write_file(f, NULL, f->second);
    g_autoptr(SolidMesh) nameless = solid_read(f->second, NULL, NULL, &error);
    g_assert_no_error(error);
    g_assert_cmpuint(nameless->n_triangles, ==, f->mesh->n_triangles);
}

static void
test_refuses(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *x = NULL, *y = NULL;
    write_file(f, "a", f->path);
    g_assert_true(g_file_get_contents(f->path, &x, NULL, NULL));
    g_assert_false(solid_write_3mf(f->mesh, "b", f->path, FALSE, &error));
    check_error(error, BASE_ERROR_FILE, "already there");
    gsize n = 0;
    g_assert_true(g_file_get_contents(f->path, &y, &n, NULL));
    g_assert_true(solid_write_3mf(f->mesh, "b", f->path, TRUE, &error));
    g_assert_no_error(error);
    g_autofree char *nowhere = g_build_filename(f->folder, "no", "x.3mf", NULL);
    g_assert_false(solid_write_3mf(f->mesh, "b", nowhere, FALSE, &error));
    check_error(error, BASE_ERROR_FILE, "x.3mf");
    g_autoptr(SolidMesh) empty = solid_mesh_new(0, 0);
    g_assert_false(solid_write_3mf(empty, "b", f->second, FALSE, &error));
    check_error(error, BASE_ERROR_VALUE, "nothing to write");
    f->mesh->vertices[3].y = NAN;
    g_assert_false(solid_write_3mf(f->mesh, "b", f->second, FALSE, &error));
    check_error(error, BASE_ERROR_VALUE, "vertex 3");
    g_assert_false(g_file_test(f->second, G_FILE_TEST_EXISTS));
}

// Triangles and box as another program reads them.
static void
test_assimp(Fixture *f, gconstpointer data)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *program = g_find_program_in_path("assimp");
    if (!program) {
        g_test_skip("assimp is not installed");
        return;
    }
    write_file(f, "a", f->path);
    const char *const argv[] = {program, "info", f->path, NULL};
    g_autofree char *out = NULL;
    int status = 1;
    g_assert_true(g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL,
                               &out, NULL, &status, &error));
    g_assert_no_error(error);
    g_assert_cmpint(status, ==, 0);
    g_autofree char *faces = g_strdup_printf("%u", f->mesh->n_triangles);
    const char *line = strstr(out, "Faces:");
    g_assert_nonnull(line);
    g_autofree char *count = g_strndup(line + 6, strcspn(line + 6, "\n"));
    g_assert_cmpstr(g_strstrip(count), ==, faces);
    // "Minimum point (x y z)", after the importer's own turns: lengths only.
    const char *low = strstr(out, "Minimum point"), *high = strstr(out, "Maximum point");
    g_assert_nonnull(low);
    g_assert_nonnull(high);
    double size = 0;
    const char *a = strchr(low, '(') + 1, *b = strchr(high, '(') + 1;
    for (int c = 0; c < 3; c++) {
        char *end_a, *end_b;
        double d = g_ascii_strtod(b, &end_b) - g_ascii_strtod(a, &end_a);
        size += d * d;
        a = end_a;
        b = end_b;
    }
    SolidMeasure m = solid_measure(f->mesh);
    check_close(sqrt(size), 1000 * vec3_length(vec3_sub(m.max, m.min)), 1e-4, "box in millimetres");
}

int
main(int argc, char **argv)
{
    setlocale(LC_ALL, "");
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/solid/write-3mf/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("round-trip", test_round_trip);
    ADD("same-bytes", test_same_bytes);
    ADD("names", test_names);
    ADD("refuses", test_refuses);
    ADD("assimp", test_assimp);
    return g_test_run();
}
