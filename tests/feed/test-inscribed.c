// SPDX-License-Identifier: GPL-3.0-or-later
// The largest ball inside shapes whose answer is known.
#include "check.h"
#include "feed/inscribed.h"

static double
radius_of(const SolidMesh *mesh, double cell, double margin, Vec3 *where)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidGrid) grid = solid_grid_distance(mesh, cell, margin, 2 * cell, NULL, &error);
    g_assert_no_error(error);
    double radius = feed_inscribed_radius(grid, where, NULL, &error);
    g_assert_no_error(error);
    return radius;
}

static void
test_shapes(void)
{
    Vec3 where;
    g_autoptr(SolidMesh) ball = check_mesh_sphere(0.0123, 48, 96);
    g_assert_cmpfloat(fabs(radius_of(ball, 0.7e-3, 1e-3, &where) - 0.0123), <, 0.7e-3);
    g_assert_cmpfloat(vec3_length(where), <, 1e-3);
    // A plate that touches the box of its grid.
    g_autoptr(SolidMesh) plate = check_mesh_box(0.0413, 0.0329, 0.0087);
    g_assert_cmpfloat(fabs(radius_of(plate, 0.6e-3, 0, &where) - 0.0087 / 2), <, 0.6e-3);
    g_autoptr(SolidMesh) rod = check_mesh_cylinder(0.0071, 0.0613, 64);
    g_assert_cmpfloat(fabs(radius_of(rod, 0.5e-3, 1e-3, NULL) - 0.0071), <, 0.5e-3);
}

static void
test_stop(void)
{
    g_autoptr(SolidMesh) plate = check_mesh_box(0.0413, 0.0329, 0.0087);
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidGrid) grid = solid_grid_distance(plate, 1e-3, 0, 2e-3, NULL, &error);
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    g_assert_cmpfloat(feed_inscribed_radius(grid, NULL, progress, &error), <, 0);
    g_assert_error(error, BASE_ERROR, BASE_ERROR_CANCELLED);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/feed/inscribed/shapes", test_shapes);
    g_test_add_func("/feed/inscribed/stop", test_stop);
    return g_test_run();
}
