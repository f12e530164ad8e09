// SPDX-License-Identifier: GPL-3.0-or-later
// The stepped filling against closed forms of one cavity, its balance of metal, and layouts made by
// hand.
#include <math.h>

#include "check.h"
#include "mould/flow.h"
#include "mould/gating.h"
#include "mould/loss.h"

#define G MOULD_GRAVITY

static MouldFilling *
run(MouldFlow *flow)
{
    g_autoptr(GError) error = NULL;
    MouldFilling *filling = mould_filling_run(flow, NULL, &error);
    g_assert_no_error(error);
    return filling;
}

// Sprue and gate as one nozzle of area `area` into one cavity; no metal in the channels.
static MouldFlow *
one_nozzle(const MouldLevel *level, double head, double height, double area, double discharge)
{
    MouldFlow *f = mould_flow_new();
    f->network = mould_network_new(G, MOULD_VISCOSITY);
    guint basin = mould_network_add_head(f->network, head);
    guint outlet = mould_network_add_head(f->network, height);
    MouldLink link = {.from = basin, .to = outlet, .area = area, .before = -1};
    link.loss = 1 / (discharge * discharge);
    f->sprue = mould_network_add_link(f->network, &link);
    f->gravity = G;
    f->head = head;
    f->sprue_loss = link.loss;
    f->sprue_area = area;
    f->level = level;
    f->n_cavities = f->n_gates = 1;
    f->gates = g_new0(MouldGate, 1);
    f->gates[0] = (MouldGate){f->sprue, outlet, 0, height, area};
    return f;
}

static void
test_level(void)
{
    g_autoptr(MouldLevel) prism = mould_level_prism(0.0137, -0.021, 0.044);
    check_close(mould_level_volume(prism), 0.0137 * 0.065, 1e-14, "prism");
    check_close(mould_level_height(prism, 0.0137 * 0.03), 0.009, 1e-12, "prism");
    g_assert_cmpfloat(mould_level_height(prism, -1), ==, -0.021);
    g_assert_cmpfloat(mould_level_height(prism, 1), ==, 0.044);
    double disc = 6.1e-4;
    g_autoptr(MouldLevel) both = mould_level_with_post(prism, disc, 0, 0.058);
    check_close(mould_level_volume(both), 0.0137 * 0.065 + disc * 0.058, 1e-12, "with a riser");
    g_assert_cmpfloat(fabs(mould_level_height(both, 0.0137 * 0.021)), <, 1e-9);
    check_close(mould_level_below(both, 0.02), 0.0137 * 0.041 + disc * 0.02, 1e-12, "riser");
    check_close(mould_level_height(both, 0.0137 * 0.065 + disc * 0.05), 0.05, 1e-9, "riser alone");
}

static void
test_level_grid(void)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh) ball = check_mesh_sphere(0.0213, 90, 180);
    g_autoptr(SolidGrid) grid = solid_grid_distance(ball, 0.0007, 0.003, 0.003, NULL, &error);
    g_assert_no_error(error);
    double r = 0.0213 * 1.013, all = 4 * G_PI / 3 * r * r * r;
    g_autoptr(MouldLevel) level = mould_level_grid(grid, 1.013, -r, r, all);
    check_close(mould_level_volume(level), all, 1e-12, "brought to the volume");
    for (double z = -0.9 * r; z < r; z += 0.137 * r) {
        double h = z + r, cap = G_PI * h * h * (3 * r - h) / 3;
        check_close(mould_level_below(level, z) + all, cap + all, 0.002, "spherical cap");
        check_close(mould_level_height(level, cap) + 2 * r, h + r, 0.01, "spherical cap");
    }
}

