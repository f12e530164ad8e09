// SPDX-License-Identifier: GPL-3.0-or-later
// The median, worked by hand.
#include "learn/statistics.h"

#include "check.h"

static void
test_median(void)
{
    double values[] = {38, 31, 90, 28, 33.5};
    check_close(learn_median(values, 5), 33.5, 0, "by hand");
    check_close(learn_median(values, 4), 34.5, 1e-15, "by hand: (31 + 38) / 2");
    check_close(values[0], 38, 0, "not sorted in place");
    g_assert_true(isnan(learn_median(values, 0)));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/learn/statistics/median", test_median);
    return g_test_run();
}
