// SPDX-License-Identifier: GPL-3.0-or-later
// Overlapping shapes counted once: closed forms, and counting points of a lattice.
#include "check.h"
#include "mould/union.h"

static void
add_box(MouldUnion *u, double x, double y, double w, double h)
{
    const SolidPoint p[4] = {{x, y}, {x + w, y}, {x + w, y + h}, {x, y + h}};
    mould_union_add(u, p, 4);
}

static void
test_cross(void)
{
    g_autoptr(MouldUnion) u = mould_union_new();
    add_box(u, -0.07, -0.013, 0.14, 0.026);
    add_box(u, -0.011, -0.05, 0.022, 0.1);
    MouldUnionArea a = mould_union_measure(u);
    check_close(a.area, 0.14 * 0.026 + 0.022 * 0.1 - 0.022 * 0.026, 1e-9,
                "two bars less the middle");
    g_assert_cmpfloat(fabs(a.centre.x), <, 1e-12);
    g_assert_cmpfloat(fabs(a.centre.y), <, 1e-12);
}

static void
test_same_twice(void)
{
    g_autoptr(MouldUnion) u = mould_union_new();
    for (int i = 0; i < 3; i++)
        mould_union_add_disc(u, 0.031, -0.017, 0.0423);
    MouldUnionArea a = mould_union_measure(u);
    check_close(a.area, G_PI / 4 * 0.0423 * 0.0423, 1e-9, "pi d2 / 4, once");
    check_close(a.centre.x, 0.031, 1e-9, "its middle");
    check_close(a.centre.y, -0.017, 1e-9, "its middle");
}

static void
test_lens(void)
{
    double r = 0.0413, d = 0.0377;
    g_autoptr(MouldUnion) u = mould_union_new();
    mould_union_add_disc(u, 0, 0, 2 * r);
    mould_union_add_disc(u, d, 0, 2 * r);
    double lens = 2 * r * r * acos(d / (2 * r)) - d / 2 * sqrt(4 * r * r - d * d);
    MouldUnionArea a = mould_union_measure(u);
    check_close(a.area, 2 * G_PI * r * r - lens, 3e-4, "two discs less the lens; 180 sides");
    check_close(a.centre.x, d / 2, 1e-6, "half way");
}

static void
test_turned_bars(void)
{
    // Two bars crossing at an angle: the overlap is a rhomboid of w1 w2 / sin.
    g_autoptr(MouldUnion) u = mould_union_new();
    MouldChannel a = {-0.1, 0, 0.1, 0, 0.013, 0.01}, b = a;
    double angle = 0.83;
    b.x1 = -0.1 * cos(angle);
    b.y1 = -0.1 * sin(angle);
    b.x2 = 0.1 * cos(angle);
    b.y2 = 0.1 * sin(angle);
    b.width = 0.0171;
    mould_union_add_channel(u, &a);
    mould_union_add_channel(u, &b);
    double expected = 0.2 * 0.013 + 0.2 * 0.0171 - 0.013 * 0.0171 / sin(angle);
    check_close(mould_union_measure(u).area, expected, 1e-9, "bars less the rhomboid");
}

static void
test_hole(void)
{
    SolidPoint points[8] = {{-0.03, -0.02}, {0.03, -0.02}, {0.03, 0.02}, {-0.03, 0.02},
                            {-0.01, -0.01}, {-0.01, 0.01}, {0.01, 0.01}, {0.01, -0.01}};
    guint starts[3] = {0, 4, 8};
    SolidOutline outline = {points, 8, starts, 2};
    MouldCavity cavity = {.x = 0.047, .y = -0.029, .turn = 0.37};
    double s = 1.013;
    g_autoptr(MouldUnion) u = mould_union_new();
    mould_union_add_outline(u, &outline, s, &cavity);
    MouldUnionArea a = mould_union_measure(u);
    check_close(a.area, s * s * (0.06 * 0.04 - 0.02 * 0.02), 1e-9, "a frame");
    check_close(a.centre.x, 0.047, 1e-7, "its middle");
    // A disc over the hole fills it and laps over nothing else but the frame.
    mould_union_add_disc(u, 0.047, -0.029, 0.0302);
    check_close(mould_union_measure(u).area, s * s * 0.06 * 0.04, 1e-9, "hole filled");
}

static void
test_many(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(7193);
    g_autoptr(MouldUnion) u = mould_union_new();
    SolidPoint triangles[24][3];
    for (int i = 0; i < 24; i++) {
        double x = g_rand_double_range(rand, -1, 1), y = g_rand_double_range(rand, -1, 1);
        for (int k = 0; k < 3; k++)
            triangles[i][k] = (SolidPoint){x + g_rand_double_range(rand, -0.4, 0.4),
                                           y + g_rand_double_range(rand, -0.4, 0.4)};
        mould_union_add(u, triangles[i], 3);
    }
    int n = 1400, hit = 0;
    for (int j = 0; j < n; j++)
        for (int i = 0; i < n; i++) {
            double x = -1.5 + 3 * (i + 0.5) / n, y = -1.5 + 3 * (j + 0.5) / n;
            gboolean in = FALSE;
            for (int t = 0; t < 24 && !in; t++) {
                const SolidPoint *p = triangles[t];
                int left = 0;
                for (int k = 0; k < 3; k++) {
                    SolidPoint a = p[k], b = p[(k + 1) % 3];
                    left += (b.x - a.x) * (y - a.y) - (b.y - a.y) * (x - a.x) > 0;
                }
                in = left == 0 || left == 3;
            }
            hit += in;
        }
    check_close(mould_union_measure(u).area, 9.0 * hit / n / n, 5e-4, "points of a lattice");
}

static void
test_nothing(void)
{
    g_autoptr(MouldUnion) u = mould_union_new();
    mould_union_add_disc(u, NAN, 0, 0.01);
    mould_union_add_disc(u, 0, 0, 0);
    MouldUnionArea a = mould_union_measure(u);
    g_assert_cmpfloat(a.area, ==, 0);
    g_assert_true(isnan(a.centre.x));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/union/cross", test_cross);
    g_test_add_func("/mould/union/same", test_same_twice);
    g_test_add_func("/mould/union/lens", test_lens);
    g_test_add_func("/mould/union/bars", test_turned_bars);
    g_test_add_func("/mould/union/hole", test_hole);
    g_test_add_func("/mould/union/many", test_many);
    g_test_add_func("/mould/union/nothing", test_nothing);
    return g_test_run();
}
