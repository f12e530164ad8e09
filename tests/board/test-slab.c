// SPDX-License-Identifier: GPL-3.0-or-later
// Boards with everything they can carry: closed, and of the volume of their parts.
#include "board/slab.h"
#include "check.h"
#include "solid/check.h"
#include "solid/measure.h"

static void
test_all(void)
{
    g_autoptr(GError) error = NULL;
    const SlabFeature features[] = {
        {SLAB_TOP, {0.01, 0.02, 9}, 0.006, 0.003, 0.004, 0.1, FALSE},
        {SLAB_TOP, {-0.02, 0.011, 9}, 0.005, 0.0025, -0.004, 0.1, FALSE},
        {SLAB_TOP, {0.02, -0.02, 9}, 0.0017, 0, 0, 0, TRUE},
        {SLAB_TOP, {-0.02, -0.02, 9}, 0.0017, 0, 0, 0, TRUE},
        {SLAB_LEFT, {9, 0.004, 0.004}, 0.0015, 0, -0.007, 0, FALSE},
        {SLAB_RIGHT, {9, 0.004, 0.004}, 0.0015, 0, -0.007, 0, FALSE},
        {SLAB_FRONT, {0.004, 9, 0.004}, 0.0015, 0, -0.007, 0, FALSE},
        {SLAB_BACK, {0.004, 9, 0.004}, 0.0015, 0, -0.007, 0, FALSE},
    };
    g_autoptr(SolidMesh) mesh = board_slab(vec3(-0.031, -0.034, 0), vec3(0.031, 0.034, 0.0083),
                                           features, G_N_ELEMENTS(features), &error);
    g_assert_no_error(error);
    SolidCheck check = solid_check(mesh);
    g_assert_true(check.closed);
    g_assert_cmpuint(check.inside_out, ==, 0);
    g_assert_cmpuint(check.degenerate, ==, 0);
    g_assert_cmpuint(check.shells, ==, 1);
    double polygon = 32 * tan(G_PI / 32); // about a circle of radius 1
    double raised = 0.004 / 6 * (0.012 * 0.006 + 0.0232 * 0.0112 + 0.0112 * 0.0052);
    double pocket = 0.004 / 6 * (0.010 * 0.005 + 0.0192 * 0.0092 + 0.0092 * 0.0042);
    double expected = 0.062 * 0.068 * 0.0083 + raised - pocket -
                      2 * polygon * 0.0017 * 0.0017 * 0.0083 -
                      4 * polygon * 0.0015 * 0.0015 * 0.007;
    check_close(solid_measure(mesh).volume, expected, 1e-9, "prismatoids and prisms");
}

static void
test_touching(void)
{
    g_autoptr(GError) error = NULL;
    const SlabFeature features[] = {{SLAB_TOP, {0, 0, 0}, 0.004, 0.004, -0.002, 0, FALSE},
                                    {SLAB_TOP, {0.005, 0, 0}, 0.004, 0.004, -0.002, 0, FALSE}};
    g_assert_null(board_slab(vec3(-0.02, -0.02, 0), vec3(0.02, 0.02, 0.005), features, 2, &error));
    check_error(error, BASE_ERROR_VALUE, "touch");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/board/slab/all", test_all);
    g_test_add_func("/board/slab/touching", test_touching);
    return g_test_run();
}
