// SPDX-License-Identifier: GPL-3.0-or-later
// The exact distance transform at 256 cells a side, voxelising a million triangles, and the search
// for the pull on a part of a hundred thousand. Prints times, asserts nothing.
#include <glib.h>
#include <stdio.h>

#include "bumpy.h"
#include "check.h"
#include "part/search.h"
#include "solid/grid.h"

typedef struct {
    gint64 start, first;
} Watch;

static double
get_seconds(const Watch *watch)
{
    return 1e-6 * (double)(g_get_monotonic_time() - watch->start);
}

static void
note_first(const SearchResult *first, gpointer data)
{
    Watch *watch = data;
    watch->first = g_get_monotonic_time();
}

static void
time_transform(int n)
{
    g_autoptr(SolidGrid) shape = solid_grid_new(n, n, n, 1e-3, vec3(0, 0, 0));
    gsize cells = (gsize)n * n * n;
    g_autofree guint8 *inside = g_new0(guint8, cells);
    for (gsize at = 0; at < cells; at += 7919)
        inside[at] = 1;
    Watch watch = {.start = g_get_monotonic_time()};
    g_autoptr(SolidGrid) distance = solid_grid_edt(inside, shape, NULL, NULL);
    g_print("distance transform %d^3: %.3f s\n", n, get_seconds(&watch));
    g_assert_nonnull(distance);
}

static void
time_voxels(guint32 triangles, double cell)
{
    g_autoptr(SolidMesh) mesh = bumpy_sphere(triangles, 0.05);
    g_autoptr(SolidGrid) shape = solid_grid_new(256, 256, 256, cell,
                                                vec3(-128 * cell, -128 * cell, -128 * cell));
    Watch watch = {.start = g_get_monotonic_time()};
    g_autofree guint8 *inside = solid_grid_inside(mesh, shape, NULL, NULL);
    g_print("voxels of %u triangles at 256^3: %.3f s\n", mesh->n_triangles, get_seconds(&watch));
    g_assert_nonnull(inside);
}

static void
time_search(guint32 triangles)
{
    g_autoptr(SolidMesh) mesh = bumpy_sphere(triangles, 0.05);
    EnvelopeOptions o = {.draft = 0.035, .allowance = 0.002};
    SearchResult result;
    g_autoptr(GError) error = NULL;
    Watch watch = {.start = g_get_monotonic_time()};
    if (!search_pulls(mesh, &o, &result, note_first, &watch, NULL, &error)) {
        g_print("search: %s\n", error->message);
        return;
    }
    g_print("search, %u triangles: %u directions, first ranking %.2f s, all %.2f s\n",
            mesh->n_triangles, result.directions, 1e-6 * (double)(watch.first - watch.start),
            get_seconds(&watch));
}

int
main(void)
{
    time_transform(128);
    time_transform(256);
    time_voxels(1000000, 0.0005);
    time_search(10000);
    time_search(100000);
    return 0;
}
