// SPDX-License-Identifier: GPL-3.0-or-later
// Second opinions: the assimp library reads what we read, admesh judges what we write, and real
// parts from other packages' documentation are closed. Skipped with a word where not installed.
#include <gio/gio.h>
#include <string.h>
#ifdef HAVE_ASSIMP
#include <assimp/cimport.h>
#include <assimp/postprocess.h>
#include <assimp/scene.h>
#endif

#include "mesh-text.h"
#include "solid/check.h"
#include "solid/measure.h"
#include "solid/read.h"
#include "solid/write.h"

static SolidMesh *
make_part(void)
{
    g_autoptr(SolidMesh) plate = check_mesh_blind_plate(0.0517, 0.0311, 0.0127, 0.0047, 0.0083, 40);
    return check_mesh_turned(plate);
}

#ifdef HAVE_ASSIMP
// Volume in cubic units of the file, and triangles, as the other library has read them; the sum is
// ours, in long double.
static long double
sum_scene(const struct aiScene *scene, guint *triangles)
{
    long double six = 0;
    *triangles = 0;
    for (guint m = 0; m < scene->mNumMeshes; m++)
        for (guint f = 0; f < scene->mMeshes[m]->mNumFaces; f++) {
            const struct aiVector3D *v = scene->mMeshes[m]->mVertices;
            const unsigned *i = scene->mMeshes[m]->mFaces[f].mIndices;
            long double a[3][3];
            g_assert_cmpuint(scene->mMeshes[m]->mFaces[f].mNumIndices, ==, 3);
            for (int c = 0; c < 3; c++) {
                a[c][0] = v[i[c]].x;
                a[c][1] = v[i[c]].y;
                a[c][2] = v[i[c]].z;
            }
            six += a[0][0] * (a[1][1] * a[2][2] - a[1][2] * a[2][1]) +
                   a[0][1] * (a[1][2] * a[2][0] - a[1][0] * a[2][2]) +
                   a[0][2] * (a[1][0] * a[2][1] - a[1][1] * a[2][0]);
            ++*triangles;
        }
    return six / 6;
}

static void
compare_file(const char *path)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh) mesh = solid_read(path, "mm", NULL, &error);
    g_assert_no_error(error);
    const struct aiScene *scene = aiImportFile(path, aiProcess_Triangulate |
                                                         aiProcess_PreTransformVertices);
    g_assert_nonnull(scene);
    guint triangles;
    double volume = (double)sum_scene(scene, &triangles) * 1e-9;
    aiReleaseImport(scene);
    g_assert_cmpuint(mesh->n_triangles, ==, triangles);
    check_close(solid_measure(mesh).volume, volume, 1e-5, "assimp's vertices, single precision");
}
#endif

static void
test_assimp(void)
{
#ifdef HAVE_ASSIMP
    g_autofree char *folder = check_folder();
    g_autoptr(SolidMesh) part = make_part();
    for (int kind = 0; kind < MESH_KINDS; kind++) {
        g_autofree char *path = g_build_filename(folder, mesh_kind_names[kind], NULL);
        g_autoptr(GByteArray) data = mesh_text(part, kind);
        g_assert_true(g_file_set_contents(path, (const char *)data->data, data->len, NULL));
        compare_file(path);
    }
    check_folder_remove(folder);
#else
    g_test_skip("the assimp library was not found when this was built");
#endif
}

// A file of another package, unpacked if need be, in the test's own folder; NULL if not installed.
static char *
fetch_real_file(const char *source, const char *folder)
{
    g_autoptr(GFile) file = g_file_new_for_path(source);
    g_autoptr(GFileInputStream) raw = g_file_read(file, NULL, NULL);
    if (!raw)
        return NULL;
    g_autoptr(GInputStream) stream = g_object_ref(G_INPUT_STREAM(raw));
    if (g_str_has_suffix(source, ".gz")) {
        g_autoptr(GZlibDecompressor)
                      gunzip = g_zlib_decompressor_new(G_ZLIB_COMPRESSOR_FORMAT_GZIP);
        GInputStream *plain = g_converter_input_stream_new(stream, G_CONVERTER(gunzip));
        g_object_unref(stream);
        stream = plain;
    }
    char *path = g_build_filename(folder, "real.stl", NULL);
    g_autoptr(GFile) to = g_file_new_for_path(path);
    g_autoptr(GFileOutputStream)
                  out = g_file_replace(to, NULL, FALSE, G_FILE_CREATE_NONE, NULL, NULL);
    g_assert_cmpint(g_output_stream_splice(G_OUTPUT_STREAM(out), stream,
                                           G_OUTPUT_STREAM_SPLICE_CLOSE_TARGET, NULL, NULL),
                    >, 0);
    return path;
}

