// SPDX-License-Identifier: GPL-3.0-or-later
// Volumes against other people's programs, where they are installed: admesh (single precision), and
// the triangles that assimp reads from the same file, summed here in long double.
#include "run.h"

#include <string.h>

// What `program` printed; fails if it cannot be run. Free.
static char *
run_other(const char *const *words)
{
    g_autoptr(GError) error = NULL;
    char *out = NULL;
    int status = 0;
    g_spawn_sync(NULL, (char **)words, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDERR_TO_DEV_NULL, NULL,
                 NULL, &out, NULL, &status, &error);
    g_assert_no_error(error);
    g_spawn_check_wait_status(status, &error);
    g_assert_no_error(error);
    return out;
}

// m3, of a file in mm; NAN without admesh.
static double
volume_by_admesh(const char *path)
{
    g_autofree char *program = g_find_program_in_path("admesh");
    if (!program)
        return NAN;
    const char *words[] = {program, path, NULL};
    g_autofree char *out = run_other(words);
    const char *at = strstr(out, "Volume");
    g_assert_nonnull(at);
    at = strchr(at, ':');
    g_assert_nonnull(at);
    return g_ascii_strtod(at + 1, NULL) * 1e-9;
}

// Sum of the tetrahedra between the origin and the facets of an ASCII STL in mm; m3.
static double
sum_facets(const char *text)
{
    long double sum = 0, v[3][3];
    int n = 0;
    for (const char *p = strstr(text, "vertex"); p; p = strstr(p, "vertex")) {
        p += strlen("vertex");
        for (int i = 0; i < 3; i++) {
            char *end;
            v[n][i] = g_ascii_strtod(p, &end);
            p = end;
        }
        if (++n < 3)
            continue;
        n = 0;
        sum += v[0][0] * (v[1][1] * v[2][2] - v[1][2] * v[2][1]) +
               v[0][1] * (v[1][2] * v[2][0] - v[1][0] * v[2][2]) +
               v[0][2] * (v[1][0] * v[2][1] - v[1][1] * v[2][0]);
    }
    return (double)(sum / 6 * 1e-9L);
}

static double
volume_by_assimp(const char *folder, const char *path)
{
    g_autofree char *program = g_find_program_in_path("assimp");
    if (!program)
        return NAN;
    g_autofree char *to = g_build_filename(folder, "ascii.stl", NULL);
    const char *words[] = {program, "export", path, to, "-fstl", NULL};
    g_free(run_other(words));
    g_autofree char *text = NULL;
    g_autoptr(GError) error = NULL;
    g_file_get_contents(to, &text, NULL, &error);
    g_assert_no_error(error);
    return sum_facets(text);
}

static guint compared;

static void
check_mesh(const char *folder, const char *path)
{
    g_autofree char *line = g_strdup_printf("new v.castbook --replace --mesh '%s' --unit mm", path);
    Run made = run_expect(folder, line, 0);
    run_clear(&made);
    run_coarsen(folder, "v.castbook");
    g_auto(Run) run = run_cli(folder, "plan v.castbook --json"); // it need not fit the flask
    g_autoptr(JsonParser) parser = json_parser_new();
    double volume = run_value(run_figures(parser, &run), "part.volume");
    double admesh = volume_by_admesh(path), assimp = volume_by_assimp(folder, path);
    if (!isnan(admesh)) {
        check_close(admesh, volume, 1e-4, "admesh, single precision");
        compared++;
    }
    if (!isnan(assimp)) {
        check_close(volume, assimp, 1e-5, "triangles read by assimp");
        compared++;
    }
}

static void
test_demo(void)
{
    g_autofree char *folder = check_folder();
    g_autofree char *demo = g_build_filename(g_getenv("FW_SOURCE_DIR"), "data", "demo", NULL);
    g_autoptr(GDir) dir = g_dir_open(demo, 0, NULL);
    const char *name;
    compared = 0;
    while ((name = g_dir_read_name(dir))) {
        g_autofree char *path = g_build_filename(demo, name, NULL);
        if (g_str_has_suffix(name, ".stl"))
            check_mesh(folder, path);
    }
    check_folder_remove(folder);
    if (compared == 0)
        g_test_skip("neither admesh nor assimp is installed");
}

static void
test_made(void)
{
    g_autofree char *folder = check_folder();
    g_autofree char *path = g_build_filename(folder, "m.stl", NULL);
    g_autoptr(SolidMesh) plate = check_mesh_blind_plate(0.0617, 0.0431, 0.0233, 0.0113, 0.0157, 24);
    compared = 0;
    run_write_mesh(folder, "m.stl", check_mesh_torus(0.0317, 0.0093, 48, 32));
    check_mesh(folder, path);
    run_write_mesh(folder, "m.stl", check_mesh_turned(plate));
    check_mesh(folder, path);
    check_folder_remove(folder);
    if (compared == 0)
        g_test_skip("neither admesh nor assimp is installed");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/cli/volume/demo", test_demo);
    g_test_add_func("/cli/volume/made", test_made);
    return g_test_run();
}