static void
test_one_cavity(void)
{
    // Mould 50 x 25 x 15 cm, head 15 cm over the gate, gate 5 cm2.
    g_autoptr(MouldLevel) level = mould_level_prism(0.5 * 0.25, 0, 0.1403);
    g_autoptr(MouldFlow) low = one_nozzle(level, 0.15, 0, 5e-4, 0.83);
    g_autoptr(MouldFilling) bottom = run(low);
    check_close(bottom->time, mould_fill_bottom(0.125, 0.1403, 5e-4, 0.83, 0.15, G), 1e-3,
                "Ghosh and Mallik, bottom gate, nearly as tall as the head");
    g_autoptr(MouldLevel) less = mould_level_prism(0.5 * 0.25, 0, 0.11);
    g_autoptr(MouldFlow) lower = one_nozzle(less, 0.15, 0, 5e-4, 0.83);
    g_autoptr(MouldFilling) shorter = run(lower);
    check_close(shorter->time, mould_fill_bottom(0.125, 0.11, 5e-4, 0.83, 0.15, G), 5e-4,
                "Ghosh and Mallik, bottom gate");
    check_close(bottom->poured, mould_level_volume(level), 1e-8, "balance");
    g_autoptr(MouldFlow) high = one_nozzle(level, 0.15 + 0.1403, 0.1403, 5e-4, 0.83);
    g_autoptr(MouldFilling) top = run(high);
    check_close(top->time, mould_fill_top(0.125 * 0.1403, 5e-4, 0.83, 0.15, G), 1e-6,
                "Ghosh and Mallik, top gate");
    check_close(top->gate_velocity, 0.83 * sqrt(2 * G * 0.15), 1e-9, "Torricelli");
    g_assert_cmpfloat(top->gate_spread, ==, 0);
    // Through the parting: first as a top gate, then from below.
    g_autoptr(MouldLevel) split = mould_level_prism(0.0213, -0.037, 0.053);
    g_autoptr(MouldFlow) middle = one_nozzle(split, 0.117, 0, 1.7e-4, 0.79);
    g_autoptr(MouldFilling) parting = run(middle);
    double time = mould_fill_top(0.0213 * 0.037, 1.7e-4, 0.79, 0.117, G) +
                  mould_fill_bottom(0.0213, 0.053, 1.7e-4, 0.79, 0.117, G);
    check_close(parting->time, time, 1e-3, "one after the other");
    check_close(parting->poured, mould_level_volume(split), 1e-8, "balance");
}

static void
test_never_full(void)
{
    g_autoptr(MouldLevel) level = mould_level_prism(0.0213, 0, 0.2);
    g_autoptr(MouldFlow) flow = one_nozzle(level, 0.117, 0, 1.7e-4, 0.79);
    g_autoptr(MouldFilling) filling = run(flow);
    g_assert_cmpint(isnan(filling->time), !=, 0);
    g_assert_cmpint(isnan(filling->cavity_time[0]), !=, 0);
    g_assert_cmpfloat(filling->poured, <, 0.0213 * 0.1171);
}