static void
test_real_files(void)
{
    static const struct {
        const char *path;
        guint triangles;
        const char *unit;
    } files[] = {
        {"/usr/share/doc/netgen/examples/hinge.stl", 1212, "mm"},
        {"/usr/share/doc/netgen/examples/part1.stl", 380, "in"},
        {"/usr/share/doc/gmsh-doc/converters/stl_to_cartesian/lever.stl.gz", 774, "mm"},
    };
    guint found = 0;
    g_autofree char *folder = check_folder();
    for (gsize i = 0; i < G_N_ELEMENTS(files); i++) {
        g_autoptr(GError) error = NULL;
        g_autofree char *path = fetch_real_file(files[i].path, folder);
        if (!path)
            continue;
        found++;
        g_autoptr(SolidMesh) mesh = solid_read(path, NULL, NULL, &error);
        g_assert_no_error(error);
        g_assert_cmpuint(mesh->n_triangles, ==, files[i].triangles);
        g_assert_true(solid_check(mesh).closed);
        g_assert_cmpuint(solid_check(mesh).shells, ==, 1);
        g_assert_cmpstr(solid_guess_unit(mesh), ==, files[i].unit);
        check_close(solid_measure(mesh).volume, (double)mesh_volume(mesh), 1e-12, "plain sum");
#ifdef HAVE_ASSIMP
        compare_file(path);
#endif
    }
    if (found == 0)
        g_test_skip("no real parts are installed (netgen-doc, gmsh-doc)");
    check_folder_remove(folder);
}

// The number after a label in a report.
static double
find_number(const char *report, const char *label)
{
    const char *at = strstr(report, label);
    g_assert_nonnull(at);
    at += strlen(label);
    return g_ascii_strtod(at + strspn(at, " :"), NULL);
}

static void
judge_by_admesh(const char *admesh, const char *folder, const SolidMesh *mesh)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_build_filename(folder, "out.stl", NULL);
    g_assert_true(solid_write_stl(mesh, path, TRUE, &error));
    // It counts parts only while it looks at directions.
    const char *const argv[] = {admesh, "--exact", "--normal-directions", path, NULL};
    g_autofree char *report = NULL;
    g_assert_true(g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_STDERR_TO_DEV_NULL, NULL, NULL,
                               &report, NULL, NULL, NULL));
    SolidCheck c = solid_check(mesh);
    SolidMeasure m = solid_measure(mesh);
    double facets = find_number(report, "Number of facets");
    double open = find_number(report, "Total disconnected facets");
    check_close(facets, mesh->n_triangles, 0, "admesh");
    g_assert_cmpint(open == 0, ==, c.open_edges == 0);
    if (c.closed) {
        check_close(find_number(report, "Number of parts"), c.shells, 0, "admesh");
        check_close(find_number(report, "Volume"), m.volume * 1e9, 1e-4,
                    "admesh, single precision");
    }
}

static void
test_admesh(void)
{
    g_autofree char *admesh = g_find_program_in_path("admesh");
    if (!admesh) {
        g_test_skip("admesh is not installed");
        return;
    }
    g_autofree char *folder = check_folder();
    g_autoptr(SolidMesh) part = make_part();
    g_autoptr(SolidMesh) torus = check_mesh_torus(0.0413, 0.0119, 60, 40);
    judge_by_admesh(admesh, folder, part);
    judge_by_admesh(admesh, folder, torus);
    g_autoptr(SolidMesh) open = solid_mesh_new(torus->n_vertices, torus->n_triangles - 7);
    memcpy(open->vertices, torus->vertices, torus->n_vertices * sizeof(Vec3));
    memcpy(open->triangles, torus->triangles, (gsize)open->n_triangles * sizeof *open->triangles);
    judge_by_admesh(admesh, folder, open);
    check_folder_remove(folder);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/solid/read-opinions/assimp", test_assimp);
    g_test_add_func("/solid/read-opinions/real-files", test_real_files);
    g_test_add_func("/solid/read-opinions/admesh", test_admesh);
    return g_test_run();
}
