// SPDX-License-Identifier: GPL-3.0-or-later
// Mean, median and the heat balance, worked by hand.
#include "learn/statistics.h"

#include "check.h"

static void
test_mean(void)
{
    static const double values[] = {2.385, 7.1, -1.25};
    check_close(learn_mean(values, 3), 2.745, 1e-14, "by hand: 8.235 / 3");
    check_close(learn_mean(values, 1), 2.385, 0, "one value");
    g_assert_true(isnan(learn_mean(values, 0)));
}

static void
test_median(void)
{
    double values[] = {38, 31, 90, 28, 33.5};
    check_close(learn_median(values, 5), 33.5, 0, "by hand");
    check_close(learn_median(values, 4), 34.5, 1e-15, "by hand: (31 + 38) / 2");
    check_close(values[0], 38, 0, "not sorted in place");
    g_assert_true(isnan(learn_median(values, 0)));
}

static void
test_efficiency(void)
{
    // 1.3 kg at 1.05 MJ/kg in 41 min = 2460 s at 3000 - 700 W: 1.365 MJ of 5.658 MJ.
    check_close(learn_efficiency(1.3, 1.05e6, 2460, 3000, 700), 0.24125133, 1e-7, "by hand");
    g_assert_true(isnan(learn_efficiency(1.3, 1.05e6, 2460, 700, 700)));
    g_assert_true(isnan(learn_efficiency(1.3, NAN, 2460, 3000, 700)));
    g_assert_true(isnan(learn_efficiency(1.3, 1.05e6, NAN, 3000, 700)));
    g_assert_true(isnan(learn_efficiency(0, 1.05e6, 2460, 3000, 700)));
    g_assert_true(isnan(learn_efficiency(1.3, 1.05e6, 0, 3000, 700)));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/learn/statistics/mean", test_mean);
    g_test_add_func("/learn/statistics/median", test_median);
    g_test_add_func("/learn/statistics/efficiency", test_efficiency);
    return g_test_run();
}
