// SPDX-License-Identifier: GPL-3.0-or-later
// Ways through metal whose length is known.
#include "check.h"
#include "feed/distance.h"

#define CELL 1e-3

// 41 by 41 cells, one high, all metal of value 1.
static SolidGrid *
make_plate(void)
{
    SolidGrid *map = solid_grid_new(41, 41, 1, CELL, vec3(0, 0, 0));
    for (int i = 0; i < 41 * 41; i++)
        map->value[i] = 1;
    return map;
}

static double
distance(const SolidGrid *map, Vec3 start, double least, Vec3 *end)
{
    g_autoptr(GError) error = NULL;
    double d = feed_distance(map, start, least, end, NULL, &error);
    g_assert_no_error(error);
    return d;
}

static void
test_straight(void)
{
    g_autoptr(SolidGrid) map = make_plate();
    Vec3 end;
    check_close(distance(map, vec3(0, 0, 0), 0.5, &end), 40e-3 * sqrt(2), 1e-5, "the diagonal");
    check_close(end.x + end.y, 0.08, 1e-6, "the far corner");
    // A place outside counts from the nearest metal.
    check_close(distance(map, vec3(0.02, -0.03, 0), 0.5, &end), 20e-3 * sqrt(2) + 20e-3, 1e-5,
                "20 aslant and 20 straight");
    // Only the heavy cells count.
    map->value[10 * 41 + 7] = 3;
    check_close(distance(map, vec3(0, 0, 0), 2, &end), 7e-3 * sqrt(2) + 3e-3, 1e-5, "7 and 3");
    g_assert_cmpfloat(distance(map, vec3(0, 0, 0), 4, NULL), ==, 0);
}

// A slit nearly across makes the way go round its end.
static void
test_round(void)
{
    g_autoptr(SolidGrid) map = make_plate();
    for (int y = 0; y < 40; y++)
        map->value[y * 41 + 20] = 0;
    map->value[0 * 41 + 25] = 2;
    Vec3 end;
    // From (15, 0) up to the gap at (20, 40) and down to (25, 0): 5 aslant and 35 straight, twice.
    check_close(distance(map, vec3(0.015, 0, 0), 1.5, &end), 2e-3 * (5 * sqrt(2) + 35), 1e-5,
                "round the slit");
    // Cut off altogether: not reached, so not counted.
    map->value[40 * 41 + 20] = 0;
    g_assert_cmpfloat(distance(map, vec3(0.015, 0, 0), 1.5, &end), ==, 0);
}

static void
test_ends(void)
{
    g_autoptr(SolidGrid) map = make_plate();
    for (int i = 0; i < 41 * 41; i++)
        map->value[i] = 0;
    g_assert_cmpfloat(distance(map, vec3(0, 0, 0), 0, NULL), ==, 0);
    map->value[3] = 1;
    g_autoptr(GError) error = NULL;
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    g_assert_cmpfloat(feed_distance(map, vec3(0, 0, 0), 0, NULL, progress, &error), <, 0);
    g_assert_error(error, BASE_ERROR, BASE_ERROR_CANCELLED);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/feed/distance/straight", test_straight);
    g_test_add_func("/feed/distance/round", test_round);
    g_test_add_func("/feed/distance/ends", test_ends);
    return g_test_run();
}
