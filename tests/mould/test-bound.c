// SPDX-License-Identifier: GPL-3.0-or-later
// Upper bounds: never under a packing that is known, exact where the best is plain, and never under
// what the search finds.
#include <math.h>

#include "check.h"
#include "mould/beside.h"
#include "mould/bound.h"
#include "mould/fit.h"
#include "mould/nest.h"
#include "shapes.h"
#include "wish.h"

static SolidOutline *
rectangle(double length, double width)
{
    double a = length / 2, b = width / 2;
    const SolidPoint p[4] = {{-a, -b}, {a, -b}, {a, b}, {-a, b}};
    return shapes_outline(p, 4);
}

static double
discs_bound(double radius, double container, gboolean round)
{
    MouldBoundTask t = {.round = round, .length = container, .width = container};
    return mould_bound_discs(&t, radius);
}

static double
strips_of_discs(double radius, double container, gboolean round)
{
    const double sand = 0.021;
    g_autoptr(SolidOutline) o = shapes_disc(radius - sand / 2);
    MouldBoundTask t = {round, container - sand, container - sand, sand, 0, o};
    return mould_bound_strips(&t, 0, NULL);
}

static void
test_published_discs(void)
{
    // Best radius in a square of side 1 for 2 to 10, closed forms of the known best packings (the
    // last and those of 20 and 30 from memory: E. Specht's tables of equal circles in a square).
    const double best[] = {1 / (2 + sqrt(2)),
                           1 / (2 + (sqrt(2) + sqrt(6)) / 2),
                           0.25,
                           (sqrt(2) - 1) / 2,
                           (6 * sqrt(13) - 13) / 46,
                           1 / (4 + sqrt(3)),
                           1 / (2 + sqrt(2) + sqrt(6)),
                           1 / 6.0,
                           0.148204,
                           0.111382,
                           0.091671};
    const guint number[] = {2, 3, 4, 5, 6, 7, 8, 9, 10, 20, 30};
    for (guint i = 0; i < G_N_ELEMENTS(best); i++) {
        g_assert_cmpfloat(discs_bound(best[i] * (1 - 1e-5), 1, FALSE), >=, number[i]);
        g_assert_cmpfloat(strips_of_discs(best[i] * (1 - 1e-5), 1, FALSE), >=, number[i]);
    }
    // By area alone 30 of these discs would be 37; Oler's is nearer.
    g_assert_cmpfloat(floor(discs_bound(0.0917, 1, FALSE)), <, floor(1 / (G_PI * 0.0917 * 0.0917)));
    // In a circle of diameter 1: Graham, 1968, and 19 from memory (Fodor, 1999).
    const double round[] = {0.25,
                            0.5 / (1 + 2 / sqrt(3)),
                            0.5 / (1 + sqrt(2)),
                            0.5 / (1 + sqrt(2 * (1 + 1 / sqrt(5)))),
                            0.5 / 3,
                            0.5 / (1 + sqrt(2) + sqrt(6))};
    const guint of_round[] = {2, 3, 4, 5, 7, 19};
    for (guint i = 0; i < G_N_ELEMENTS(round); i++) {
        g_assert_cmpfloat(discs_bound(round[i] * (1 - 1e-9), 1, TRUE), >=, of_round[i]);
        g_assert_cmpfloat(strips_of_discs(round[i] * (1 - 1e-5), 1, TRUE), >=, of_round[i]);
    }
}

static void
test_discs_in_a_row(void)
{
    // In a strip as wide as a disc the bound is the number of discs.
    MouldBoundTask t = {.length = 0.377, .width = 0.0417, .clearance = 0.0131};
    double row = 1 + floor((t.length - t.width) / (t.width + t.clearance));
    g_assert_cmpfloat(floor(mould_bound_discs(&t, t.width / 2)), ==, row);
    t.width -= 1e-6;
    g_assert_cmpfloat(mould_bound_discs(&t, 0.0417 / 2), ==, 0);
}

static double
strips_of(double a, double b, double sand, double length, double width)
{
    g_autoptr(SolidOutline) o = rectangle(a, b);
    MouldBoundTask t = {FALSE, length, width, sand, 0, o};
    return floor(mould_bound_strips(&t, 0, NULL) + 1e-9);
}

static void
test_plain_rectangles(void)
{
    const double a = 0.0917, b = 0.0613, sand = 0.0203, more = 3e-4;
    // As many as can be, so no less.
    g_assert_cmpfloat(strips_of(a, b, sand, 4 * a + 3 * sand + more, 3 * b + 2 * sand + more), >=,
                      12);
    // A strip in which they can only lie, one after another: what is left at the end is for none.
    g_assert_cmpfloat(strips_of(a, b, sand, 3.6 * (a + sand), b + 0.004), ==, 3);
    // Higher, but too low for two: by area 5 would fit. Standing takes b each.
    double length = 4 * b + 3.7 * sand, width = 1.15 * a;
    g_assert_cmpfloat(
        floor((length + sand) * (width + sand) / (a * b + sand * (a + b) + G_PI / 4 * sand * sand)),
        ==, 4);
    g_assert_cmpfloat(strips_of(a, b, sand, length, width), ==, 4);
    // Too narrow for any.
    g_assert_cmpfloat(strips_of(a, b, sand, 0.3, b - 0.004), ==, 0);
    g_assert_cmpfloat(strips_of(a, b, sand, -0.1, 0.2), ==, 0);
    // Without sand the outlines are made smaller, not larger.
    g_assert_cmpfloat(strips_of(a, b, 0, 3.6 * a, 1.06 * b), ==, 3);
}

