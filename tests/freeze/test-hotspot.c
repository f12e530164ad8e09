// SPDX-License-Identifier: GPL-3.0-or-later
// Hot spots of fields made by hand.
#include "check.h"
#include "freeze/hotspot.h"

static void
test_one_row(void)
{
    // Three humps; the middle one barely stands out.
    const double time[11] = {3, 7, 10, 6, 6.5, 6.2, 4, 8, 9, 5, NAN};
    g_autoptr(GArray) spots = freeze_hot_spots(time, 11, 1, 1, 0.05);
    g_assert_cmpuint(spots->len, ==, 3);
    const FreezeSpot *s = &g_array_index(spots, FreezeSpot, 0);
    g_assert_cmpuint(s[0].cell, ==, 2);
    g_assert_cmpfloat(s[0].cut_off, ==, 0);
    g_assert_cmpuint(s[1].cell, ==, 8);
    g_assert_cmpfloat(s[1].time, ==, 9);
    g_assert_cmpfloat(s[1].cut_off, ==, 4);
    g_assert_cmpuint(s[2].cell, ==, 4);
    g_assert_cmpfloat(s[2].cut_off, ==, 6);
    g_autoptr(GArray) large = freeze_hot_spots(time, 11, 1, 1, 0.06);
    g_assert_cmpuint(large->len, ==, 2);
}

static void
test_flat_top_and_pieces(void)
{
    // A flat top is one spot; pieces that never touch are two.
    const double time[9] = {5, 5, 5, NAN, 2, 3, 3, 3, 2};
    g_autoptr(GArray) spots = freeze_hot_spots(time, 9, 1, 1, 0.05);
    g_assert_cmpuint(spots->len, ==, 2);
    g_assert_cmpuint(g_array_index(spots, FreezeSpot, 0).cell, ==, 0);
    g_assert_cmpuint(g_array_index(spots, FreezeSpot, 1).cell, ==, 5);
}

static void
test_two_bosses(void)
{
    // Two bumps on a plate in three dimensions.
    enum {
        NX = 23,
        NY = 11,
        NZ = 5
    };
    g_autofree double *time = g_new(double, NX *NY *NZ);
    for (int c = 0; c < NX * NY * NZ; c++) {
        double i = c % NX, j = c / NX % NY, k = c / (NX * NY);
        double a = exp(-(pow(i - 5, 2) + pow(j - 5, 2) + pow(k - 2, 2)) / 7);
        double b = exp(-(pow(i - 16, 2) + pow(j - 4, 2) + pow(k - 2, 2)) / 7);
        time[c] = 20 + 31 * a + 27 * b;
    }
    g_autoptr(GArray) spots = freeze_hot_spots(time, NX, NY, NZ, 0.05);
    g_assert_cmpuint(spots->len, ==, 2);
    g_assert_cmpuint(g_array_index(spots, FreezeSpot, 0).cell, ==, (2 * NY + 5) * NX + 5);
    g_assert_cmpuint(g_array_index(spots, FreezeSpot, 1).cell, ==, (2 * NY + 4) * NX + 16);
}

static void
test_no_metal(void)
{
    const double time[2] = {NAN, NAN};
    g_autoptr(GArray) spots = freeze_hot_spots(time, 2, 1, 1, 0.05);
    g_assert_cmpuint(spots->len, ==, 0);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/freeze/hotspot/row", test_one_row);
    g_test_add_func("/freeze/hotspot/flat", test_flat_top_and_pieces);
    g_test_add_func("/freeze/hotspot/bosses", test_two_bosses);
    g_test_add_func("/freeze/hotspot/none", test_no_metal);
    return g_test_run();
}
