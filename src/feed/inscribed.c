// SPDX-License-Identifier: GPL-3.0-or-later
// Largest ball inside a casting, from the distance of every cell to the nearest one outside.
#include "feed/inscribed.h"

double
feed_inscribed_radius(const SolidGrid *casting, Vec3 *where, Progress *progress, GError **error)
{
    g_return_val_if_fail(casting != NULL, 0);
    // One cell of outside all round, since the grid may end at the casting's skin.
    int nx = casting->nx + 2, ny = casting->ny + 2, nz = casting->nz + 2;
    double cell = casting->cell;
    Vec3 origin = vec3_sub(casting->origin, vec3(cell, cell, cell));
    g_autoptr(SolidGrid) shape = solid_grid_new(nx, ny, nz, cell, origin);
    if (!shape)
        return 0;
    gsize n = (gsize)nx * ny * nz;
    g_autofree guint8 *outside = g_malloc(n);
    for (int k = 0; k < nz; k++)
        for (int j = 0; j < ny; j++)
            for (int i = 0; i < nx; i++) {
                gboolean in = i > 0 && j > 0 && k > 0 && i <= casting->nx && j <= casting->ny &&
                              k <= casting->nz &&
                              casting->value[solid_grid_index(casting, i - 1, j - 1, k - 1)] < 0;
                outside[solid_grid_index(shape, i, j, k)] = !in;
            }
    g_autoptr(SolidGrid) distance = solid_grid_edt(outside, shape, progress, error);
    if (!distance)
        return -1;
    gsize best = 0;
    for (gsize i = 1; i < n; i++)
        if (distance->value[i] > distance->value[best])
            best = i;
    if (where) {
        int i = best % nx, j = best / nx % ny, k = best / ((gsize)nx * ny);
        *where = vec3_add(origin, vec3(i * cell, j * cell, k * cell));
    }
    // The skin runs half way between the last cell inside and the first outside, and the middle of
    // the ball lies up to half a cell off a cell's own: on average a quarter too much.
    return MAX(0, distance->value[best] - 0.25 * cell);
}
