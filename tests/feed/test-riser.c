// SPDX-License-Identifier: GPL-3.0-or-later
// Riser sizes against worked examples and the elementary moduli.
#include "check.h"
#include "feed/riser.h"

static void
test_moduli(void)
{
    check_close(feed_cylinder_modulus(0.0371, 0.0371, TRUE), 0.0371 / 6, 1e-12, "D/6, H = D");
    check_close(feed_cylinder_modulus(0.0371, 0.0371, FALSE), 0.0371 / 5, 1e-12, "D/5, on top");
    check_close(feed_cylinder_modulus(0.0371, 1e6, TRUE), 0.0371 / 4, 1e-6, "long bar D/4");
    check_close(feed_cylinder_modulus(0.2, 0.1, TRUE), 0.025, 1e-12, "200 x 100 mm: 25 mm");
    // A block 10 x 10 x 4 cm.
    check_close(0.1 * 0.1 * 0.04 / (2 * 0.1 * 0.1 + 4 * 0.1 * 0.04), 0.01111111111, 1e-9,
                "V 400 cm3, A 360 cm2");
}

static void
test_top_riser(void)
{
    // Cylinder 200 x 100 mm, riser on top of it, 1.2 times the modulus.
    double casting = feed_cylinder_modulus(0.2, 0.1, TRUE);
    check_close(feed_riser_by_modulus(1.2 * casting, FALSE), 0.150, 1e-9, "exam problem, 150 mm");
    check_close(feed_riser_by_modulus(1.2 * casting, TRUE), 0.180, 1e-9, "6 M when all faces cool");
}

static void
test_open(void)
{
    // A cylinder of that diameter and height has that modulus again.
    double d = feed_riser_open_by_modulus(0.0071, 0.093, TRUE);
    check_close(feed_cylinder_modulus(d, 0.093, TRUE), 0.0071, 1e-12, "both ends cool");
    double top = feed_riser_open_by_modulus(0.0071, 0.093, FALSE);
    check_close(feed_cylinder_modulus(top, 0.093, FALSE), 0.0071, 1e-12, "the foot does not");
    g_assert_cmpfloat(top, <, d);
    // H = D again, 6 M and 5 M.
    check_close(feed_riser_open_by_modulus(0.01, 0.06, TRUE), 0.06, 1e-12, "D/6, H = D");
    check_close(feed_riser_open_by_modulus(0.01, 0.05, FALSE), 0.05, 1e-12, "D/5 on top");
    // The best top riser of fixed volume has H = D/2, and then V/A is D/6 as well.
    check_close(feed_riser_open_by_modulus(0.01, 0.03, FALSE), 0.06, 1e-12, "H = D/2: A/V = 6/D");
    // 4 M is the least there is, of an endless bar.
    check_close(feed_riser_open_by_modulus(0.01, 1e5, TRUE), 0.04, 1e-6, "long bar D/4");
    // Too low for any width.
    g_assert_cmpint(isnan(feed_riser_open_by_modulus(0.01, 0.02, TRUE)), !=, 0);
    g_assert_cmpint(isnan(feed_riser_open_by_modulus(0.01, 0.01, FALSE)), !=, 0);
    g_assert_cmpint(isnan(feed_riser_open_by_modulus(NAN, 0.1, FALSE)), !=, 0);
    double wide = feed_riser_open_by_volume(891.891892e-6, 0.1043296);
    check_close(wide, 0.1043296, 1e-6, "104.3296 mm, as high as wide");
    g_assert_cmpint(isnan(feed_riser_open_by_volume(1e-3, 0)), !=, 0);
    g_assert_cmpint(isnan(feed_riser_open_by_volume(1e-3, -0.01)), !=, 0);
}

static void
test_plate_corrected(void)
{
    // Plate 200 x 100 x 20 mm frozen in 3.5 min; the riser takes 20 % longer.
    double modulus = 0.2 * 0.1 * 0.02 / (2 * (0.2 * 0.1 + 0.2 * 0.02 + 0.1 * 0.02));
    check_close(feed_riser_by_modulus(modulus * sqrt(1.2), TRUE), 0.050559, 1e-4,
                "Chvorinov, 50.559 mm");
}

static void
test_feed_volume(void)
{
    double volume = feed_riser_volume(1000e-6, 0.066, 0.14);
    check_close(volume, 891.891892e-6, 1e-8, "0.066 x 1000 / 0.074 cm3");
    check_close(feed_riser_by_volume(volume), 0.1043296, 1e-6, "104.3296 mm");
    check_close(0.14 * volume, 0.066 * (1000e-6 + volume), 1e-12,
                "what it gives is what is needed");
}

static void
test_no_riser_is_enough(void)
{
    g_assert_cmpint(isnan(feed_riser_volume(1e-3, 0.066, 0.066)), !=, 0);
    g_assert_cmpint(isnan(feed_riser_volume(1e-3, 0.071, 0.066)), !=, 0);
    g_assert_cmpint(isnan(feed_riser_volume(1e-3, NAN, 0.14)), !=, 0);
    g_assert_cmpfloat(feed_riser_volume(1e-3, 0, 0.14), ==, 0);
}

static void
test_neck(void)
{
    // Modulus of a long round bar is D/4.
    double neck = feed_neck(0.0053, 1.1);
    check_close(neck / 4, 1.1 * 0.0053, 1e-12, "Wlodawer 1966, neck 1.1 times");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/feed/riser/open", test_open);
    g_test_add_func("/feed/riser/moduli", test_moduli);
    g_test_add_func("/feed/riser/top", test_top_riser);
    g_test_add_func("/feed/riser/plate-corrected", test_plate_corrected);
    g_test_add_func("/feed/riser/volume", test_feed_volume);
    g_test_add_func("/feed/riser/not-enough", test_no_riser_is_enough);
    g_test_add_func("/feed/riser/neck", test_neck);
    return g_test_run();
}
