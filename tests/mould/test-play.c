// SPDX-License-Identifier: GPL-3.0-or-later
// What tabs let a cope do: closed forms, and a search over slides and turns that knows nothing of
// linear programmes.
#include "check.h"
#include "mould/play.h"

#define C 0.23e-3

static const MouldTab four[4] = {{0.0931, 0.0872, 0.0137, 0.0071},
                                 {-0.1314, 0.0872, 0.0137, 0.0071},
                                 {-0.1314, -0.0872, 0.0137, 0.0071},
                                 {0.1314, -0.0872, 0.0137, 0.0071}};
static const MouldTab two[2] = {{0.1203, 0.0761, 0.0213, 0.0071},
                                {-0.1314, -0.0872, 0.0137, 0.0071}};
static const MouldTab three[3] = {{-0.0913, 0.0872, 0.0113, 0.0059},
                                  {-0.1314, -0.0772, 0.0113, 0.0059},
                                  {0.1014, -0.0872, 0.0113, 0.0059}};

// How far out of its socket, along x or y (or in length, of a pin), any corner is.
static double
overlap(const MouldTab *tabs, guint n, double tx, double ty, double a)
{
    double most = 0;
    for (guint i = 0; i < n; i++) {
        if (!(tabs[i].width > 0)) {
            most = MAX(most, hypot(tx - a * tabs[i].y, ty + a * tabs[i].x));
            continue;
        }
        for (int k = 0; k < 4; k++) {
            double x = tabs[i].x + (k & 1 ? 0.5 : -0.5) * tabs[i].length;
            double y = tabs[i].y + (k & 2 ? 0.5 : -0.5) * tabs[i].width;
            most = MAX(most, MAX(fabs(tx - a * y), fabs(ty + a * x)));
        }
    }
    return most;
}

// Greatest shift of a point over a lattice of slides and turns: never above the true one, and close
// to it. Turns go with the most there can be, found by bisection.
static double
try_shift(const MouldTab *tabs, guint n, double x, double y, double turn)
{
    double most = 0;
    for (int k = -40; k <= 40; k++)
        for (int i = -60; i <= 60; i++)
            for (int j = -60; j <= 60; j++) {
                double a = turn * k / 40, tx = C * i / 30, ty = C * j / 30;
                if (overlap(tabs, n, tx, ty, a) <= C * (1 + 1e-9))
                    most = MAX(most, hypot(tx - a * y, ty + a * x));
            }
    return most;
}

static void
check_shift(const MouldTab *tabs, guint n, const char *what)
{
    static const double points[5][2] = {
        {0, 0}, {0.0713, -0.0291}, {-0.1127, 0.0713}, {0.211, 0.093}, {-0.31, -0.17}};
    double turn = mould_play_turn(tabs, n, C);
    for (int i = 0; i < 5; i++) {
        double x = points[i][0], y = points[i][1];
        double tried = try_shift(tabs, n, x, y, turn);
        double solved = mould_play_shift(tabs, n, C, x, y);
        g_test_message("%s %g %g: tried %g solved %g", what, x, y, tried, solved);
        g_assert_cmpfloat(solved, >=, tried * (1 - 1e-9));
        g_assert_cmpfloat(solved, <=, tried * 1.04);
    }
}

static void
test_against_trying(void)
{
    check_shift(four, 4, "four");
    check_shift(three, 3, "three");
    check_shift(two, 2, "two");
}

static void
test_pins_against_trying(void)
{
    MouldTab pins[4];
    for (int i = 0; i < 4; i++)
        pins[i] = (MouldTab){four[i].x, four[i].y, 0.0083, 0};
    check_shift(pins, 4, "four pins");
    check_shift(pins, 3, "three pins");
    for (int i = 0; i < 2; i++)
        pins[i] = (MouldTab){two[i].x, two[i].y, 0.0083, 0};
    check_shift(pins, 2, "two pins");
}

