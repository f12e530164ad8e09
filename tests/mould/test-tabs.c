// SPDX-License-Identifier: GPL-3.0-or-later
// Index tabs: placed in the sand at the wall, one way only, every symmetric layout caught.
#include "check.h"
#include "mould/tabs.h"

#define CLEARANCE 0.25e-3

static MouldTabWish
make_wish(guint count, gboolean pins, double shift)
{
    return (MouldTabWish){.length = 0.3,
                          .width = 0.22,
                          .cover = 0.025,
                          .count = count,
                          .pins = pins,
                          .size = NAN,
                          .inset = NAN,
                          .shift = shift};
}

static guint
count_wrong(const MouldTabWish *w, const MouldTab *tabs, guint n)
{
    return mould_tabs_wrong(tabs, n, CLEARANCE, w->length, w->width);
}

static void
test_one_way(void)
{
    for (guint count = 2; count <= 4; count++)
        for (int pins = 0; pins < 2; pins++)
            for (int square = 0; square < 2; square++) {
                MouldTabWish w = make_wish(count, pins, NAN);
                w.length = square ? 0.22 : 0.3;
                MouldTab tabs[4];
                guint n = mould_tabs_place(&w, tabs);
                g_assert_cmpuint(n, ==, count);
                g_assert_cmpuint(count_wrong(&w, tabs, n), ==, 0);
                g_assert_cmpfloat(mould_tabs_closes_at(tabs, n, w.length, w.width), >,
                                  CLEARANCE + MOULD_TAB_MARGIN);
                for (guint i = 0; i < n; i++) {
                    double half = pins ? tabs[i].length / 2 : tabs[i].width / 2;
                    g_assert_cmpfloat(fabs(tabs[i].x) + tabs[i].length / 2, <, w.length / 2);
                    g_assert_cmpfloat(fabs(tabs[i].y) + half, <, w.width / 2);
                    g_assert_cmpfloat(fabs(tabs[i].y) - half, >, w.width / 2 - 0.025);
                }
            }
}

static void
test_symmetric_is_caught(void)
{
    for (int pins = 0; pins < 2; pins++) {
        MouldTabWish w = make_wish(4, pins, 0);
        MouldTab tabs[4];
        guint n = mould_tabs_place(&w, tabs);
        g_assert_cmpuint(count_wrong(&w, tabs, n), ==, 3);
        w.length = 0.22;
        n = mould_tabs_place(&w, tabs);
        // Oblong tabs do not go into sockets that lie across; pins do.
        g_assert_cmpuint(count_wrong(&w, tabs, n), ==, pins ? 7 : 3);
        w = make_wish(2, pins, 0);
        n = mould_tabs_place(&w, tabs);
        g_assert_cmpuint(count_wrong(&w, tabs, n), ==, 1);
        // Three are one way in an oblong flask; in a square one turned over cornerwise they fit.
        w = make_wish(3, pins, 0);
        n = mould_tabs_place(&w, tabs);
        g_assert_cmpuint(count_wrong(&w, tabs, n), ==, 0);
        w.length = 0.22;
        n = mould_tabs_place(&w, tabs);
        g_assert_cmpuint(count_wrong(&w, tabs, n), ==, pins ? 1 : 0);
    }
}

static void
test_slid_half(void)
{
    MouldTabWish w = make_wish(4, FALSE, 0);
    MouldTab tabs[4];
    // A cope that may slide takes up half of the shift: one within twice the clearance still
    // closes.
    w.shift = 1.98 * CLEARANCE;
    mould_tabs_place(&w, tabs);
    g_assert_false(mould_tabs_one_way(tabs, 4, CLEARANCE));
    g_assert_cmpuint(count_wrong(&w, tabs, 4), >, 0);
    w.shift = 5 * CLEARANCE;
    mould_tabs_place(&w, tabs);
    g_assert_true(mould_tabs_one_way(tabs, 4, CLEARANCE));
}

