// SPDX-License-Identifier: GPL-3.0-or-later
// The heat flow solver against closed forms: Stefan, Neumann, metal freezing on sand, sand heated
// at its face; and what must always hold: heat conserved, same bytes for any number of threads.
#include "check.h"
#include "freeze/heat.h"

// Aluminium-like metal and dry silica sand, round numbers.
static FreezeMaterials
materials(void)
{
    return (FreezeMaterials){.density = 2700,
                             .cp_solid = 1000,
                             .cp_liquid = 1000,
                             .latent = 397000,
                             .solidus = 660,
                             .liquidus = 660,
                             .conductivity_solid = 230,
                             .conductivity_liquid = 230,
                             .sand_density = 1600,
                             .sand_specific = 1100,
                             .sand_conductivity = 0.6,
                             .pour = 660,
                             .ambient = 20};
}

// A column of n cells along x, the first n_sand of them sand, held at `left` at x-.
static FreezeHeat *
column(int n, int n_sand, double cell, const FreezeMaterials *m, double left)
{
    g_autofree float *share = g_new(float, n);
    for (int i = 0; i < n; i++)
        share[i] = i < n_sand ? 0 : 1;
    double edge[6] = {left, NAN, NAN, NAN, NAN, NAN};
    g_autoptr(GError) error = NULL;
    FreezeHeat *heat = freeze_heat_new(n, 1, 1, cell, share, m, edge, &error);
    g_assert_no_error(error);
    return heat;
}

static void
run_to(FreezeHeat *heat, double time)
{
    g_autoptr(GError) error = NULL;
    while (freeze_heat_time(heat) < time * (1 - 1e-12)) {
        g_assert_true(freeze_heat_step(heat, time, NULL, &error));
        g_assert_no_error(error);
    }
}

// Metal solid from x-, m, counting partly frozen cells by their share.
static double
front(const FreezeHeat *heat, int from, int n, double cell)
{
    double solid = 0;
    for (int i = from; i < n; i++)
        solid += 1 - freeze_heat_liquid_share(heat, i);
    return solid * cell;
}

static void
test_stefan(void)
{
    FreezeMaterials m = materials();
    double cell = 0.5e-3;
    g_autoptr(FreezeHeat) heat = column(160, 0, cell, &m, 20);
    run_to(heat, 1);
    check_close(front(heat, 0, 160, cell), 13.702481e-3, 0.01, "Stefan, lambda 0.7423132151");
    run_to(heat, 10);
    check_close(front(heat, 0, 160, cell), 43.331051e-3, 0.01, "Stefan, lambda 0.7423132151");
}

static void
test_stefan_cells(void)
{
    // Half the cell, at least half the error: with steps that shrink too.
    FreezeMaterials m = materials();
    double miss[2];
    for (int i = 0; i < 2; i++) {
        int n = 40 << i;
        double cell = 0.08 / n;
        g_autoptr(FreezeHeat) heat = column(n, 0, cell, &m, 20);
        freeze_heat_set_growth(heat, 0.004);
        run_to(heat, 10);
        miss[i] = fabs(front(heat, 0, n, cell) - 43.331051e-3);
    }
    g_assert_cmpfloat(miss[1], <=, MAX(0.6 * miss[0], 43.331051e-3 * 0.001));
}

static void
test_neumann(void)
{
    FreezeMaterials m = materials();
    m.density = 2500;
    m.conductivity_liquid = 95;
    m.cp_liquid = 1180;
    m.pour = 720;
    double cell = 0.5e-3;
    g_autoptr(FreezeHeat) heat = column(240, 0, cell, &m, 100);
    run_to(heat, 5);
    check_close(front(heat, 0, 240, cell), 28.0785485e-3, 0.01, "Neumann, lambda 0.654584537065");
    // Cell middles at 4.75 and 5.25 mm, and so on.
    double at5 = (freeze_heat_temperature(heat, 9) + freeze_heat_temperature(heat, 10)) / 2;
    double at30 = (freeze_heat_temperature(heat, 59) + freeze_heat_temperature(heat, 60)) / 2;
    double at50 = (freeze_heat_temperature(heat, 99) + freeze_heat_temperature(heat, 100)) / 2;
    check_close(at5 - 100, 213.607064 - 100, 0.02, "Neumann at 5 mm");
    check_close(at30, 671.772159, 0.005, "Neumann at 30 mm");
    check_close(at50, 717.280829, 0.005, "Neumann at 50 mm");
    run_to(heat, 10);
    check_close(front(heat, 0, 240, cell), 39.7090641e-3, 0.01, "Neumann, lambda 0.654584537065");
}

