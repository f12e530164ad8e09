// SPDX-License-Identifier: GPL-3.0-or-later
// Nesting against known best packings, plain tilings, interlocking shapes, obstacles and locks.
#include <math.h>
#include <string.h>

#include "check.h"
#include "mould/nest.h"
#include "mould/stance.h"
#include "shapes.h"

static SolidOutline *
rectangle_at(double x, double y, double length, double width)
{
    double a = length / 2, b = width / 2;
    const SolidPoint p[4] = {{x - a, y - b}, {x + a, y - b}, {x + a, y + b}, {x - a, y + b}};
    return shapes_outline(p, 4);
}

static guint
nest(const MouldNestTask *task)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(MouldNestResult) r = mould_nest(task, NULL, &error);
    g_assert_no_error(error);
    g_assert_true(mould_nest_holds(task, (MouldNestSpot *)r->spots->data, r->spots->len, 1e-9));
    g_assert_cmpuint(r->spots->len, <=, r->bound);
    return r->spots->len;
}

// Sand between discs is a disc larger by half of it, in a container larger by as much.
static guint
nest_discs(double radius, double container, gboolean round, guint most, guint starts)
{
    const double sand = 0.021;
    g_autoptr(SolidOutline) o = shapes_disc(radius - sand / 2);
    MouldNestTask task = {.round = round,
                          .length = container - sand,
                          .width = container - sand,
                          .clearance = sand,
                          .angles = 1,
                          .outlines = {o},
                          .share = {1, 0},
                          .most = most,
                          .starts = starts};
    return nest(&task);
}

static void
test_discs_in_square(void)
{
    // Best radius in a square of side 1. Closed forms of the known best packings, the last from
    // memory: E. Specht's tables of equal circles in a square.
    const double best[11] = {0,
                             0.5,
                             1 / (2 + sqrt(2)),
                             1 / (2 + (sqrt(2) + sqrt(6)) / 2),
                             0.25,
                             (sqrt(2) - 1) / 2,
                             (6 * sqrt(13) - 13) / 46,
                             1 / (4 + sqrt(3)),
                             1 / (2 + sqrt(2) + sqrt(6)),
                             1 / 6.0,
                             0.148204};
    for (guint n = 2; n <= 10; n++)
        g_assert_cmpuint(nest_discs(0.97 * best[n], 1, FALSE, n, 0), ==, n);
    // None where none can be.
    g_assert_cmpuint(nest_discs(1.01 * best[2], 1, FALSE, 2, 8), ==, 1);
    g_assert_cmpuint(nest_discs(1.01 * best[5], 1, FALSE, 5, 8), ==, 4);
}

static void
test_discs_in_circle(void)
{
    // Best radius in a circle of diameter 1: closed forms (Graham, 1968, for these numbers).
    const double best[8] = {0,
                            0.5,
                            0.25,
                            0.5 / (1 + 2 / sqrt(3)),
                            0.5 / (1 + sqrt(2)),
                            0.5 / (1 + sqrt(2 * (1 + 1 / sqrt(5)))),
                            0.5 / 3,
                            0.5 / 3};
    for (guint n = 2; n <= 7; n++)
        g_assert_cmpuint(nest_discs(0.97 * best[n], 1, TRUE, n, 0), ==, n);
    g_assert_cmpuint(nest_discs(1.01 * best[3], 1, TRUE, 3, 8), ==, 2);
}

static void
test_rectangles(void)
{
    // 4 by 3 of them exactly, with the sand between.
    const double a = 0.0517, b = 0.0313, sand = 0.0203;
    g_autoptr(SolidOutline) o = rectangle_at(0, 0, a, b);
    MouldNestTask task = {.length = 4 * a + 3 * sand + 3e-4,
                          .width = 3 * b + 2 * sand + 3e-4,
                          .clearance = sand,
                          .angles = 4,
                          .outlines = {o},
                          .share = {1, 0},
                          .starts = 4,
                          .most = 12};
    g_assert_cmpuint(nest(&task), ==, 12);
    // Where three stand on end only two lie, and two are found when they may not turn.
    task.length = 3 * b + 2 * sand + 3e-4;
    task.width = a + 3e-4;
    task.most = 3;
    task.angles = 1;
    g_assert_cmpuint(nest(&task), ==, 2);
    task.angles = 4;
    g_assert_cmpuint(nest(&task), ==, 3);
}

static void
test_hooks(void)
{
    // Two L's, one turned by half, fill a rectangle; side by side as drawn only one fits.
    const double t = 0.02, sand = 0.006;
    const SolidPoint p[6] = {{-0.04, -0.03},         {0.04, -0.03},     {0.04, -0.03 + t},
                             {-0.04 + t, -0.03 + t}, {-0.04 + t, 0.03}, {-0.04, 0.03}};
    g_autoptr(SolidOutline) o = shapes_outline(p, 6);
    MouldNestTask task = {.length = 0.08 + t + sand + 6e-4,
                          .width = 0.06 + t + sand + 6e-4,
                          .clearance = sand,
                          .angles = 2,
                          .outlines = {o},
                          .share = {1, 0},
                          .most = 2};
    g_assert_cmpuint(nest(&task), ==, 2);
    task.angles = 0;
    g_assert_cmpuint(nest(&task), ==, 2);
    task.angles = 1;
    task.starts = 8;
    task.length = 0.08 + t + sand - 1e-3;
    task.width = 0.06 + t + sand - 1e-3;
    g_assert_cmpuint(nest(&task), ==, 1);
}