// Four tabs in a rectangle, without size: |tx| + |a| Y and |ty| + |a| X at most c.
static void
test_four_closed(void)
{
    double X = 0.131, Y = 0.097, h = 1e-9;
    MouldTab tabs[4] = {{X, Y, h, h}, {-X, Y, h, h}, {-X, -Y, h, h}, {X, -Y, h, h}};
    check_close(mould_play_turn(tabs, 4, C), C / X, 1e-7, "turn until both ends touch: c over X");
    check_close(mould_play_shift(tabs, 4, C, 0.11, 0.08), C * sqrt(2), 1e-7,
                "inside the tabs sliding cornerwise is the worst");
    double x = 0.31, y = 0.17, turn = C / X;
    check_close(mould_play_shift(tabs, 4, C, x, y), hypot(C - turn * Y + turn * y, turn * x), 1e-7,
                "far outside, turned until the ends touch and slid as far as the sides leave");
}

// Two tabs without size at (X, 0) and (-X, 0): ty + a X and ty - a X within c, tx free of a.
static void
test_two_closed(void)
{
    double X = 0.127, h = 1e-9;
    MouldTab tabs[2] = {{X, 0, h, h}, {-X, 0, h, h}};
    check_close(mould_play_turn(tabs, 2, C), C / X, 1e-7, "c over X");
    double y = 0.083;
    check_close(mould_play_shift(tabs, 2, C, 0, y), MAX(hypot(C, C), C + C / X * y), 1e-7,
                "beside the middle: slid and turned");
    double x = 0.211;
    check_close(mould_play_shift(tabs, 2, C, x, 0), hypot(C, C / X * x), 1e-7, "beyond a tab");
}

// Two pins: turning by a needs a X within c; at the middle of a pin nothing moves further than c.
static void
test_pins_closed(void)
{
    double X = 0.127;
    MouldTab pins[2] = {{X, 0, 0.008, 0}, {-X, 0, 0.008, 0}};
    check_close(mould_play_turn(pins, 2, C), C / X, 1e-9, "c over X");
    check_close(mould_play_shift(pins, 2, C, X, 0), C, 1e-9, "a pin moves by its clearance");
    check_close(mould_play_shift(pins, 2, C, 2 * X, 0), 2 * C, 1e-9,
                "twice as far out, turned about the middle");
}

static void
test_no_clearance(void)
{
    g_assert_cmpfloat(mould_play_shift(four, 4, 0, 0.1, 0.1), ==, 0);
    g_assert_cmpfloat(mould_play_turn(four, 4, 0), ==, 0);
}

static void
test_hull(void)
{
    const SolidPoint points[] = {{0.3, 0.2}, {0, 0},    {0.7, 0},    {0.7, 0.5},
                                 {0, 0.5},   {0.35, 0}, {0.7, 0.25}, {0.1, 0.4}};
    SolidPoint hull[G_N_ELEMENTS(points)];
    g_assert_cmpuint(mould_play_hull(points, G_N_ELEMENTS(points), hull), ==, 4);
    double area = 0;
    for (int i = 0; i < 4; i++)
        area += (hull[i].x * hull[(i + 1) % 4].y - hull[(i + 1) % 4].x * hull[i].y) / 2;
    check_close(area, 0.35, 1e-12, "0.7 by 0.5, anticlockwise");
    const SolidPoint lone[] = {{0.2, 0.1}};
    g_assert_cmpuint(mould_play_hull(lone, 1, hull), ==, 1);
    double at_hull = mould_play_shift_most(four, 4, C, hull, 1);
    check_close(at_hull, mould_play_shift(four, 4, C, 0.2, 0.1), 1e-12, "one point");
}