// What the search finds is there, so no bound may be less.
static void
test_never_under_what_is_found(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(20377);
    for (int i = 0; i < 14; i++) {
        double a = g_rand_double_range(rand, 0.03, 0.09), b = g_rand_double_range(rand, 0.02, 0.06);
        double t = g_rand_double_range(rand, 0.3, 0.9), sand = g_rand_double_range(rand, 0, 0.02);
        // A hook: a box with a corner taken out.
        const SolidPoint p[6] = {{-a / 2, -b / 2},       {a / 2, -b / 2},
                                 {a / 2, t * b - b / 2}, {t * a - a / 2, t * b - b / 2},
                                 {t * a - a / 2, b / 2}, {-a / 2, b / 2}};
        g_autoptr(SolidOutline) o = shapes_outline(p, 6);
        MouldBoundTask bound = {i % 3 == 0,
                                g_rand_double_range(rand, 0.1, 0.22),
                                g_rand_double_range(rand, 0.1, 0.2),
                                sand,
                                0,
                                o};
        if (bound.round)
            bound.width = bound.length;
        MouldNestTask task = {.round = bound.round,
                              .length = bound.length,
                              .width = bound.width,
                              .clearance = sand,
                              .outlines = {o},
                              .share = {1, 0},
                              .starts = 8};
        g_autoptr(MouldNestResult) r = mould_nest(&task, NULL, NULL);
        g_assert_nonnull(r);
        double radius = mould_bound_inscribed(o);
        g_assert_cmpfloat(radius, <=, fmin(a, b) / 2 + 1e-12);
        g_assert_cmpfloat(mould_bound_discs(&bound, radius) + 1e-9, >=, r->spots->len);
        double strips = mould_bound_strips(&bound, 0, NULL);
        g_assert_cmpfloat(strips + 1e-9, >=, r->spots->len);
        // Stopping early does not change whether it is enough.
        double early = mould_bound_strips(&bound, r->spots->len, NULL);
        g_assert_cmpfloat(early + 1e-9, >=, r->spots->len);
        g_assert_cmpint(floor(early) <= r->spots->len, ==, floor(strips) <= r->spots->len);
    }
}

// A box with a riser beside it, as one outline.
static SolidOutline *
with_riser(double a, double b, double r, double gap, double along)
{
    g_autoptr(SolidOutline) box = rectangle(a, b);
    MouldBeside beside = {{along, -b / 2 - gap - r}, {along, -b / 2}, r};
    return mould_beside_outline(box, &beside, TRUE);
}

static void
test_grown(void)
{
    const double a = 0.0917, b = 0.0613, r = 0.0117, disc = 0.0208;
    g_autoptr(SolidOutline) box = rectangle(a, b);
    double grown = mould_bound_grown(box, r), true_area = a * b + 2 * r * (a + b) + G_PI * r * r;
    g_assert_cmpfloat(grown, <=, true_area);
    check_close(grown, true_area, 4e-3, "Steiner's formula");
    // Far from each other both parts count whole; near, what both cover counts once.
    g_autoptr(SolidOutline) far = with_riser(a, b, disc, 2.1 * r, 0.011);
    double both = true_area + G_PI * (disc + r) * (disc + r);
    g_assert_cmpfloat(mould_bound_grown(far, r), <=, both);
    check_close(mould_bound_grown(far, r), both, 6e-3, "Steiner's formula, of both");
    g_autoptr(SolidOutline) near = with_riser(a, b, disc, r, 0.011);
    g_assert_cmpfloat(mould_bound_grown(near, r), <, 0.985 * both);
    g_assert_cmpfloat(mould_bound_grown(near, r), >, true_area + G_PI * disc * disc);
}

// Boxes that fill a flask to the last leave no room for a well; one that takes the place of two of
// them does not bound what is left.
static void
test_well(void)
{
    const double a = 0.0617, sand = 0.0203, more = 3e-4;
    g_autoptr(SolidOutline) o = rectangle(a, a);
    double side = 3 * a + 2 * sand + more;
    MouldBoundTask t = {FALSE, side, side, sand, 0, o};
    g_assert_cmpfloat(floor(mould_bound_strips(&t, 0, NULL)), >=, 9);
    t.well = a;
    double eight = floor(mould_bound_strips(&t, 0, NULL));
    g_assert_cmpfloat(eight, >=, 8); // it stands where the ninth stood
    g_assert_cmpfloat(eight, <, 9);
    t.well = 1.9 * side;
    g_assert_cmpfloat(mould_bound_strips(&t, 0, NULL), <=, 0);
}