static void
test_around(void)
{
    // A bar across the middle and a piece that stays: the rest goes round them.
    g_autoptr(SolidOutline) o = rectangle_at(0, 0, 0.05, 0.04);
    g_autoptr(SolidOutline) bar = rectangle_at(0, 0, 0.26, 0.012);
    const SolidOutline *obstacles[1] = {bar};
    const MouldNestSpot locked[1] = {{-0.06, 0.05, 0.31, 0, TRUE}};
    MouldNestTask task = {.length = 0.26,
                          .width = 0.17,
                          .clearance = 0.015,
                          .angles = 0,
                          .outlines = {o},
                          .share = {1, 0},
                          .obstacles = obstacles,
                          .n_obstacles = 1,
                          .locked = locked,
                          .n_locked = 1,
                          .most = 6,
                          .starts = 24};
    g_autoptr(MouldNestResult) r = mould_nest(&task, NULL, NULL);
    g_assert_cmpuint(r->spots->len, ==, 6);
    const MouldNestSpot *first = &g_array_index(r->spots, MouldNestSpot, 0);
    g_assert_true(first->locked);
    check_close(first->turn, 0.31, 0, "stays");
    check_close(first->x, -0.06, 0, "stays");
    g_assert_true(mould_nest_holds(&task, (MouldNestSpot *)r->spots->data, 6, 1e-9));
    // Same again, whatever the threads.
    g_autoptr(MouldNestResult) again = mould_nest(&task, NULL, NULL);
    g_assert_cmpmem(r->spots->data, 6 * sizeof(MouldNestSpot), again->spots->data,
                    6 * sizeof(MouldNestSpot));
}

static void
test_two_kinds(void)
{
    g_autoptr(SolidOutline) large = shapes_disc(0.03), small = rectangle_at(0, 0, 0.03, 0.02);
    MouldNestTask task = {.length = 0.21,
                          .width = 0.16,
                          .clearance = 0.012,
                          .angles = 24,
                          .outlines = {large, small},
                          .share = {1, 2},
                          .most = 6};
    g_autoptr(MouldNestResult) r = mould_nest(&task, NULL, NULL);
    g_assert_cmpuint(r->spots->len, ==, 6);
    guint of[2] = {0};
    for (guint i = 0; i < 6; i++)
        of[g_array_index(r->spots, MouldNestSpot, i).kind]++;
    g_assert_cmpuint(of[0], ==, 2);
    g_assert_cmpuint(of[1], ==, 4);
    g_assert_cmpfloat(r->quality, >, 0.2);
}

static void
test_refused(void)
{
    g_autoptr(SolidOutline) o = shapes_disc(0.03);
    MouldNestTask task = {.length = -0.2, .width = 0.2, .outlines = {o}, .share = {1, 0}};
    GError *error = NULL;
    g_assert_null(mould_nest(&task, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, "no room");
    task.length = 0.3;
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    g_assert_null(mould_nest(&task, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
}

// An outline of two parts: the small one, as far inside another's large one as the sand, is inside.
static void
test_parts(void)
{
    const double sand = 0.01;
    const SolidPoint p[8] = {{-0.05, -0.05},  {0.05, -0.05},   {0.05, 0.05},   {-0.05, 0.05},
                             {0.147, -0.003}, {0.153, -0.003}, {0.153, 0.003}, {0.147, 0.003}};
    const guint first[2] = {0, 4};
    GArray *points = g_array_new(FALSE, FALSE, sizeof(SolidPoint));
    GArray *starts = g_array_new(FALSE, FALSE, sizeof(guint));
    g_array_append_vals(points, p, 8);
    g_array_append_vals(starts, first, 2);
    g_autoptr(SolidOutline) o = solid_outline_take(points, starts);
    MouldNestTask task = {
        .length = 1, .width = 1, .clearance = sand, .outlines = {o}, .share = {1}};
    MouldNestSpot spots[2] = {{0},
                              {.x = -0.15}}; // the small part of the second in the first's middle
    g_assert_false(mould_nest_holds(&task, spots, 2, 1e-9));
    spots[1].y = 0.2;
    g_assert_true(mould_nest_holds(&task, spots, 2, 1e-9));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/nest/refused", test_refused);
    g_test_add_func("/mould/nest/rectangles", test_rectangles);
    g_test_add_func("/mould/nest/hooks", test_hooks);
    g_test_add_func("/mould/nest/around", test_around);
    g_test_add_func("/mould/nest/two-kinds", test_two_kinds);
    g_test_add_func("/mould/nest/circle", test_discs_in_circle);
    g_test_add_func("/mould/nest/square", test_discs_in_square);
    g_test_add_func("/mould/nest/parts", test_parts);
    return g_test_run();
}