// The least clearance over a lattice of slides and turns and all ways to give tabs sockets.
static double
try_closing(const MouldTab *tabs, guint n, const MouldTurn *w, double reach)
{
    double least = INFINITY;
    for (int k = -60; k <= 60; k++)
        for (int i = -50; i <= 50; i++)
            for (int j = -50; j <= 50; j++) {
                double a = MOULD_NOTICE / reach * k / 60, most = 0;
                double tx = MOULD_NOTICE * i / 50, ty = MOULD_NOTICE * j / 50;
                for (guint t = 0; t < n; t++) {
                    double x = w->xx * tabs[t].x + w->xy * tabs[t].y;
                    double y = w->yx * tabs[t].x + w->yy * tabs[t].y, best = INFINITY;
                    for (guint s = 0; s < n; s++) {
                        double out = 0, dx = x - tabs[s].x + tx, dy = y - tabs[s].y + ty;
                        double sx = (tabs[s].length - tabs[t].length) / 2;
                        double sy = (tabs[s].width - tabs[t].width) / 2;
                        for (int c = -1; c <= 1; c += 2) {
                            out = MAX(out, fabs(dx - a * (y + c * tabs[t].width / 2)) - sx);
                            out = MAX(out, fabs(dy + a * (x + c * tabs[t].length / 2)) - sy);
                        }
                        best = MIN(best, out);
                    }
                    most = MAX(most, best);
                }
                least = MIN(least, most);
            }
    return least;
}

static void
test_closing_against_trying(void)
{
    static const MouldTurn ways[] = {{-1, 0, 0, -1}, {1, 0, 0, -1}, {-1, 0, 0, 1}};
    MouldTab tabs[4];
    double reach = 0.1314 + 0.0137 / 2;
    for (int set = 0; set < 3; set++) {
        for (int i = 0; i < 4; i++)
            tabs[i] = four[i];
        tabs[0].x = 0.1314 - 0.0043 * set; // none, a little, some shift
        for (int i = 0; i < 3; i++) {
            double solved = mould_play_closes(tabs, 4, &ways[i]);
            double tried = try_closing(tabs, 4, &ways[i], reach);
            g_test_message("shift %d way %d: tried %g solved %g", set, i, tried, solved);
            g_assert_cmpfloat(solved, <=, tried + 1e-9);
            g_assert_cmpfloat(solved, >=, tried - 0.2e-3); // the lattice's own coarseness
        }
    }
}

static void
test_closing_closed(void)
{
    static const MouldTurn half = {-1, 0, 0, -1};
    MouldTab tabs[4];
    for (int i = 0; i < 4; i++)
        tabs[i] = four[i];
    tabs[0].x = 0.1314;
    check_close(mould_play_closes(tabs, 4, &half) + 1, 1, 1e-9, "a rectangle fits turned");
    tabs[0].x = 0.1314 - 0.0037;
    // Two tabs are off by the shift, two by nothing; a slide by half shares it.
    check_close(mould_play_closes(tabs, 4, &half), 0.0037 / 2, 1e-6, "half the shift");
    // Two equal tabs fit turned wherever they stand, as far as the frame may be out of line.
    MouldTab pair[2] = {{0.1303, 0.0861, 0.0137, 0.0071}, {-0.1314, -0.0872, 0.0137, 0.0071}};
    check_close(mould_play_closes(pair, 2, &half) + 1, 1, 1e-9, "half a turn about their middle");
    pair[0].length += 0.0042;
    check_close(mould_play_closes(pair, 2, &half), 0.0021, 1e-6, "half of how much one is longer");
    MouldTab pins[2] = {{0.1303, 0.0861, 0.0125, 0}, {-0.1314, -0.0872, 0.0083, 0}};
    check_close(mould_play_closes(pins, 2, &half), 0.0021, 1e-6, "radii differ by half of it");
    // Far apart, they would fit only with the frame a long way out of line.
    pair[0] = (MouldTab){0.1114, 0.0872, 0.0137, 0.0071};
    g_assert_cmpfloat(mould_play_closes(pair, 2, &half), >, 0.01);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/play/trying", test_against_trying);
    g_test_add_func("/mould/play/pins-trying", test_pins_against_trying);
    g_test_add_func("/mould/play/four", test_four_closed);
    g_test_add_func("/mould/play/two", test_two_closed);
    g_test_add_func("/mould/play/pins", test_pins_closed);
    g_test_add_func("/mould/play/no-clearance", test_no_clearance);
    g_test_add_func("/mould/play/hull", test_hull);
    g_test_add_func("/mould/play/closing-trying", test_closing_against_trying);
    g_test_add_func("/mould/play/closing", test_closing_closed);
    return g_test_run();
}
