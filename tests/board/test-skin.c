// SPDX-License-Identifier: GPL-3.0-or-later
// Skins over shapes of known volume, cut flat by the grid's sides, and over noise.
#include "board/shape.h"
#include "board/skin.h"
#include "check.h"
#include "solid/check.h"
#include "solid/measure.h"

typedef double (*Shape)(Vec3 p);

static SolidMesh *
make(Shape shape, Vec3 low, const int size[3], double cell)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidGrid) g = solid_grid_new(size[0], size[1], size[2], cell, low);
    for (int k = 0; k < g->nz; k++)
        for (int j = 0; j < g->ny; j++)
            for (int i = 0; i < g->nx; i++)
                g->value[solid_grid_index(g, i, j, k)] = (float)shape(
                    vec3(low.x + i * cell, low.y + j * cell, low.z + k * cell));
    board_skin_mend(g, FALSE);
    SolidMesh *mesh = board_skin(g, FALSE, NULL, 0, NULL, &error);
    g_assert_no_error(error);
    SolidCheck check = solid_check(mesh);
    g_assert_true(check.closed);
    g_assert_cmpuint(check.inside_out, ==, 0);
    return mesh;
}

static double
ball(Vec3 p)
{
    return vec3_length(p) - 0.0113;
}

// A ball cut to an eighth by three sides of the grid.
static void
test_eighth(void)
{
    const double cell = 0.0005;
    const int size[3] = {26, 26, 26};
    g_autoptr(SolidMesh) mesh = make(ball, vec3(cell / 2, cell / 2, cell / 2), size, cell);
    SolidMeasure m = solid_measure(mesh);
    check_close(m.volume, G_PI / 6 * pow(0.0113, 3), 0.003, "an eighth of a ball");
    check_close(m.min.x, 0, 1e-12, "cut at the grid's side");
    check_close(m.min.y, 0, 1e-12, "cut at the grid's side");
    check_close(m.min.z, 0, 1e-12, "cut at the grid's side");
    check_close(m.max.z, 0.0113, 0.003, "radius");
}

static double
everywhere(Vec3 p)
{
    return -1;
}

static void
test_full(void)
{
    const int size[3] = {5, 7, 3};
    g_autoptr(SolidMesh) mesh = make(everywhere, vec3(0, 0, 0), size, 0.002);
    SolidMeasure m = solid_measure(mesh);
    check_close(m.volume, 5 * 7 * 3 * 8e-9, 1e-12, "all the cells");
    check_close(m.area, 2 * (35 + 15 + 21) * 4e-6, 1e-12, "the box of all the cells");
}

static double
post(Vec3 p)
{
    return board_shape_post(p, 0.001, -0.0007, 0.008, 0.0143, 0.05);
}

static void
test_post(void)
{
    const int size[3] = {60, 60, 50};
    g_autoptr(SolidMesh) mesh = make(post, vec3(-0.012, -0.012, 0.0002), size, 0.0004);
    double a = 0.008 + 0.0143 * 0.025, b = 0.008 - 0.0143 * 0.025;
    check_close(solid_measure(mesh).volume, G_PI * 0.0143 / 3 * (a * a + a * b + b * b), 0.004,
                "frustum of a cone");
}

static double
bar(Vec3 p)
{
    return board_shape_bar(p, -0.008, -0.006, 0.009, 0.007, 0.006, 0.005, 0.04);
}

static void
test_bar(void)
{
    const int size[3] = {90, 90, 20};
    g_autoptr(SolidMesh) mesh = make(bar, vec3(-0.018, -0.018, 0.0002), size, 0.0004);
    double l = hypot(0.017, 0.013), e = 0.04 * 0.0025;
    double low = (l + 2 * e) * (0.006 + 2 * e), high = (l - 2 * e) * (0.006 - 2 * e);
    check_close(solid_measure(mesh).volume, 0.005 / 6 * (low + 4 * l * 0.006 + high), 0.008,
                "prismatoid");
}

// Nothing but corners that touch: the worst a field can be.
static double
noise(Vec3 p)
{
    guint32 h = (guint32)(p.x * 7919 + p.y * 104729 + p.z * 1299709);
    h = (h ^ 61) ^ (h >> 16);
    h *= 9;
    h ^= h >> 4;
    h *= 0x27d4eb2d;
    return (h % 1000) / 500.0 - 1.2;
}

static void
test_noise(void)
{
    const int size[3] = {23, 19, 17};
    g_autoptr(SolidMesh) mesh = make(noise, vec3(0, 0, 0), size, 1);
    g_assert_cmpuint(mesh->n_triangles, >, 1000);
}

static void
test_stopped(void)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    g_autoptr(SolidGrid) g = solid_grid_new(4, 4, 4, 1, vec3(0, 0, 0));
    g_assert_null(board_skin(g, FALSE, NULL, 0, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/board/skin/eighth", test_eighth);
    g_test_add_func("/board/skin/full", test_full);
    g_test_add_func("/board/skin/post", test_post);
    g_test_add_func("/board/skin/bar", test_bar);
    g_test_add_func("/board/skin/noise", test_noise);
    g_test_add_func("/board/skin/stopped", test_stopped);
    return g_test_run();
}
