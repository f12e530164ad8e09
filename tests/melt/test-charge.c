// SPDX-License-Identifier: GPL-3.0-or-later
// Crucible volume and load, against numbers worked out by hand.
#include "melt/charge.h"

#include "check.h"

static void
test_brim_volume(void)
{
    // 8 kg of liquid gold at 17310 kg/m3.
    double volume = melt_crucible_volume(8.0, 17310.0);
    check_close(volume, 462.1606008e-6, 1e-9, "CRC density of liquid gold, by hand");
    // At three quarters full of A356 at 720 C (2371.752 kg/m3).
    check_close(volume * 0.75 * 2371.752, 0.822097746967, 1e-11, "by hand");
    // Of gold itself it holds, full, what it is rated for.
    check_close(volume * 17310.0, 8.0, 1e-12, "definition");
}

static void
test_pourable(void)
{
    // (0.8221 x 0.98 - 0.05) / 1.1 = 0.6870 and 0.7557 - 0.1 = 0.6557: the least reserve rules.
    check_close(melt_pourable(0.822097746967, 0.02, 0.05, 0.10, 0.10), 0.655655792028, 1e-11,
                "by hand");
    // (23.7 x 0.97 - 1.3) / 1.085 = 19.9899; the share rules.
    check_close(melt_pourable(23.7, 0.03, 1.3, 0.085, 0.1), (22.989 - 1.3) / 1.085, 1e-12,
                "by hand");
    check_close(melt_pourable(0.11, 0.0, 0.03, 0.1, 0.1), -0.02, 1e-9, "by hand");
    g_assert_true(isnan(melt_pourable(NAN, 0.02, 0.05, 0.1, 0.1)));
}

static void
test_flasks(void)
{
    g_assert_cmpint(melt_flasks(0.655655792028, 0.2875, 4), ==, 2);
    g_assert_cmpint(melt_flasks(19.99, 2.385, 12), ==, 8);
    g_assert_cmpint(melt_flasks(19.99, 2.385, 5), ==, 5);
    g_assert_cmpint(melt_flasks(2.384, 2.385, 5), ==, 0);
    g_assert_cmpint(melt_flasks(-0.4, 2.385, 5), ==, 0);
    g_assert_cmpint(melt_flasks(3.0, 0.0, 5), ==, 0);
    g_assert_cmpint(melt_flasks(NAN, 2.385, 5), ==, 0);
    g_assert_cmpint(melt_flasks(3.0, NAN, 5), ==, 0);
    g_assert_cmpint(melt_flasks(1e30, 1e-9, 200), ==, 200);
}

static double
charge_for(double poured, double loss, double heel, double reserve)
{
    return melt_charge(poured, melt_reserve(poured, reserve, 0.12), heel, loss);
}

// Whatever is asked, the flasks that fit do fit, and one more would not.
static void
test_load_fits_and_is_largest(void)
{
    static const double flasks[] = {0.137, 0.4021, 0.955, 2.385};
    static const double workings[] = {0.8221, 3.417, 11.93, 24.06};
    for (guint i = 0; i < G_N_ELEMENTS(flasks); i++) {
        for (guint k = 0; k < G_N_ELEMENTS(workings); k++) {
            double loss = 0.013 + 0.007 * i, heel = 0.031 * k, reserve = 0.07 + 0.02 * k;
            double pourable = melt_pourable(workings[k], loss, heel, reserve, 0.12);
            int n = melt_flasks(pourable, flasks[i], 1e6);
            if (n > 0)
                g_assert_cmpfloat(charge_for(n * flasks[i], loss, heel, reserve), <=, workings[k]);
            g_assert_cmpfloat(charge_for((n + 1) * flasks[i], loss, heel, reserve), >, workings[k]);
        }
    }
}

static void
test_reserve_and_charge(void)
{
    check_close(melt_reserve(0.575, 0.10, 0.10), 0.10, 1e-15, "the least reserve");
    check_close(melt_reserve(19.08, 0.085, 0.10), 1.6218, 1e-12, "by hand");
    // (0.575 + 0.1 + 0.05) / 0.98
    check_close(melt_charge(0.575, 0.1, 0.05, 0.02), 0.739795918367, 1e-11, "by hand");
}

static void
test_rating_needed(void)
{
    // 2.3 kg of A356 at three quarters full: 1.293 l to the brim, 22.38 kg of gold.
    double rating = melt_rating_needed(2.3, 2371.752, 0.75, 17310.0);
    check_close(rating, 2.3 / 2371.752 / 0.75 * 17310.0, 1e-12, "by hand");
    check_close(melt_crucible_volume(rating, 17310.0) * 0.75 * 2371.752, 2.3, 1e-12,
                "the way back");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/melt/charge/brim-volume", test_brim_volume);
    g_test_add_func("/melt/charge/pourable", test_pourable);
    g_test_add_func("/melt/charge/flasks", test_flasks);
    g_test_add_func("/melt/charge/largest", test_load_fits_and_is_largest);
    g_test_add_func("/melt/charge/reserve", test_reserve_and_charge);
    g_test_add_func("/melt/charge/rating-needed", test_rating_needed);
    return g_test_run();
}
