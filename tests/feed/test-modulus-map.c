// SPDX-License-Identifier: GPL-3.0-or-later
// The modulus map on shapes whose weighed integrals have a closed form, and its maxima.
#include "check.h"
#include "feed/modulus-map.h"

static SolidGrid *
grid_of(const SolidMesh *mesh, double cell)
{
    g_autoptr(GError) error = NULL;
    SolidGrid *grid = solid_grid_distance(mesh, cell, 2 * cell, 2 * cell, NULL, &error);
    g_assert_no_error(error);
    return grid;
}

static double
highest(const SolidMesh *mesh, double cell, double radius, FeedSpot *spots, guint *n)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidGrid) casting = grid_of(mesh, cell);
    g_autoptr(SolidGrid) map = feed_modulus_map(casting, radius, NULL, &error);
    g_assert_no_error(error);
    g_assert_nonnull(map);
    *n = feed_modulus_spots(map, spots);
    g_assert_cmpuint(*n, >, 0);
    return spots[0].modulus;
}

// For a plate of half thickness r the bell curve of width 1.5 r gives erf(x / sqrt 2) of metal and
// 2 phi(x) / 1.5 r of surface, with x = 1 / 1.5.
static void
test_closed_forms(void)
{
    FeedSpot spots[FEED_MAP_MOST];
    guint n;
    double x = 1 / FEED_MAP_WIDTH, phi = exp(-x * x / 2) / sqrt(2 * G_PI);
    double plate = erf(x / sqrt(2)) / (2 * phi * x), r = 0.0061;
    g_autoptr(SolidMesh) wide = check_mesh_box(0.071, 0.073, 2 * r);
    check_close(highest(wide, 0.7e-3, r, spots, &n), r, 0.03, "a plate is divided out");
    g_assert_cmpuint(n, ==, 1);
    // A long bar: 1 - exp(-x2/2) of metal; 2 pi r / (2 pi s2) exp(-x2/2) of surface.
    double bar = (1 - exp(-x * x / 2)) / (x * x * exp(-x * x / 2)) * r / plate;
    g_autoptr(SolidMesh) rod = check_mesh_cylinder(r, 0.071, 96);
    check_close(highest(rod, 0.7e-3, r, spots, &n), bar, 0.03, "bell curve over a bar");
    check_close(bar, r / 2, 0.09, "D/4");
    // A ball: erf(x / sqrt 2) - 2 x phi(x) of metal, 4 pi r2 of surface at (2 pi s2)^(-3/2).
    double metal = erf(x / sqrt(2)) - 2 * x * phi;
    double ball = metal / (4 * G_PI * pow(2 * G_PI, -1.5) * x * x * x * exp(-x * x / 2)) * r /
                  plate;
    g_autoptr(SolidMesh) sphere = check_mesh_sphere(r, 64, 128);
    check_close(highest(sphere, 0.3e-3, r, spots, &n), ball, 0.03, "bell curve over a ball");
    check_close(ball, r / 3, 0.14, "D/6");
    g_assert_cmpfloat(vec3_length(spots[0].at), <, 0.5e-3);
}

// Balls on a thin rod: the heaviest first, both found.
static void
test_two_places(void)
{
    g_autoptr(SolidGrid) casting = solid_grid_new(101, 31, 31, 1e-3, vec3(-0.05, -0.015, -0.015));
    for (int k = 0; k < 31; k++)
        for (int j = 0; j < 31; j++)
            for (int i = 0; i < 101; i++) {
                Vec3 p = vec3(-0.05 + i * 1e-3, -0.015 + j * 1e-3, -0.015 + k * 1e-3);
                double d = fmax(hypot(p.y, p.z) - 0.004, fabs(p.x) - 0.045);
                d = fmin(d, vec3_length(vec3_sub(p, vec3(-0.031, 0, 0))) - 0.0103);
                d = fmin(d, vec3_length(vec3_sub(p, vec3(0.029, 0, 0))) - 0.0122);
                casting->value[solid_grid_index(casting, i, j, k)] = (float)d;
            }
    FeedSpot spots[FEED_MAP_MOST];
    g_autoptr(SolidGrid) map = feed_modulus_map(casting, 0.0122, NULL, NULL);
    g_assert_cmpuint(feed_modulus_spots(map, spots), ==, 2);
    g_assert_cmpfloat(spots[0].modulus, >, spots[1].modulus);
    g_assert_cmpfloat(fabs(spots[0].at.x - 0.029), <, 4e-3);
    g_assert_cmpfloat(fabs(spots[1].at.x + 0.031), <, 4e-3);
    check_close(feed_skin_at(casting, 0.029, 0, 1), 0.0122, 0.01, "top of the ball");
    check_close(feed_skin_at(casting, 0, 0, -1), -0.004, 0.01, "under the rod");
    g_assert_cmpint(isnan(feed_skin_at(casting, 0, 0.012, 1)), !=, 0);
}

static void
test_scale(void)
{
    // Twice as large in every length, twice the modulus.
    FeedSpot one[FEED_MAP_MOST], two[FEED_MAP_MOST];
    guint n, m;
    g_autoptr(SolidMesh) small = check_mesh_box(0.031, 0.023, 0.017);
    g_autoptr(SolidMesh) large = check_mesh_box(0.062, 0.046, 0.034);
    double a = highest(small, 0.5e-3, 0.0085, one, &n), b = highest(large, 1e-3, 0.017, two, &m);
    check_close(b, 2 * a, 1e-4, "similar bodies");
    g_assert_cmpuint(n, ==, m);
}

static void
test_nothing(void)
{
    g_autoptr(SolidGrid) casting = solid_grid_new(4, 4, 4, 1e-3, vec3(0, 0, 0));
    for (int i = 0; i < 64; i++)
        casting->value[i] = 1;
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidGrid) none = feed_modulus_map(casting, 0, NULL, &error);
    g_assert_null(none);
    g_assert_no_error(error);
    FeedSpot spots[FEED_MAP_MOST];
    g_autoptr(SolidGrid) empty = feed_modulus_map(casting, 1e-3, NULL, &error);
    g_assert_cmpuint(feed_modulus_spots(empty, spots), ==, 0);
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    g_autoptr(SolidGrid) stopped = feed_modulus_map(casting, 1e-3, progress, &error);
    g_assert_null(stopped);
    g_assert_error(error, BASE_ERROR, BASE_ERROR_CANCELLED);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/feed/modulus-map/closed-forms", test_closed_forms);
    g_test_add_func("/feed/modulus-map/two-places", test_two_places);
    g_test_add_func("/feed/modulus-map/scale", test_scale);
    g_test_add_func("/feed/modulus-map/nothing", test_nothing);
    return g_test_run();
}
