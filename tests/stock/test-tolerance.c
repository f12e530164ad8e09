// SPDX-License-Identifier: GPL-3.0-or-later
// The tolerance table: values as printed, its edges, and order along rows and columns.
#include "check.h"
#include "stock/tolerance.h"

#define MM 1e-3
#define PRINTED "ISO 8062-3:2007 table 2"

static void
test_printed(void)
{
    check_close(stock_tolerance(97.3 * MM, 11), 4.4 * MM, 1e-12, PRINTED);
    check_close(stock_tolerance(8.1 * MM, 6), 0.52 * MM, 1e-12, PRINTED);
    check_close(stock_tolerance(213 * MM, 9), 2.8 * MM, 1e-12, PRINTED);
    check_close(stock_tolerance(1500 * MM, 14), 23 * MM, 1e-12, PRINTED);
    check_close(stock_tolerance(58 * MM, 2), 0.18 * MM, 1e-12, PRINTED);
    check_close(stock_tolerance(240 * MM, 5), 0.70 * MM, 1e-12, PRINTED);
}

static void
test_edges(void)
{
    check_close(stock_tolerance(0.1, 11), 4.4 * MM, 1e-12, "up to and including 100");
    check_close(stock_tolerance(100.1 * MM, 11), 5 * MM, 1e-12, "over 100");
    g_assert_true(isnan(stock_tolerance(5 * MM, 13)));
    g_assert_true(isnan(stock_tolerance(300 * MM, 5)));
    g_assert_true(isnan(stock_tolerance(1.7, 11)));
    g_assert_true(isnan(stock_tolerance(50 * MM, 0)));
    g_assert_true(isnan(stock_tolerance(50 * MM, 15)));
    g_assert_true(isnan(stock_tolerance(NAN, 11)));
}

static void
test_order(void)
{
    const double sizes[] = {9, 15, 24, 39, 62, 99, 159, 249, 399, 629, 999, 1599};
    for (int grade = 1; grade <= 14; grade++)
        for (guint i = 0; i < G_N_ELEMENTS(sizes); i++) {
            double here = stock_tolerance(sizes[i] * MM, grade);
            double coarser = stock_tolerance(sizes[i] * MM, grade + 1);
            double larger = i + 1 < G_N_ELEMENTS(sizes) ? stock_tolerance(sizes[i + 1] * MM, grade)
                                                        : NAN;
            if (!isnan(here) && !isnan(coarser))
                g_assert_cmpfloat(here, <, coarser);
            if (!isnan(here) && !isnan(larger))
                g_assert_cmpfloat(here, <, larger);
        }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/stock/tolerance/printed", test_printed);
    g_test_add_func("/stock/tolerance/edges", test_edges);
    g_test_add_func("/stock/tolerance/order", test_order);
    return g_test_run();
}