// Which half carries the tabs makes no difference: a layout whose tabs lie where the other way
// round has its sockets closes with the same clearance.
static void
test_swapped(void)
{
    MouldTabWish w = make_wish(4, FALSE, 0.0031);
    MouldTab tabs[4], swapped[4];
    mould_tabs_place(&w, tabs);
    const MouldTurn *ways;
    guint n = mould_tabs_wrong_ways(w.length, w.width, &ways);
    g_assert_cmpuint(n, ==, 3);
    for (guint k = 0; k < n; k++) {
        for (int i = 0; i < 4; i++) {
            swapped[i] = tabs[i];
            swapped[i].x = ways[k].xx * tabs[i].x + ways[k].xy * tabs[i].y;
            swapped[i].y = ways[k].yx * tabs[i].x + ways[k].yy * tabs[i].y;
        }
        check_close(mould_play_closes(swapped, 4, &ways[k]), mould_play_closes(tabs, 4, &ways[k]),
                    1e-6, "tabs and sockets changed over");
    }
}

static void
test_least_shift(void)
{
    const double clearances[] = {0, 0.25e-3, 0.6e-3};
    for (guint count = 2; count <= 4; count++)
        for (int pins = 0; pins < 2; pins++)
            for (guint k = 0; k < G_N_ELEMENTS(clearances); k++) {
                MouldTabWish w = make_wish(count, pins, NAN);
                double c = clearances[k], shift = mould_tabs_least_shift(&w, c);
                MouldTab tabs[4];
                g_assert_true(isfinite(shift));
                w.shift = shift;
                guint n = mould_tabs_place(&w, tabs);
                double wanted = c + MOULD_TAB_MARGIN - 1e-9;
                g_assert_cmpfloat(mould_tabs_closes_at(tabs, n, w.length, w.width), >=, wanted);
                if (!(shift > 0))
                    continue;
                w.shift = shift - 0.5e-3;
                n = mould_tabs_place(&w, tabs);
                g_assert_cmpfloat(mould_tabs_closes_at(tabs, n, w.length, w.width), <, wanted);
            }
    MouldTabWish pair = make_wish(2, TRUE, NAN);
    check_close(mould_tabs_least_shift(&pair, CLEARANCE), 0.0025, 1e-9,
                "two pins: twice clearance and margin");
}

static void
test_asked_for(void)
{
    MouldTabWish w = make_wish(4, FALSE, 0.0123);
    w.size = 0.0187;
    w.inset = 0.0131;
    MouldTab tabs[4];
    g_assert_cmpuint(mould_tabs_place(&w, tabs), ==, 4);
    check_close(tabs[1].length, 0.0187, 1e-12, "as asked");
    check_close(tabs[1].width, 0.0187 / 2, 1e-12, "half as wide");
    check_close(tabs[1].y, 0.11 - 0.0131, 1e-12, "inset");
    check_close(-tabs[1].x - tabs[0].x, 0.0123, 1e-12, "shift");
}

static void
test_no_room(void)
{
    MouldTabWish w = make_wish(4, FALSE, NAN);
    MouldTab tabs[4];
    w.cover = 0.004;
    g_assert_cmpuint(mould_tabs_place(&w, tabs), ==, 0);
    g_assert_false(mould_tabs_one_way(tabs, 0, CLEARANCE));
    g_assert_true(isnan(mould_tabs_least_shift(&w, CLEARANCE)));
    w = make_wish(4, FALSE, NAN);
    w.inset = 0.003; // half of it in the wall
    g_assert_cmpuint(mould_tabs_place(&w, tabs), ==, 0);
    w = make_wish(4, FALSE, NAN);
    w.size = 0.2;
    g_assert_cmpuint(mould_tabs_place(&w, tabs), ==, 0);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/tabs/one-way", test_one_way);
    g_test_add_func("/mould/tabs/symmetric", test_symmetric_is_caught);
    g_test_add_func("/mould/tabs/slid", test_slid_half);
    g_test_add_func("/mould/tabs/swapped", test_swapped);
    g_test_add_func("/mould/tabs/least-shift", test_least_shift);
    g_test_add_func("/mould/tabs/asked-for", test_asked_for);
    g_test_add_func("/mould/tabs/no-room", test_no_room);
    return g_test_run();
}