// Two bodies without end that touch: the face between them keeps the temperature between theirs by
// their effusivities, and each body goes to it by the error function. Carslaw and Jaeger,
// Conduction of Heat in Solids, section 2.15 [from memory].
static void
test_contact(void)
{
    FreezeMaterials m = materials();
    // Never freezes here: the metal is liquid all the way down to the chill's temperature.
    m.solidus = m.liquidus = -40;
    m.pour = 613;
    m.conductivity_solid = m.conductivity_liquid = 95;
    m.cp_solid = m.cp_liquid = 1080;
    const FreezeChill iron = {3.9e6, 45};
    int n = 400, face = 200;
    double cell = 0.4e-3;
    g_autofree float *chill = g_new(float, n);
    for (int i = 0; i < n; i++)
        chill[i] = 1;
    g_autoptr(FreezeHeat) heat = column(n, face, cell, &m, NAN);
    g_autoptr(GError) error = NULL;
    g_assert_true(freeze_heat_set_chill(heat, chill, &iron, &error));
    double before = freeze_heat_content(heat);
    freeze_heat_set_growth(heat, 0.01);
    double metal = sqrt(m.density * m.cp_liquid * m.conductivity_liquid);
    double block = sqrt(iron.capacity * iron.conductivity);
    double between = (metal * m.pour + block * m.ambient) / (metal + block);
    double in_metal = m.conductivity_liquid / (m.density * m.cp_liquid);
    double in_block = iron.conductivity / iron.capacity;
    for (double time = 3; time < 20; time += 8) {
        run_to(heat, time);
        // From both middles next to the face, by the flow between them.
        double a = freeze_heat_temperature(heat, face - 1), b = freeze_heat_temperature(heat, face);
        double at = (iron.conductivity * a + m.conductivity_liquid * b) /
                    (iron.conductivity + m.conductivity_liquid);
        check_close(at - m.ambient, between - m.ambient, 0.003, "Carslaw and Jaeger");
        for (int i = 0; i < 40; i += 7) {
            double x = (i + 0.5) * cell;
            double hot = between + (m.pour - between) * erf(x / sqrt(4 * in_metal * time));
            double cold = between + (m.ambient - between) * erf(x / sqrt(4 * in_block * time));
            g_assert_cmpfloat(fabs(freeze_heat_temperature(heat, face + i) - hot), <, 2);
            g_assert_cmpfloat(fabs(freeze_heat_temperature(heat, face - 1 - i) - cold), <, 2);
        }
    }
    check_close(freeze_heat_content(heat), before, 1e-10, "heat stays");
}

// Sand at one side, a chill at the other: the metal freezes from the chill.
static void
test_chilled_side(void)
{
    FreezeMaterials m = materials();
    m.pour = 700;
    int n = 120;
    double cell = 1e-3;
    g_autofree float *share = g_new0(float, n), *chill = g_new0(float, n);
    for (int i = 50; i < 70; i++)
        share[i] = 1;
    for (int i = 70; i < 85; i++)
        chill[i] = 1;
    double edge[6] = {20, 20, NAN, NAN, NAN, NAN};
    double last[2];
    for (int chilled = 0; chilled < 2; chilled++) {
        g_autoptr(GError) error = NULL;
        g_autoptr(FreezeHeat) heat = freeze_heat_new(n, 1, 1, cell, share, &m, edge, &error);
        const FreezeChill aluminium = {2.6e6, 160};
        if (chilled)
            g_assert_true(freeze_heat_set_chill(heat, chill, &aluminium, &error));
        while (freeze_heat_liquid(heat) > 0)
            g_assert_true(freeze_heat_step(heat, INFINITY, NULL, &error));
        const double *times = freeze_heat_solid_times(heat);
        last[chilled] = 0;
        for (int i = 50; i < 70; i++)
            last[chilled] = fmax(last[chilled], times[i]);
        if (chilled) {
            g_assert_cmpfloat(times[69], <, 0.2 * times[50]);
            for (int i = 69; i > 55; i--)
                g_assert_cmpfloat(times[i], <=, times[i - 1]);
        } else {
            check_close(times[69], times[50], 1e-6, "both sides alike");
        }
    }
    g_assert_cmpfloat(last[1], <, last[0]);
    g_autoptr(GError) error = NULL;
    g_autoptr(FreezeHeat) heat = freeze_heat_new(n, 1, 1, cell, share, &m, edge, &error);
    const FreezeChill none = {0, 45};
    g_assert_false(freeze_heat_set_chill(heat, chill, &none, &error));
    check_error(error, BASE_ERROR_VALUE, "chill");
}