// What a search finds about a well that was put anywhere is there.
static void
test_never_under_what_stands_about_a_well(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(50231);
    for (int i = 0; i < 12; i++) {
        double a = g_rand_double_range(rand, 0.03, 0.06), b = g_rand_double_range(rand, 0.02, 0.05);
        double r = g_rand_double_range(rand, 0.006, 0.013),
               sand = g_rand_double_range(rand, 0, 0.02);
        g_autoptr(SolidOutline) o = with_riser(a, b, r, 0.004, g_rand_double_range(rand, 0, a / 3));
        MouldBoundTask t = {
            FALSE, g_rand_double_range(rand, 0.15, 0.26), g_rand_double_range(rand, 0.15, 0.22),
            sand,  g_rand_double_range(rand, 0.01, 0.05), o};
        double x = g_rand_double_range(rand, -0.5, 0.5) * (t.length - t.well);
        double y = g_rand_double_range(rand, -0.5, 0.5) * (t.width - t.well);
        g_autoptr(SolidOutline) well = shapes_disc(t.well / 2);
        for (guint k = 0; k < well->n_points; k++) {
            well->points[k].x += x;
            well->points[k].y += y;
        }
        const SolidOutline *obstacles[1] = {well};
        MouldNestTask task = {.length = t.length,
                              .width = t.width,
                              .clearance = sand,
                              .outlines = {o},
                              .share = {1, 0},
                              .obstacles = obstacles,
                              .n_obstacles = 1,
                              .starts = 8};
        g_autoptr(MouldNestResult) found = mould_nest(&task, NULL, NULL);
        g_assert_nonnull(found);
        g_assert_cmpfloat(mould_bound_strips(&t, 0, NULL) + 1e-9, >=, found->spots->len);
        double room = (t.length + sand) * (t.width + sand) - G_PI / 4 * pow(t.well + sand, 2);
        double area = room / mould_bound_grown(o, sand / 2);
        g_assert_cmpfloat(area + 1e-9, >=, found->spots->len);
    }
}

// No layout, however the castings stand and whatever is asked for, has a lesser well.
static void
test_least_well(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(7717);
    for (int i = 0; i < 60; i++) {
        MouldWish wish = wish_of(0.4, 0.3);
        wish.velocity_limit = i % 3 == 0 ? NAN : g_rand_double_range(rand, 0.05, 0.6);
        wish.fill_time = i % 4 == 1 ? g_rand_double_range(rand, 1, 9) : NAN;
        wish.choke = i % 5 == 2 ? 7.3e-5 : 0;
        wish.cavity_volume *= g_rand_double_range(rand, 0.1, 9);
        wish.cavity_mass = wish.density * wish.cavity_volume * 1.07;
        // As the sizes may be fitted.
        wish.gate_share = g_rand_double_range(rand, MOULD_FIT_LEAST_SHARE, 0.9);
        wish.runner_ratio = g_rand_double_range(rand, 1, 16);
        g_autoptr(SolidOutline) box = rectangle(wish.box_x, wish.box_y);
        g_autoptr(MouldFixed) fixed = mould_fixed_new(&wish, box, box);
        PlacementSpot spots[6] = {0};
        guint n = (guint)g_rand_int_range(rand, 1, 7);
        for (guint k = 0; k < n; k++)
            spots[k] = (PlacementSpot){g_rand_double_range(rand, -0.15, 0.15),
                                       g_rand_double_range(rand, -0.1, 0.1),
                                       g_rand_double_range(rand, 0, 7), FALSE};
        g_autoptr(MouldLayout) l = mould_layout_new();
        MouldPour pour;
        mould_fixed_build(l, fixed, spots, n, NAN, NAN, -1, &pour);
        double radius = mould_bound_inscribed(box);
        for (guint k = 1; k <= n; k++)
            g_assert_cmpfloat(mould_bound_well(&wish, k, radius), <=, l->well_diameter * 1.000001);
        g_assert_cmpfloat(mould_bound_well(&wish, 1, radius), >, 0);
    }
}

static void
test_inscribed(void)
{
    g_autoptr(SolidOutline) box = rectangle(0.0817, 0.0433);
    check_close(mould_bound_inscribed(box), 0.0433 / 2, 1e-4, "half the shorter side");
    g_autoptr(SolidOutline) round = shapes_disc(0.0377);
    check_close(mould_bound_inscribed(round), 0.0377 * cos(G_PI / 64), 1e-4, "apothem");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/bound/published-discs", test_published_discs);
    g_test_add_func("/mould/bound/row", test_discs_in_a_row);
    g_test_add_func("/mould/bound/rectangles", test_plain_rectangles);
    g_test_add_func("/mould/bound/found", test_never_under_what_is_found);
    g_test_add_func("/mould/bound/inscribed", test_inscribed);
    g_test_add_func("/mould/bound/grown", test_grown);
    g_test_add_func("/mould/bound/well", test_well);
    g_test_add_func("/mould/bound/about-a-well", test_never_under_what_stands_about_a_well);
    g_test_add_func("/mould/bound/least-well", test_least_well);
    return g_test_run();
}
