// SPDX-License-Identifier: GPL-3.0-or-later
// Reading one mesh of 100 thousand triangles in every format, beside the assimp library's import of
// the same bytes, one thread each. Prints times and ratios and asserts nothing.
#include <stdlib.h>
#include <string.h>
#include <time.h>
#ifdef HAVE_ASSIMP
#include <assimp/cimport.h>
#include <assimp/scene.h>
#endif

#include "solid/mesh-text.h"
#include "solid/read.h"

#define RUNS 5

// Of processor time, which a busy machine disturbs less than the clock on the wall.
static double
get_seconds(void)
{
    struct timespec t;
    clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
    return (double)t.tv_sec + 1e-9 * (double)t.tv_nsec;
}

static int
compare_doubles(const void *a, const void *b)
{
    double x = *(const double *)a, y = *(const double *)b;
    return (x > y) - (x < y);
}

static double
get_median(double values[RUNS])
{
    qsort(values, RUNS, sizeof *values, compare_doubles);
    return values[RUNS / 2];
}

static double
time_ours(const GByteArray *data, const char *name)
{
    double times[RUNS];
    for (int i = 0; i < RUNS; i++) {
        g_autoptr(GError) error = NULL;
        double start = get_seconds();
        g_autoptr(SolidMesh)
                      mesh = solid_read_bytes(data->data, data->len, name, "mm", NULL, &error);
        times[i] = get_seconds() - start;
        g_assert_no_error(error);
        g_assert_cmpuint(mesh->n_triangles, >, 0);
    }
    return get_median(times);
}

static double
time_assimp(const GByteArray *data, const char *name)
{
#ifdef HAVE_ASSIMP
    double times[RUNS];
    for (int i = 0; i < RUNS; i++) {
        double start = get_seconds();
        const struct aiScene *scene = aiImportFileFromMemory((const char *)data->data, data->len, 0,
                                                             strrchr(name, '.') + 1);
        times[i] = get_seconds() - start;
        if (scene)
            aiReleaseImport(scene);
    }
    return get_median(times);
#else
    return 0;
#endif
}

int
main(int argc, char **argv)
{
    g_autoptr(SolidMesh) sphere = check_mesh_sphere(0.05, 224, 224);
    g_autoptr(SolidMesh) mesh = check_mesh_turned(sphere);
    g_print("%u triangles, processor seconds, middle of %d runs; we weld, assimp does not\n",
            mesh->n_triangles, RUNS);
    for (int kind = 0; kind < MESH_KINDS; kind++) {
        g_autoptr(GByteArray) data = mesh_text(mesh, kind);
        double ours = time_ours(data, mesh_kind_names[kind]);
        double theirs = time_assimp(data, mesh_kind_names[kind]);
        g_print("  %-10s %6.1f MB  %.4f", mesh_kind_names[kind], data->len / 1e6, ours);
        if (theirs > 0)
            g_print(", assimp %.4f, ratio %.1f", theirs, theirs / ours);
        g_print("\n");
    }
    return 0;
}
