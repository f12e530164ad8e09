// SPDX-License-Identifier: GPL-3.0-or-later
// Chvorinov's rule against worked textbook problems and closed forms.
#include "check.h"
#include "feed/constant.h"
#include "feed/riser.h"

static void
test_groover_plate_and_riser(void)
{
    // Plate 7.5 x 12.5 x 2.0 cm freezes in 1.6 min.
    double volume = 0.075 * 0.125 * 0.02;
    double area = 2 * (0.075 * 0.125 + 0.075 * 0.02 + 0.125 * 0.02);
    double modulus = volume / area;
    double constant = 96 / (modulus * modulus);
    check_close(modulus, 0.007009345794, 1e-9, "Groover ch. 10, unrounded");
    check_close(constant / 6e5, 3.256604444, 1e-9, "Groover ch. 10, min/cm2, unrounded");
    check_close(constant / 6e5, 3.26, 0.0016 + 0.005, "Groover ch. 10 as printed");
    double diameter = feed_riser_by_modulus(sqrt(120 / constant), TRUE);
    check_close(diameter, 0.04702012102, 1e-9, "Groover ch. 10, unrounded");
    check_close(diameter, 0.047, 0.5 / 47, "Groover ch. 10 as printed");
    check_close(G_PI / 4 * pow(diameter, 3), 81.647165e-6, 1e-7, "Groover ch. 10, unrounded");
}

static void
test_three_shapes(void)
{
    // Sphere, cylinder and cube of 10 cm with B = 3.5 min/cm2 all freeze in 9.72 min.
    double constant = 3.5 * 6e5;
    double sphere = 0.1 / 6, cube = 0.1 * 0.1 * 0.1 / (6 * 0.1 * 0.1);
    check_close(feed_time(constant, sphere), 9.722222222 * 60, 1e-9, "textbook problem, exact");
    check_close(feed_time(constant, cube), 9.722222222 * 60, 1e-9, "textbook problem, exact");
    check_close(feed_time(constant, feed_cylinder_modulus(0.1, 0.1, TRUE)), 9.72 * 60, 0.005,
                "textbook problem as printed");
}

static void
test_equal_volumes(void)
{
    // V = 1: t/B of sphere, cube and cylinder with height = diameter.
    double sphere = cbrt(3 / (4 * G_PI)) / 3;
    double diameter = feed_riser_by_volume(1);
    check_close(feed_time(1, sphere), 0.0427594146, 1e-8, "Kalpakjian and Schmid, exact");
    check_close(feed_time(1, 1.0 / 6), 0.0277777778, 1e-8, "Kalpakjian and Schmid, exact");
    check_close(feed_time(1, feed_cylinder_modulus(diameter, diameter, TRUE)), 0.0326315406, 1e-8,
                "Kalpakjian and Schmid, exact");
}

static void
test_iron_slab_and_sphere(void)
{
    // Textbook problem 2.5: iron in sand, slab 10 cm thick and sphere of 10 cm.
    FeedCooling iron = {7850, 272e3, 1540, 28, 0.8655, 1600, 1170};
    double slab = feed_time(feed_constant(&iron), 0.05);
    check_close(slab, 0.671318 * 3600, 1e-6, "Ghosh and Mallik problem 2.5, as printed");
    check_close(slab, 2416.743241, 1e-9, "the same, 30 digits");
    double sphere = feed_time_curved(&iron, FEED_SPHERE, 0.1 / 6);
    check_close(sphere, 0.054495 * 3600, 0.002, "Ghosh and Mallik problem 2.5, beta rounded");
    check_close(sphere, 196.515717, 1e-8, "the same, 30 digits");
    check_close(feed_time(feed_constant(&iron), 0.1 / 6), 268.527027, 1e-8, "plain rule");
    check_close(feed_time_curved(&iron, FEED_CYLINDER, 0.1 / 4), 472.357551, 1e-8,
                "cylinder form, 30 digits");
    check_close(feed_time_curved(&iron, FEED_PLANE, 0.05), slab, 1e-12, "plane is the plain rule");
}

static void
test_aluminium_in_sand(void)
{
    FeedCooling pure = {2700, 397000, 660, 20, 0.6, 1600, 1100};
    check_close(feed_constant(&pure), 2.086289427e6, 1e-9, "formula, 30 digits");
    check_close(feed_time(feed_constant(&pure), 0.005), 52.157236, 1e-7, "formula, 30 digits");
    FeedCooling hot = pure;
    hot.heat += 1080 * 40;
    check_close(feed_constant(&hot), 2.565036917e6, 1e-9, "formula, 30 digits");
    check_close(feed_time(feed_constant(&hot), 0.005), 64.125923, 1e-7, "formula, 30 digits");
}

static void
test_scale_and_heat(void)
{
    FeedCooling pure = {2700, 397000, 660, 20, 0.6, 1600, 1100};
    double constant = feed_constant(&pure);
    check_close(feed_time(constant, 2 * 0.00371), 4 * feed_time(constant, 0.00371), 1e-12,
                "twice the size, four times the time");
    check_close(feed_heat_taken(&pure, 60), 5748342.2, 1e-8, "Carslaw and Jaeger, 30 digits");
    check_close(feed_heat_taken(&pure, 1800), 31484967, 1e-7, "Carslaw and Jaeger, 30 digits");
    // At the freezing time the sand has taken what the metal had to give.
    check_close(feed_heat_taken(&pure, feed_time(constant, 0.0041)), 2700 * 0.0041 * 397000, 1e-12,
                "heat balance");
}

static void
test_no_answer(void)
{
    FeedCooling cold = {2700, 397000, 20, 20, 0.6, 1600, 1100};
    g_assert_cmpint(isnan(feed_constant(&cold)), !=, 0);
    g_assert_cmpint(isnan(feed_time_curved(&cold, FEED_SPHERE, 0.01)), !=, 0);
    FeedCooling missing = {2700, NAN, 660, 20, 0.6, 1600, 1100};
    g_assert_cmpint(isnan(feed_constant(&missing)), !=, 0);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/feed/constant/groover", test_groover_plate_and_riser);
    g_test_add_func("/feed/constant/three-shapes", test_three_shapes);
    g_test_add_func("/feed/constant/equal-volumes", test_equal_volumes);
    g_test_add_func("/feed/constant/iron", test_iron_slab_and_sphere);
    g_test_add_func("/feed/constant/aluminium", test_aluminium_in_sand);
    g_test_add_func("/feed/constant/scale-and-heat", test_scale_and_heat);
    g_test_add_func("/feed/constant/no-answer", test_no_answer);
    return g_test_run();
}
