// SPDX-License-Identifier: GPL-3.0-or-later
// Thinnest wall of solids whose walls are known.
#include "check.h"
#include "part/wall.h"

#define MM 1e-3

static void
test_known(void)
{
    g_autoptr(SolidMesh) box = check_mesh_box(40.1 * MM, 30.3 * MM, 4.7 * MM);
    check_close(wall_thinnest(box, NULL, NULL), 4.7 * MM, 1e-6, "the plate's thickness");
    g_autoptr(SolidMesh) turned = check_mesh_turned(box);
    check_close(wall_thinnest(turned, NULL, NULL), 4.7 * MM, 1e-6, "the same, turned");
    g_autoptr(SolidMesh) plate = check_mesh_blind_plate(60 * MM, 50 * MM, 14.5 * MM, 13 * MM,
                                                        12.2 * MM, 64);
    check_close(wall_thinnest(plate, NULL, NULL), 2.3 * MM, 1e-6, "the hole's floor");
    g_autoptr(SolidMesh) torus = check_mesh_torus(20 * MM, 3.7 * MM, 96, 48);
    check_close(wall_thinnest(torus, NULL, NULL), 7.4 * MM, 0.01, "a rod bent round");
    g_autoptr(SolidMesh) ball = check_mesh_sphere(9.1 * MM, 100, 200);
    check_close(wall_thinnest(ball, NULL, NULL), 18.2 * MM, 0.01, "its diameter");
}

static void
test_none(void)
{
    g_autoptr(SolidMesh) empty = solid_mesh_new(0, 0);
    g_assert_true(isnan(wall_thinnest(empty, NULL, NULL)));
    g_autoptr(Progress) progress = progress_new();
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidMesh) box = check_mesh_box(1, 1, 1);
    progress_stop(progress);
    g_assert_true(isnan(wall_thinnest(box, progress, &error)));
    check_error(error, BASE_ERROR_CANCELLED, "");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/part/wall/known", test_known);
    g_test_add_func("/part/wall/none", test_none);
    return g_test_run();
}
