// SPDX-License-Identifier: GPL-3.0-or-later
// Writing STL: the bytes, reading back, not replacing, and failing without a trace.
#include <glib/gstdio.h>
#include <signal.h>
#include <string.h>
#include <sys/resource.h>
#include <sys/stat.h>
#include <unistd.h>

#include "check.h"
#include "solid/read.h"
#include "solid/write.h"

static guint
count_files(const char *folder)
{
    guint n = 0;
    g_autoptr(GDir) dir = g_dir_open(folder, 0, NULL);
    while (g_dir_read_name(dir))
        n++;
    return n;
}

static void
test_round_trip(void)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "part.stl", NULL);
    g_autofree char *second = g_build_filename(folder, "second.stl", NULL);
    g_autoptr(SolidMesh) sphere = check_mesh_sphere(0.0137, 40, 120); // more than one block
    g_autoptr(SolidMesh) turned = check_mesh_turned(sphere);
    g_assert_true(solid_write_stl(turned, path, FALSE, &error));
    g_assert_no_error(error);
    g_autoptr(SolidMesh) mesh = solid_read(path, "mm", NULL, &error);
    g_assert_no_error(error);
    g_assert_cmpuint(mesh->n_triangles, ==, turned->n_triangles);
    g_assert_cmpuint(mesh->n_vertices, ==, turned->n_vertices);
    for (guint32 t = 0; t < mesh->n_triangles; t++)
        for (int c = 0; c < 3; c++) {
            Vec3 a = turned->vertices[turned->triangles[t][c]];
            Vec3 b = mesh->vertices[mesh->triangles[t][c]];
            check_close(vec3_length(vec3_sub(a, b)), 0, 4e-9, "24 bits of 0.04 m");
        }
    // What was read once is written the same for ever.
    g_assert_true(solid_write_stl(mesh, second, FALSE, &error));
    g_autofree char *x = NULL, *y = NULL;
    gsize n = 0, m = 0;
    g_assert_true(g_file_get_contents(path, &x, &n, NULL));
    g_assert_true(g_file_get_contents(second, &y, &m, NULL));
    g_assert_cmpuint(n, ==, 84 + 50 * (gsize)mesh->n_triangles);
    for (gsize i = 0; i < n; i++) // all but the normals, which may differ in the last bit
        if (i < 84 || (i - 84) % 50 >= 12)
            g_assert_cmpint(x[i], ==, y[i]);
    g_assert_cmpint(strncmp(x, "solid", 5), !=, 0);
    check_folder_remove(folder);
}

static void
test_bytes(void)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "one.stl", NULL);
    g_autoptr(SolidMesh) mesh = solid_mesh_new(3, 1);
    mesh->vertices[1] = vec3(0.002, 0, 0);
    mesh->vertices[2] = vec3(0, 0.0035, 0);
    for (guint32 i = 0; i < 3; i++)
        mesh->triangles[0][i] = i;
    g_assert_true(solid_write_stl(mesh, path, FALSE, &error));
    g_autofree char *data = NULL;
    gsize length;
    g_assert_true(g_file_get_contents(path, &data, &length, NULL));
    g_assert_cmpuint(length, ==, 134);
    // IEEE 754: 1 = 3F800000, 2 = 40000000, 3.5 = 40600000, little end first.
    static const guchar expected[54] = {
        1, 0, 0, 0, [14] = 0x80, [15] = 0x3F, [31] = 0x40, [46] = 0x60, [47] = 0x40};
    g_assert_cmpmem(data + 80, 54, expected, 54);
    check_folder_remove(folder);
}

static void
test_replace(void)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "part.stl", NULL);
    g_autoptr(SolidMesh) box = check_mesh_box(0.01, 0.02, 0.03);
    g_assert_true(g_file_set_contents(path, "old", -1, NULL));
    g_assert_cmpint(g_chmod(path, 0640), ==, 0);
    g_assert_false(solid_write_stl(box, path, FALSE, &error));
    check_error(error, BASE_ERROR_FILE, "part.stl: the file is already there");
    g_autofree char *data = NULL;
    g_assert_true(g_file_get_contents(path, &data, NULL, NULL));
    g_assert_cmpstr(data, ==, "old");
    g_assert_true(solid_write_stl(box, path, TRUE, &error));
    g_assert_no_error(error);
    struct stat state;
    g_assert_cmpint(g_stat(path, &state), ==, 0);
    g_assert_cmpint(state.st_size, ==, 84 + 12 * 50);
    g_assert_cmpint(state.st_mode & 0777, ==, 0640);
    g_assert_cmpuint(count_files(folder), ==, 1);
    check_folder_remove(folder);
}

static void
test_refused(void)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh) box = check_mesh_box(0.01, 0.02, 0.03);
    g_assert_false(solid_write_stl(box, "/no/such/folder/a.stl", FALSE, &error));
    check_error(error, BASE_ERROR_FILE, "/no/such/folder/a.stl: No such file");
    g_autofree char *folder = check_folder();
    g_assert_false(solid_write_stl(box, folder, TRUE, &error)); // a folder is not replaced
    check_error(error, BASE_ERROR_FILE, folder);
    g_autofree char *path = g_build_filename(folder, "a.stl", NULL);
    g_autoptr(SolidMesh) nothing = solid_mesh_new(0, 0);
    g_assert_false(solid_write_stl(nothing, path, FALSE, &error));
    check_error(error, BASE_ERROR_VALUE, "there is nothing to write");
    box->vertices[3].y = NAN;
    g_assert_false(solid_write_stl(box, path, FALSE, &error));
    check_error(error, BASE_ERROR_VALUE, "vertex 3 is not a number a mesh file can hold");
    g_assert_cmpuint(count_files(folder), ==, 0);
    check_folder_remove(folder);
}

// A disk that takes no more, after every number of bytes that matters: the old file stays whole.
static void
test_full_disk(void)
{
    static const rlim_t sizes[] = {0, 1, 83, 84, 85, 4096, 84 + 50 * 4096, 300000};
    g_autoptr(SolidMesh) sphere = check_mesh_sphere(0.0137, 50, 120);
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "part.stl", NULL);
    struct rlimit before;
    g_assert_true(g_file_set_contents(path, "old", -1, NULL));
    g_assert_cmpint(getrlimit(RLIMIT_FSIZE, &before), ==, 0);
    signal(SIGXFSZ, SIG_IGN);
    for (gsize i = 0; i < G_N_ELEMENTS(sizes); i++) {
        g_autoptr(GError) error = NULL;
        g_autofree char *data = NULL;
        struct rlimit limit = {sizes[i], before.rlim_max};
        g_assert_cmpint(setrlimit(RLIMIT_FSIZE, &limit), ==, 0);
        gboolean ok = solid_write_stl(sphere, path, TRUE, &error);
        setrlimit(RLIMIT_FSIZE, &before);
        g_assert_false(ok);
        check_error(error, BASE_ERROR_FILE, "part.stl: File too large");
        g_assert_cmpuint(count_files(folder), ==, 1);
        g_assert_true(g_file_get_contents(path, &data, NULL, NULL));
        g_assert_cmpstr(data, ==, "old");
    }
    check_folder_remove(folder);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/solid/write/round-trip", test_round_trip);
    g_test_add_func("/solid/write/bytes", test_bytes);
    g_test_add_func("/solid/write/replace", test_replace);
    g_test_add_func("/solid/write/refused", test_refused);
    g_test_add_func("/solid/write/full-disk", test_full_disk);
    return g_test_run();
}
