// SPDX-License-Identifier: GPL-3.0-or-later
// All sand covers of a flask of twelve cavities of a hundred thousand triangles, measured anew and
// after one cavity has moved. Prints times, asserts nothing.
#include <glib.h>
#include <math.h>
#include <stdlib.h>

#include "bumpy.h"
#include "check.h"
#include "mould/build.h"
#include "mould/cover.h"
#include "mould/fixed.h"
#include "mould/space.h"

#define RUNS 101

static int
compare_times(const void *a, const void *b)
{
    double p = *(const double *)a, q = *(const double *)b;
    return (p > q) - (p < q);
}

static void
tell(const char *what, double *ms, guint n)
{
    qsort(ms, n, sizeof *ms, compare_times);
    g_print("%-34s p50 %7.3f ms  p95 %7.3f ms\n", what, ms[n / 2], ms[n * 95 / 100]);
}

static MouldLayout *
make_layout(void)
{
    MouldLayout *l = mould_layout_new();
    l->length = 0.9;
    l->width = 0.45;
    l->cope = l->drag = 0.12;
    l->n_cavities = 12;
    l->cavities = g_new0(MouldCavity, 12);
    for (int i = 0; i < 12; i++) {
        double x = -0.325 + 0.13 * (i / 2), y = i % 2 ? 0.11 : -0.11;
        l->cavities[i] = (MouldCavity){x, y, i % 2 ? G_PI : 0, NAN, NAN, x, y};
    }
    l->runners = g_new0(MouldChannel, 1);
    l->n_runners = 1;
    l->runners[0] = (MouldChannel){-0.4, 0, 0.4, 0, 0.014, 0.014};
    l->sprue_bottom_diameter = 0.009;
    l->sprue_top_diameter = 0.019;
    l->sprue_height = 0.12;
    l->well_diameter = 0.02;
    l->well_depth = 0.02;
    return l;
}

static void
time_covers(const char *name, SolidMesh *mesh)
{
    gint64 start = g_get_monotonic_time();
    g_autoptr(MouldBody) body = mould_body_new(mesh, NULL, 0.0005, NULL, NULL);
    g_print("%s, %u triangles, %u points: body %.1f ms, field's step %.2f mm\n", name,
            mesh->n_triangles, body->n_points, 1e-3 * (double)(g_get_monotonic_time() - start),
            1e3 * body->field->cell);
    solid_mesh_unref(mesh);
    g_autoptr(GRand) rand = g_rand_new_with_seed(3);
    double anew[RUNS], odd[RUNS], moved[RUNS];
    for (int i = 0; i < RUNS; i++) {
        g_autoptr(MouldLayout) l = make_layout();
        start = g_get_monotonic_time();
        MouldSpace *even = mould_space_measure(l, body, NULL);
        mould_space_unref(even);
        anew[i] = 1e-3 * (double)(g_get_monotonic_time() - start);
        for (int k = 0; k < 12; k++) {
            l->cavities[k].x += g_rand_double_range(rand, -0.003, 0.003);
            l->cavities[k].turn += g_rand_double_range(rand, -0.1, 0.1);
        }
        start = g_get_monotonic_time();
        g_autoptr(MouldSpace) space = mould_space_measure(l, body, NULL);
        odd[i] = 1e-3 * (double)(g_get_monotonic_time() - start);
        l->cavities[5].x += 0.002;
        start = g_get_monotonic_time();
        MouldSpace *after = mould_space_measure(l, body, space);
        mould_space_unref(after);
        moved[i] = 1e-3 * (double)(g_get_monotonic_time() - start);
    }
    tell("  rows, all covers", anew, RUNS);
    tell("  each moved a little, all covers", odd, RUNS);
    tell("  one cavity moved", moved, RUNS);
}

// A drag: one cavity moved, gates, runners and metal anew, sand measured.
static void
time_drag(void)
{
    MouldWish wish = {.length = 0.9,
                      .width = 0.45,
                      .cope = 0.12,
                      .drag = 0.12,
                      .above = 0.05,
                      .below = 0.05,
                      .cover_wall = 0.025,
                      .cover_between = 0.02,
                      .cover_runner = 0.02,
                      .basin_height = 0.02,
                      .box_x = 0.1,
                      .box_y = 0.1,
                      .wall = 0.02,
                      .cavity_volume = 5.2e-4,
                      .cavity_mass = 1.3,
                      .density = 2400,
                      .discharge = 0.8,
                      .head = 0.14,
                      .mean_head = 0.12,
                      .fill_time = NAN,
                      .wall_time = 20,
                      .pour_factor = 3,
                      .runner_ratio = 4,
                      .gate_ratio = 4,
                      .velocity_limit = 0.5};
    g_autoptr(SolidMesh) mesh = bumpy_sphere(100000, 0.05);
    g_autoptr(SolidOutline) outline = solid_section_mesh(mesh, 2, 0);
    g_autoptr(MouldBody) body = mould_body_new(mesh, outline, 0.0005, NULL, NULL);
    g_autoptr(MouldLayout) rows = make_layout();
    rows->fixed = mould_fixed_new(&wish, outline, outline);
    rows->growth = 1;
    mould_cover_measure(rows, body, NULL);
    PlacementSpot spots[12];
    for (int i = 0; i < 12; i++)
        spots[i] = (PlacementSpot){rows->cavities[i].x, rows->cavities[i].y, rows->cavities[i].turn,
                                   FALSE};
    g_autoptr(MouldLayout) now = mould_layout_moved(rows, spots, 12, 0, 0);
    double ms[RUNS];
    for (int i = 0; i < RUNS; i++) {
        spots[i % 12].x += i % 2 ? 0.001 : -0.001;
        spots[i % 12].turn += 0.02;
        gint64 start = g_get_monotonic_time();
        MouldLayout *next = mould_layout_moved(now, spots, 12, 0, 0);
        ms[i] = 1e-3 * (double)(g_get_monotonic_time() - start);
        mould_layout_unref(now);
        now = next;
    }
    g_print("drag of one of 12, outline of %u points\n", outline->n_points);
    tell("  whole layout", ms, RUNS);
}

int
main(void)
{
    time_covers("bumpy ball", bumpy_sphere(100000, 0.05));
    time_covers("box", check_mesh_box(0.1, 0.08, 0.05));
    time_drag();
    time_covers("ring", check_mesh_torus(0.035, 0.012, 400, 125));
    return 0;
}