static void
test_ice(void)
{
    FreezeMaterials m = {1000, 1762, 4226, 338000, 0, 0, 2.22, 0.556, 1600, 1100, 0.6, 2, -10};
    double cell = 2e-3;
    g_autoptr(FreezeHeat) heat = column(300, 0, cell, &m, -10);
    run_to(heat, 86400);
    check_close(front(heat, 0, 300, cell), 0.1032828, 0.01, "Neumann, water to ice, 24 h");
}

static void
test_on_sand(void)
{
    // Time to freeze 5 mm of metal on thick sand.
    FreezeMaterials m = materials();
    double cell = 0.25e-3;
    int n_sand = 160, n = n_sand + 20; // 40 mm of sand, 5 mm of metal closed behind
    g_autoptr(FreezeHeat) heat = column(n, n_sand, cell, &m, 20);
    run_to(heat, 52.4853214 * 0.5);
    // With the metal closed behind, the front is not that of a half-space of metal, but the heat
    // taken is: the metal stays within a few kelvin of its melting point.
    double solid = front(heat, n_sand, n, cell);
    check_close(solid, 5e-3 * sqrt(0.5), 0.015, "metal on a semi-infinite mould, z 0.0373885861");
    while (freeze_heat_liquid(heat) > 0)
        g_assert_true(freeze_heat_step(heat, INFINITY, NULL, NULL));
    double last = 0;
    for (int i = n_sand; i < n; i++)
        last = MAX(last, freeze_heat_solid_times(heat)[i]);
    check_close(last, 52.4853214, 0.015, "metal on a semi-infinite mould, z 0.0373885861");
}

static void
test_sand_heated(void)
{
    // A mould face held at 660: temperatures at 5, 10, 20 and 50 mm.
    FreezeMaterials m = materials();
    double cell = 1e-3;
    int n = 240;
    g_autoptr(FreezeHeat) heat = column(n, n, cell, &m, 660);
    const double at[3] = {300, 1800, 0};
    const double expected[2][4] = {{485.04749, 330.03095, 123.67324, 20.302231},
                                   {587.36482, 516.19181, 383.56349, 118.24538}};
    const int place[4] = {5, 10, 20, 50};
    double before = freeze_heat_content(heat);
    for (int i = 0; i < 2; i++) {
        run_to(heat, at[i]);
        for (int j = 0; j < 4; j++) {
            double t = (freeze_heat_temperature(heat, place[j] - 1) +
                        freeze_heat_temperature(heat, place[j])) /
                       2;
            check_close(t - expected[i][j] + 640, 640, 0.01, "semi-infinite solid, erf");
        }
    }
    double taken = (freeze_heat_content(heat) - before) / (cell * cell);
    check_close(taken, 31484967, 0.01, "2 k (Ts - Ti) sqrt(t/(pi alpha))");
}

// A lump of metal in a closed box of sand.
static FreezeHeat *
lump(int n, const FreezeMaterials *m)
{
    g_autofree float *share = g_new0(float, n *n *n);
    for (int k = 0; k < n; k++)
        for (int j = 0; j < n; j++)
            for (int i = 0; i < n; i++) {
                double d = hypot(hypot(i - n / 2.0 + 0.31, j - n / 2.0 + 0.5), k - n / 2.0 + 0.43);
                share[(k * n + j) * n + i] = (float)CLAMP(n / 4.0 - d + 0.5, 0, 1);
            }
    return freeze_heat_new(n, n, n, 2e-3, share, m, NULL, NULL);
}