static void
test_stopped(void)
{
    g_autoptr(MouldLevel) level = mould_level_prism(0.0213, 0, 0.05);
    g_autoptr(MouldFlow) flow = one_nozzle(level, 0.117, 0, 1.7e-4, 0.79);
    g_autoptr(GError) error = NULL;
    Progress *progress = progress_new();
    progress_stop(progress);
    g_assert_null(mould_filling_run(flow, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
    progress_unref(progress);
}

typedef struct {
    MouldLayout layout;
    MouldCavity cavities[12];
    MouldChannel gates[12], runners[2];
} Made;

// Columns of two at both arms of a runner along x.
static void
make(Made *m, guint columns, double runner, double volume)
{
    MouldLayout *l = &m->layout;
    *l = (MouldLayout){.cope = 0.09,
                       .basin_height = 0.02,
                       .sprue_top_diameter = 0.0181,
                       .sprue_bottom_diameter = 0.0119,
                       .sprue_height = 0.09,
                       .well_diameter = 0.0263,
                       .well_depth = 0.02,
                       .basin_diameter = 0.044};
    l->cavities = m->cavities;
    l->gates = m->gates;
    l->runners = m->runners;
    l->n_runners = 2;
    double pitch = 0.061, end = (columns / 2 - 0.5) * pitch + 0.02;
    m->runners[0] = (MouldChannel){0.013, 0.001, end, 0.001, runner, runner};
    m->runners[1] = (MouldChannel){-0.013, 0.001, -end, 0.001, runner, runner};
    l->sprue_y = 0.001;
    for (guint i = 0; i < columns; i++)
        for (int side = 0; side < 2; side++) {
            double x = (i - (columns - 1) / 2.0) * pitch;
            m->gates[l->n_gates++] = (MouldChannel){x,    0.001, x, side ? -0.04 : 0.042,
                                                    0.02, 0.0041};
        }
    l->n_cavities = l->n_gates;
    l->metal_volume = volume * l->n_cavities + 1.1e-4;
}

static void
test_layout(void)
{
    Made made;
    make(&made, 4, 0.0151, 3.1e-5);
    g_autoptr(MouldLevel) level = mould_level_prism(3.1e-3, -0.004, 0.006);
    g_autoptr(MouldFlow) flow = mould_flow_build(&made.layout, level, NULL);
    g_assert_cmpuint(flow->n_reaches, ==, 4);
    g_autoptr(MouldFilling) f = run(flow);
    g_assert_cmpuint(f->n_gates, ==, 8);
    check_close(f->poured, made.layout.metal_volume, 1e-8, "poured is what the mould holds");
    // Left and right alike; so are the two gates of a place (one is 2 mm shorter).
    check_close(f->cavity_time[0], f->cavity_time[6], 1e-9, "left and right");
    check_close(f->cavity_time[3], f->cavity_time[5], 1e-9, "left and right");
    g_assert_cmpfloat(f->gate_spread, >, 0);
    g_assert_cmpfloat(f->gate_spread, <, 0.5);
    g_assert_cmpfloat(f->time, >, f->prime_time);
    g_assert_cmpfloat(f->start_flow, >, f->mean_flow * 0.8);
    check_close(f->lost[0] + f->lost[1] + f->lost[2], 0.11, 0.06, "all of the head is lost");
    // A wider runner shares more evenly.
    Made wide;
    make(&wide, 4, 0.0221, 3.1e-5);
    g_autoptr(MouldFlow) other = mould_flow_build(&wide.layout, level, NULL);
    g_autoptr(MouldFilling) even = run(other);
    g_assert_cmpfloat(even->gate_spread, <, f->gate_spread);
    g_assert_cmpfloat(even->fill_spread, <, f->fill_spread);
}

static void
test_history(void)
{
    // The flows kept, summed over time, are the metal of the cavities.
    Made made;
    make(&made, 6, 0.0151, 3.1e-5);
    g_autoptr(MouldLevel) level = mould_level_prism(3.1e-3, -0.004, 0.006);
    g_autoptr(MouldFlow) flow = mould_flow_build(&made.layout, level, NULL);
    g_autoptr(MouldFilling) f = run(flow);
    double sum = 0;
    for (guint t = 1; t < f->n_times; t++)
        for (guint g = 0; g < f->n_gates; g++)
            sum += (f->times[t] - f->times[t - 1]) / 2 *
                   (f->flows[t * f->n_gates + g] + f->flows[(t - 1) * f->n_gates + g]);
    check_close(sum, 12 * mould_level_volume(level), 1e-3, "trapezoids");
    g_assert_cmpfloat(f->times[0], ==, f->prime_time);
    check_close(f->times[f->n_times - 1], f->time, 1e-12, "until all are full");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/filling/level", test_level);
    g_test_add_func("/mould/filling/level-grid", test_level_grid);
    g_test_add_func("/mould/filling/one-cavity", test_one_cavity);
    g_test_add_func("/mould/filling/never-full", test_never_full);
    g_test_add_func("/mould/filling/stopped", test_stopped);
    g_test_add_func("/mould/filling/layout", test_layout);
    g_test_add_func("/mould/filling/history", test_history);
    return g_test_run();
}
