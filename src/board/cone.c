// SPDX-License-Identifier: GPL-3.0-or-later
// A cone as cells, cut where it ends.
#include "board/cone.h"

#include "board/skin.h"

static void
bore(GArray *bores, double from, double to, double radius)
{
    BoardHole hole = {vec3(0, 0, from), vec3(0, 0, to), radius};
    g_array_append_val(bores, hole);
}

gboolean
board_cone_takes_dowel(const BoardWork *work, double radius)
{
    return radius > (work->options->dowel + work->options->dowel_play) / 2 + 0.0008;
}

gboolean
board_add_cone(BoardWork *work, const BoardCone *cone, const BoardPlace *places, guint n,
               GError **error)
{
    const BoardOptions *o = work->options;
    double slope = (cone->wide - cone->narrow) / cone->height,
           reach = fmax(cone->wide, cone->narrow);
    // Whole layers, so that the end is cut where the cone ends.
    double cell = board_cell(work, vec3(2 * reach, 2 * reach, cone->height));
    cell = cone->height / ceil(cone->height / cell - 1e-9);
    g_autoptr(SolidGrid) tall = board_field_new(vec3(-reach, -reach, 0),
                                                vec3(reach, reach, cone->height), cell, error);
    if (!tall)
        return FALSE;
    tall->nz = (int)lround(cone->height / cell);
    for (int k = 0; k < tall->nz; k++)
        for (int j = 0; j < tall->ny; j++)
            for (int i = 0; i < tall->nx; i++) {
                Vec3 p = vec3(tall->origin.x + i * cell, tall->origin.y + j * cell,
                              tall->origin.z + k * cell);
                // Only the side: both ends are the grid's own.
                double d = (hypot(p.x, p.y) - cone->wide + p.z * slope) / sqrt(1 + slope * slope);
                tall->value[solid_grid_index(tall, i, j, k)] = (float)d;
            }
    board_skin_mend(tall, FALSE);
    g_autoptr(GArray) bores = g_array_new(FALSE, FALSE, sizeof(BoardHole));
    double radius = (o->dowel + o->dowel_play) / 2, depth = 2.5 * o->dowel;
    if (board_cone_takes_dowel(work, cone->narrow))
        bore(bores, cone->height - depth, cone->height + 2 * cell, radius);
    if (cone->foot_hole)
        bore(bores, -2 * cell, depth, radius);
    return board_add_parts(work, tall, cone->name, cone->kind, BOARD_COPE, places, n, bores, error);
}