static void
test_heat_is_kept(void)
{
    FreezeMaterials m = materials();
    m.solidus = 557;
    m.liquidus = 613;
    m.pour = 721;
    g_autoptr(FreezeHeat) heat = lump(18, &m);
    double before = freeze_heat_content(heat);
    for (int i = 0; i < 200; i++)
        g_assert_true(freeze_heat_step(heat, INFINITY, NULL, NULL));
    check_close(freeze_heat_content(heat), before, 1e-11, "nothing leaves a closed box");
    for (gsize i = 0; i < 18 * 18 * 18; i++) {
        g_assert_cmpfloat(freeze_heat_temperature(heat, i), <=, 721 + 1e-6);
        g_assert_cmpfloat(freeze_heat_temperature(heat, i), >=, 20 - 1e-6);
    }
}

static void
test_ball(void)
{
    // A ball freezes from outside in: the middle last, and sooner than the plane rule says.
    FreezeMaterials m = materials();
    g_autoptr(FreezeHeat) heat = lump(40, &m); // radius 20 mm
    while (freeze_heat_liquid(heat) > 0)
        g_assert_true(freeze_heat_step(heat, INFINITY, NULL, NULL));
    const double *time = freeze_heat_solid_times(heat);
    double last = 0;
    gsize where = 0;
    for (gsize i = 0; i < 40 * 40 * 40; i++)
        if (!isnan(time[i]) && time[i] > last) {
            last = time[i];
            where = i;
        }
    g_assert_cmpint(ABS((int)(where % 40) - 20), <=, 2);
    // The same ball by a radial computation of its own with 80 shells: 71.637, 70.054, 69.662 and
    // 69.565 s with 10, 20, 40 and 80. (Adams and Taylor's form, for metal that conducts perfectly,
    // gives 63.7 s.)
    check_close(last, 69.55, 0.05, "radial explicit enthalpy method, 80 shells");
}

static void
test_errors(void)
{
    FreezeMaterials m = materials();
    float share[8] = {1, 1, 1, 1, 0, 0, 0, 0};
    g_autoptr(GError) error = NULL;
    m.latent = NAN;
    g_assert_null(freeze_heat_new(2, 2, 2, 1e-3, share, &m, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, "missing");
    m = materials();
    m.pour = 659;
    g_assert_null(freeze_heat_new(2, 2, 2, 1e-3, share, &m, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, "liquidus");
    m = materials();
    g_assert_null(freeze_heat_new(1000, 1000, 1000, 1e-3, share, &m, NULL, &error));
    check_error(error, BASE_ERROR_LIMIT, "cells");
}

static void
test_stop(void)
{
    FreezeMaterials m = materials();
    g_autoptr(FreezeHeat) heat = lump(12, &m);
    double before = freeze_heat_content(heat);
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    g_autoptr(GError) error = NULL;
    g_assert_false(freeze_heat_step(heat, INFINITY, progress, &error));
    g_assert_error(error, BASE_ERROR, BASE_ERROR_CANCELLED);
    g_assert_cmpfloat(freeze_heat_content(heat), ==, before);
    g_assert_cmpfloat(freeze_heat_time(heat), ==, 0);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/freeze/heat/contact", test_contact);
    g_test_add_func("/freeze/heat/chilled-side", test_chilled_side);
    g_test_add_func("/freeze/heat/stefan", test_stefan);
    g_test_add_func("/freeze/heat/stefan-cells", test_stefan_cells);
    g_test_add_func("/freeze/heat/neumann", test_neumann);
    g_test_add_func("/freeze/heat/ice", test_ice);
    g_test_add_func("/freeze/heat/on-sand", test_on_sand);
    g_test_add_func("/freeze/heat/sand-heated", test_sand_heated);
    g_test_add_func("/freeze/heat/kept", test_heat_is_kept);
    g_test_add_func("/freeze/heat/ball", test_ball);
    g_test_add_func("/freeze/heat/errors", test_errors);
    g_test_add_func("/freeze/heat/stop", test_stop);
    return g_test_run();
}
