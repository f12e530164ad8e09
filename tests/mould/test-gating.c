// SPDX-License-Identifier: GPL-3.0-or-later
// Gating formulas against worked textbook examples.
#include "check.h"
#include "mould/gating.h"

static void
test_groover_sprue(void)
{
    // Sprue 20 cm, base 2.5 cm2, cavity 1560 cm3, g 981 cm/s2.
    check_close(mould_velocity(1, 0.2, 9.81), 1.98090888, 1e-8, "Groover 10.2, unrounded");
    check_close(mould_velocity(1, 0.2, 9.81), 1.981, 0.0005, "Groover 10.2 as printed");
    check_close(mould_velocity(1, 0.2, 9.81) * 2.5e-4, 495.227221e-6, 1e-8, "Groover 10.2");
    double time = mould_fill_top(1560e-6, 2.5e-4, 1, 0.2, 9.81);
    check_close(time, 3.150069, 1e-6, "Groover 10.2, unrounded");
    check_close(time, 3.2, 0.02, "Groover 10.2 as printed");
}

static void
test_other_sprues(void)
{
    double time = mould_fill_top(1376e-6, 444e-6, 1, 0.175, 9.81);
    check_close(time, 1.672503, 1e-6, "exercise, unrounded");
    check_close(time, 1.67, 0.005 / 1.67 + 0.005, "exercise as printed");
    double area = G_PI / 4 * 0.01 * 0.01;
    check_close(mould_velocity(1, 0.25, 9.81) * area, 173943.9737e-9, 1e-8, "10 mm, 250 mm");
    check_close(mould_velocity(1, 0.25, 9.81) * 78.53e-6, 173942.13e-9, 0.001, "as printed");
    check_close(mould_fill_top(1e-3, area, 1, 0.25, 9.81), 5.748978, 1e-6, "cube of 100 mm");
}

static void
test_top_and_bottom_gate(void)
{
    // Mould 50 x 25 x 15 cm, head 15 cm, gate 5 cm2.
    double top = mould_fill_top(0.5 * 0.25 * 0.15, 5e-4, 1, 0.15, 9.81);
    double bottom = mould_fill_bottom(0.5 * 0.25, 0.15, 5e-4, 1, 0.15, 9.81);
    check_close(top, 21.859294, 1e-7, "Ghosh and Mallik problem 2.1");
    check_close(bottom, 43.718589, 1e-7, "Ghosh and Mallik problem 2.1");
    check_close(bottom, 2 * top, 1e-12, "as tall as the head: twice as long");
    g_assert_cmpint(isnan(mould_fill_bottom(0.125, 0.151, 5e-4, 1, 0.15, 9.81)), !=, 0);
}

static void
test_losses(void)
{
    // Problem 2.2: iron, runner 0.12 m of the gate's diameter, one bend of 25 diameters.
    double diameter = sqrt(4 * 5e-4 / G_PI), density = 7800, viscosity = 0.00496;
    double ideal = mould_velocity(1, 0.15, 9.81);
    double reynolds = mould_reynolds(ideal, diameter, density, viscosity);
    double first = mould_discharge(0.45, 0.12, diameter, 25, ideal, density, viscosity);
    check_close(reynolds, 68068.8038, 1e-8, "Ghosh and Mallik problem 2.2, first pass");
    double second = mould_discharge(0.45, 0.12, diameter, 25, first * ideal, density, viscosity);
    double time = mould_fill_top(0.5 * 0.25 * 0.15, 5e-4, second, 0.15, 9.81);
    check_close(time, 31.578352, 1e-6, "Ghosh and Mallik problem 2.2, K 0.45 throughout");
    second = mould_discharge(0.46, 0.12, diameter, 25, first * ideal, density, viscosity);
    time = mould_fill_top(0.5 * 0.25 * 0.15, 5e-4, second, 0.15, 9.81);
    check_close(time, 31.653919, 1e-5, "Ghosh and Mallik problem 2.2 as printed");
}

static void
test_effective_head(void)
{
    check_close(mould_effective_head(0.2, 0, 0.1), 0.200, 1e-12, "top gate");
    check_close(mould_effective_head(0.2, 0.1, 0.1), 0.150, 1e-12, "bottom gate h - c/2");
    check_close(mould_effective_head(0.2, 0.05, 0.1), 0.1875, 1e-12, "P. N. Rao, parting gate");
    check_close(mould_effective_head(0.2, 0, 0), 0.2, 1e-12, "no height");
    // How good the mean head is for a bottom gate: exact time over approximate.
    const double ratio[3] = {0.25, 0.5, 1.0}, expected[3] = {1.00257, 1.01461, 1.41421};
    for (int i = 0; i < 3; i++) {
        double height = ratio[i] * 0.2;
        double exact = mould_fill_bottom(0.01, height, 1e-4, 0.8, 0.2, 9.81);
        double mean = mould_fill_top(0.01 * height, 1e-4, 0.8,
                                     mould_effective_head(0.2, height, height), 9.81);
        check_close(exact / mean, expected[i], 1e-5, "ratio of the two forms");
    }
}

static void
test_choke(void)
{
    double area = mould_choke_area(2.0, 2370, 6, 0.8, 0.15, 9.81);
    check_close(area, 102.481455e-6, 1e-8, "W/(rho t Cd sqrt(2 g H))");
    check_close(mould_fill_top(2.0 / 2370, area, 0.8, 0.15, 9.81), 6, 1e-12, "and back");
}

static void
test_taper(void)
{
    double top = mould_sprue_area(102.3e-6, 0.11, 0.02);
    check_close(top * sqrt(0.02), 102.3e-6 * sqrt(0.11), 1e-12, "continuity without aspiration");
    g_assert_cmpfloat(top, >, 102.3e-6);
}

static void
test_velocity_limits(void)
{
    check_close(mould_critical_velocity(0.90, 2375, 9.81), 0.49385, 2e-5, "aluminium");
    check_close(mould_critical_velocity(1.3, 8000, 9.81), 0.39963, 2e-5, "copper");
    check_close(mould_critical_velocity(0.78, 6560, 9.81), 0.36961, 2e-5, "zinc");
    // A free fall of 12.742 mm is already 0.5 m/s.
    check_close(mould_velocity(1, 0.012742, 9.81), 0.5, 1e-4, "v^2/(2 g)");
    check_close(mould_reynolds(0.5, 0.01, 2370, 1.25e-3), 9480, 1e-9, "rho v D/mu");
}

static void
test_wall_time(void)
{
    // The plain Chvorinov time of a 10 mm aluminium plate in sand.
    check_close(mould_wall_time(0.01, 2700, 397000, 660, 20, 0.6 * 1600 * 1100), 52.157236, 1e-7,
                "Adams and Taylor, 30 digits");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/gating/groover", test_groover_sprue);
    g_test_add_func("/mould/gating/other-sprues", test_other_sprues);
    g_test_add_func("/mould/gating/top-and-bottom", test_top_and_bottom_gate);
    g_test_add_func("/mould/gating/losses", test_losses);
    g_test_add_func("/mould/gating/effective-head", test_effective_head);
    g_test_add_func("/mould/gating/choke", test_choke);
    g_test_add_func("/mould/gating/taper", test_taper);
    g_test_add_func("/mould/gating/velocity-limits", test_velocity_limits);
    g_test_add_func("/mould/gating/wall-time", test_wall_time);
    return g_test_run();
}
