// SPDX-License-Identifier: GPL-3.0-or-later
// Index tabs: one way only, and mismatch against a search over every small movement.
#include "check.h"
#include "mould/tabs.h"

static void
test_one_way(void)
{
    MouldTab tabs[4];
    g_assert_cmpuint(mould_tabs_place(0.3, 0.22, 0.025, tabs), ==, 4);
    g_assert_true(mould_tabs_one_way(tabs, 4, 0.25e-3));
    for (int i = 0; i < 4; i++) {
        g_assert_cmpfloat(fabs(tabs[i].x) + tabs[i].length / 2, <, 0.15);
        g_assert_cmpfloat(fabs(tabs[i].y) + tabs[i].width / 2, <, 0.11);
        g_assert_cmpfloat(fabs(tabs[i].y) - tabs[i].width / 2, >, 0.11 - 0.025);
    }
}

static void
test_symmetric_is_caught(void)
{
    MouldTab tabs[4];
    mould_tabs_place(0.3, 0.22, 0.025, tabs);
    tabs[0].x = tabs[3].x; // as if nobody had shifted it
    g_assert_false(mould_tabs_one_way(tabs, 4, 0.25e-3));
    g_assert_true(mould_tabs_fit(tabs, 4, 0.25e-3, -1, -1));
    // Shifted by less than twice the clearance it still closes turned.
    tabs[0].x += 0.2e-3;
    g_assert_false(mould_tabs_one_way(tabs, 4, 0.25e-3));
    tabs[0].x += 0.4e-3;
    g_assert_true(mould_tabs_one_way(tabs, 4, 0.25e-3));
}

static void
test_no_room(void)
{
    MouldTab tabs[4];
    g_assert_cmpuint(mould_tabs_place(0.3, 0.22, 0.004, tabs), ==, 0);
    g_assert_false(mould_tabs_one_way(tabs, 0, 0.25e-3));
}

// The greatest shift found by trying turns and the slides each leaves.
static double
search_mismatch(double c, double X, double Y, double x, double y)
{
    double most = 0;
    for (int i = 0; i <= 20000; i++) {
        double turn = c / MAX(X, Y) * i / 20000;
        double tx = c - turn * Y, ty = c - turn * X;
        most = MAX(most, hypot(tx + turn * y, ty + turn * x));
    }
    return most;
}

static void
test_mismatch(void)
{
    const double points[4][2] = {{0, 0}, {0.07, 0.03}, {0.12, 0.09}, {0.31, 0.17}};
    for (int i = 0; i < 4; i++) {
        double x = points[i][0], y = points[i][1];
        check_close(mould_mismatch_at(0.23e-3, 0.131, 0.097, x, y),
                    search_mismatch(0.23e-3, 0.131, 0.097, x, y), 1e-6, "search over all turns");
    }
    check_close(mould_mismatch_at(0.23e-3, 0.131, 0.097, 0.11, 0.08), 0.23e-3 * sqrt(2), 1e-12,
                "inside the tabs sliding cornerwise is the worst");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/tabs/one-way", test_one_way);
    g_test_add_func("/mould/tabs/symmetric", test_symmetric_is_caught);
    g_test_add_func("/mould/tabs/no-room", test_no_room);
    g_test_add_func("/mould/tabs/mismatch", test_mismatch);
    return g_test_run();
}
