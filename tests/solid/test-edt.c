// SPDX-License-Identifier: GPL-3.0-or-later
// Distances alone against trying every pair of cells, on grids that take every way through: near
// and far cells, widths that do not fill strips, and lines too long for floats.
#include "check.h"
#include "solid/edt.h"

static void
check_grid(int nx, int ny, int nz, int most_apart, guint32 seed)
{
    g_autoptr(SolidGrid) g = solid_grid_new(nx, ny, nz, 0.37e-3, vec3(1, 2, 3));
    g_autoptr(GRand) rand = g_rand_new_with_seed(seed);
    gsize n = (gsize)nx * ny * nz;
    g_autofree guint8 *set = g_new0(guint8, n);
    g_autoptr(GArray) cells = g_array_new(FALSE, FALSE, sizeof(gsize));
    gsize at = (gsize)g_rand_int_range(rand, 0, most_apart);
    for (; at < n; at += (gsize)g_rand_int_range(rand, 1, most_apart)) {
        set[at] = 1;
        g_array_append_val(cells, at);
    }
    g_autoptr(SolidGrid) d = solid_grid_edt(set, g, NULL, NULL);
    for (at = 0; at < n; at += 3) {
        double best = INFINITY;
        for (guint c = 0; c < cells->len; c++) {
            gsize o = g_array_index(cells, gsize, c);
            double x = (double)(at % (gsize)nx) - (double)(o % (gsize)nx);
            double y = (double)(at / (gsize)nx % (gsize)ny) - (double)(o / (gsize)nx % (gsize)ny);
            double z = (double)(at / ((gsize)nx * ny)) - (double)(o / ((gsize)nx * ny));
            best = fmin(best, x * x + y * y + z * z);
        }
        if (isinf(best))
            g_assert_cmpfloat(d->value[at], ==, G_MAXFLOAT);
        else
            g_assert_cmpfloat(d->value[at], ==, (float)(g->cell * sqrt(best)));
    }
}

static void
test_near(void)
{
    check_grid(33, 17, 21, 3, 1);
    check_grid(16, 30, 40, 40, 2);
    check_grid(5, 23, 19, 200, 3);
}

static void
test_far(void)
{
    check_grid(31, 97, 90, 60000, 4);
    check_grid(40, 3, 200, 5000, 5);
    check_grid(1, 1, 130, 60, 6);
    check_grid(130, 1, 1, 60, 7);
    check_grid(7, 7, 7, 100000, 8); // none
}

static void
test_long(void)
{
    check_grid(4500, 2, 3, 3000, 9);
    check_grid(2, 3, 4500, 3000, 10);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/edt/near", test_near);
    g_test_add_func("/edt/far", test_far);
    g_test_add_func("/edt/long", test_long);
    return g_test_run();
}
