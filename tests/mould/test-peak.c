// SPDX-License-Identifier: GPL-3.0-or-later
// High points of small rasters, counted by hand, and of waves with known tops.
#include "check.h"
#include "mould/peak.h"

static const MouldPeak *
peak(const GArray *peaks, guint i)
{
    return &g_array_index(peaks, MouldPeak, i);
}

static void
test_by_hand(void)
{
    const double v[4 * 5] = {1, 2, 1, 1, 1, //
                             1, 1, 1, 4, 1, //
                             3, 1, 1, 4, 1, //
                             1, 1, 1, 1, 1};
    g_autoptr(GArray) peaks = mould_peaks(v, 5, 4, 1, 0.5, 0);
    g_assert_cmpuint(peaks->len, ==, 3);
    check_close(peak(peaks, 0)->value, 4, 1e-12, "the ridge of two cells");
    check_close(peak(peaks, 0)->rise, 3, 1e-12, "over the lowest");
    g_assert_cmpint(peak(peaks, 0)->i, ==, 3);
    check_close(peak(peaks, 1)->value, 3, 1e-12, "left side");
    check_close(peak(peaks, 1)->rise, 2, 1e-12, "over the pass");
    g_assert_cmpint(peak(peaks, 2)->i, ==, 1);
    g_assert_cmpint(peak(peaks, 2)->j, ==, 0);
    g_autoptr(GArray) few = mould_peaks(v, 5, 4, 1, 1.5, 0);
    g_assert_cmpuint(few->len, ==, 2);
}

static void
test_apart(void)
{
    double no = NAN;
    const double v[3 * 5] = {1, 1.2, no, 7, 7.9, //
                             1, 1.7, no, 7, 7,   //
                             1, 1,   no, 7, 7.2};
    g_autoptr(GArray) peaks = mould_peaks(v, 5, 3, 1.0, 0.5, 0);
    g_assert_cmpuint(peaks->len, ==, 2); // 7.2 rises by 0.2 only
    check_close(peak(peaks, 0)->rise, 6.9, 1e-9, "over the floor");
    check_close(peak(peaks, 1)->rise, 0.7, 1e-9, "over the floor");
    g_autoptr(GArray) none = mould_peaks(v, 5, 3, 7.5, 1, 0);
    g_assert_cmpuint(none->len, ==, 0);
}

static void
test_waves(void)
{
    int n = 120;
    g_autofree double *v = g_new(double, n *n);
    for (int j = 0; j < n; j++)
        for (int i = 0; i < n; i++)
            v[j * n + i] = sin(3 * 2 * G_PI * i / n) * sin(2 * 2 * G_PI * j / n);
    g_autoptr(GArray) peaks = mould_peaks(v, n, n, -1, 0.5, 0);
    g_assert_cmpuint(peaks->len, ==, 6 * 4 / 2); // half of the humps point up
    for (guint k = 0; k < peaks->len; k++)
        check_close(peak(peaks, k)->value, 1, 1e-3, "tops of a product of sines");
}

// The middle of a flat top, and a place on a ring rather than in its hole.
static void
test_flat(void)
{
    int n = 41;
    g_autofree double *v = g_new0(double, n *n);
    for (int j = 8; j < 22; j++)
        for (int i = 5; i < 36; i++)
            v[j * n + i] = 1 + 1e-4 * ((i * 7 + j * 3) % 5);
    g_autoptr(GArray) peaks = mould_peaks(v, n, n, 0, 0.01, 0.001);
    g_assert_cmpuint(peaks->len, ==, 1);
    g_assert_cmpint(ABS(peak(peaks, 0)->i - 20), <=, 1);
    g_assert_cmpint(ABS(peak(peaks, 0)->j - 15), <=, 1);
    for (int j = 0; j < n; j++)
        for (int i = 0; i < n; i++) {
            double r = hypot(i - 20, j - 20);
            v[j * n + i] = r > 9 && r < 14 ? 1 : 0;
        }
    g_autoptr(GArray) ring = mould_peaks(v, n, n, 0, 0.01, 0.001);
    g_assert_cmpuint(ring->len, ==, 1);
    g_assert_cmpfloat(v[peak(ring, 0)->j * n + peak(ring, 0)->i], ==, 1);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/peak/by-hand", test_by_hand);
    g_test_add_func("/mould/peak/apart", test_apart);
    g_test_add_func("/mould/peak/waves", test_waves);
    g_test_add_func("/mould/peak/flat", test_flat);
    return g_test_run();
}
