// SPDX-License-Identifier: GPL-3.0-or-later
// Reading, checking and measuring a bumpy closed sphere as binary STL, beside the admesh library on
// the same file, by turns in the same run, one thread each. Prints times and ratios and asserts
// nothing. Arguments: triangle counts in thousands; default 100 and 1000, with "large" also 5000.
#include <glib.h>
#include <glib/gstdio.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#ifdef HAVE_ADMESH
#include <admesh/stl.h>
#endif

#include "bumpy.h"
#include "solid/check.h"
#include "solid/measure.h"
#include "solid/read.h"
#include "solid/write.h"

#define RUNS 5

typedef struct {
    double read, weld, check, measure, total, admesh;
} Times;

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
get_median(double *values, int n)
{
    qsort(values, (gsize)n, sizeof *values, compare_doubles);
    return values[n / 2];
}

// How the triangles follow one another. A reader that keeps unmatched edges in a table of fixed
// size is quick in strips and slow where neighbours lie far apart, so one order alone proves
// little.
typedef enum {
    ORDER_STRIPS, // as made above
    ORDER_HALVES, // the first triangle of every quad, then the second: common in scripts
    ORDER_RANDOM,
    ORDERS,
} Order;

static const char *const order_names[ORDERS] = {"strips", "halves", "random"};

static void
part_triangles(SolidMesh *mesh)
{
    guint32 n = mesh->n_triangles, m = 0;
    guint32(*t)[3] = g_malloc_n(n, sizeof *t);
    for (guint32 half = 0; half < 2; half++)
        for (guint32 i = half; i < n; i += 2)
            memcpy(t[m++], mesh->triangles[i], sizeof *t);
    g_free(mesh->triangles);
    mesh->triangles = t;
}

static void
shuffle_triangles(SolidMesh *mesh)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(20117);
    for (guint32 i = mesh->n_triangles - 1; i > 0; i--) {
        guint32 j = g_rand_int(rand) % (i + 1), keep[3];
        memcpy(keep, mesh->triangles[i], sizeof keep);
        memcpy(mesh->triangles[i], mesh->triangles[j], sizeof keep);
        memcpy(mesh->triangles[j], keep, sizeof keep);
    }
}

// Every triangle with corners of its own, as an STL holds them.
static SolidMesh *
make_loose(const SolidMesh *mesh)
{
    SolidMesh *loose = solid_mesh_new(3 * mesh->n_triangles, mesh->n_triangles);
    for (guint32 i = 0; i < loose->n_vertices; i++) {
        loose->vertices[i] = mesh->vertices[mesh->triangles[i / 3][i % 3]];
        loose->triangles[i / 3][i % 3] = i;
    }
    return loose;
}

static double
time_admesh(const char *path, double *volume)
{
#ifdef HAVE_ADMESH
    stl_file stl;
    g_autofree char *name = g_strdup(path);
    double start = get_seconds();
    stl_open(&stl, name);
    stl_check_facets_exact(&stl);
    stl_calculate_volume(&stl);
    double time = get_seconds() - start;
    *volume = (double)stl.stats.volume * 1e-9;
    stl_close(&stl);
    return time;
#else
    *volume = 0;
    return 0;
#endif
}

static Times
time_file(const char *path, gboolean with_admesh)
{
    double read[RUNS], weld[RUNS], check[RUNS], measure[RUNS], total[RUNS], admesh[3];
    double theirs = 0;
    SolidMeasure m = {0};
    SolidCheck c = {0};
    for (int i = 0; i < RUNS; i++) {
        g_autoptr(GError) error = NULL;
        double t0 = get_seconds();
        g_autoptr(SolidMesh) mesh = solid_read(path, "mm", NULL, &error);
        double t1 = get_seconds();
        g_assert_no_error(error);
        c = solid_check(mesh);
        double t2 = get_seconds();
        m = solid_measure(mesh);
        double t3 = get_seconds();
        g_autoptr(SolidMesh) loose = make_loose(mesh);
        double t4 = get_seconds();
        g_autoptr(SolidMesh) welded = solid_mesh_weld(loose);
        weld[i] = get_seconds() - t4;
        if (with_admesh && i < 3) // by turns, so that both meet the same machine
            admesh[i] = time_admesh(path, &theirs);
        g_assert_cmpuint(welded->n_vertices, ==, mesh->n_vertices);
        read[i] = t1 - t0, check[i] = t2 - t1, measure[i] = t3 - t2, total[i] = t3 - t0;
    }
    g_print("  closed %d, volume %.9g m3", c.closed, m.volume);
    if (with_admesh)
        g_print(", admesh %.9g m3 (single precision)", theirs);
    g_print("\n");
    return (Times){get_median(read, RUNS),  get_median(weld, RUNS),
                   get_median(check, RUNS), get_median(measure, RUNS),
                   get_median(total, RUNS), with_admesh ? get_median(admesh, 3) : 0};
}

static Times
time_size(guint thousands, Order order, const char *folder)
{
    g_autoptr(GError) error = NULL;
    g_autofree char *path = g_build_filename(folder, "sphere.stl", NULL);
    guint32 sides = (guint32)sqrt(1000.0 * thousands), rings = 500 * thousands / sides;
    guint32 n;
    {
        g_autoptr(SolidMesh) mesh = bumpy_rings(rings, sides, 0.05);
        n = mesh->n_triangles;
        if (order == ORDER_HALVES)
            part_triangles(mesh);
        if (order == ORDER_RANDOM)
            shuffle_triangles(mesh);
        solid_write_stl(mesh, path, TRUE, &error);
        g_assert_no_error(error);
    }
    g_print("%u triangles in order \"%s\", processor seconds, middle of %d runs\n", n,
            order_names[order], RUNS);
    gboolean with_admesh = thousands <= 1000;
#ifndef HAVE_ADMESH
    with_admesh = FALSE;
#endif
    Times t = time_file(path, with_admesh);
    g_print("  read and weld %.4f, check %.4f, measure %.4f, total %.4f: %.1f ns a triangle\n",
            t.read, t.check, t.measure, t.total, t.total * 1e9 / n);
    g_print("  weld alone, of loose triangles in memory, %.4f\n", t.weld);
    if (with_admesh)
        g_print("  admesh: read, neighbours, volume %.4f; ratio %.1f\n", t.admesh,
                t.admesh / t.total);
    g_unlink(path);
    return t;
}

int
main(int argc, char **argv)
{
    guint sizes[16] = {100, 1000}, n = 2;
    gboolean large = g_getenv("FW_BENCH_LARGE") != NULL;
    if (argc > 1 && strcmp(argv[1], "large") != 0) {
        for (n = 0; (int)n + 1 < argc && n < 15; n++)
            sizes[n] = (guint)CLAMP(g_ascii_strtoull(argv[n + 1], NULL, 10), 1, 20000);
    } else if (large || argc > 1) {
        sizes[n++] = 5000;
    }
    g_autoptr(GError) error = NULL;
    g_autofree char *folder = g_dir_make_tmp("flaskwright-bench-XXXXXX", &error);
    g_assert_no_error(error);
    Times previous = {0};
    for (guint i = 0; i < ORDERS * n; i++) {
        guint size = sizes[i % n];
        Times t = time_size(size, i / n, folder);
        if (i % n > 0)
            g_print("  growth from %u to %u thousand: %.2f times the time a triangle\n",
                    sizes[i % n - 1], size, t.total / previous.total * sizes[i % n - 1] / size);
        previous = t;
    }
    g_rmdir(folder);
    return 0;
}
