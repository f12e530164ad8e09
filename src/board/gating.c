// SPDX-License-Identifier: GPL-3.0-or-later
// Runners with the well, in the half of the mould they lie in, the sprue's pin and the basin's
// plug.
#include "board/cone.h"
#include "board/pieces.h"
#include "board/shape.h"
#include "board/skin.h"

typedef struct {
    const MouldLayout *layout;
    gboolean well, runners;
    BoardSide side;
    double start; // m from the sprue's middle, where a runner's pattern begins
    double taper;
} Gating;

static double
gating_distance(const Gating *g, Vec3 p)
{
    const MouldLayout *l = g->layout;
    double flip = g->side == BOARD_DRAG ? -1 : 1, d = 1;
    if (g->well && l->well_diameter > 0 && l->well_depth > 0)
        d = board_shape_post(p, l->sprue_x, flip * l->sprue_y, l->well_diameter / 2, l->well_depth,
                             g->taper);
    for (guint i = 0; g->runners && i < l->n_runners; i++) {
        const MouldChannel *c = &l->runners[i];
        double dx = c->x2 - l->sprue_x, dy = c->y2 - l->sprue_y, length = hypot(dx, dy);
        double share = length > 0 ? g->start / length : 0;
        d = fmin(d, board_shape_bar(p, l->sprue_x + share * dx, flip * (l->sprue_y + share * dy),
                                    c->x2, flip * c->y2, c->width, c->depth, g->taper));
    }
    return d;
}

static void
find_reach(const Gating *g, Vec3 *low, Vec3 *high)
{
    const MouldLayout *l = g->layout;
    double flip = g->side == BOARD_DRAG ? -1 : 1;
    *low = *high = vec3(l->sprue_x, flip * l->sprue_y, 0);
    double reach = g->well ? l->well_diameter / 2 : 0;
    high->z = g->well ? l->well_depth : 0;
    for (guint i = 0; g->runners && i < l->n_runners; i++) {
        const MouldChannel *c = &l->runners[i];
        *low = vec3(fmin(low->x, c->x2), fmin(low->y, flip * c->y2), 0);
        *high = vec3(fmax(high->x, c->x2), fmax(high->y, flip * c->y2), fmax(high->z, c->depth));
        reach = fmax(reach, c->width / 2);
    }
    reach += g->taper * high->z;
    *low = vec3(low->x - reach, low->y - reach, 0);
    *high = vec3(high->x + reach, high->y + reach, high->z);
}

static gboolean
add_gating(BoardWork *work, const Gating *g, const char *name, GError **error)
{
    Vec3 low, high;
    find_reach(g, &low, &high);
    if (!(high.z > 0))
        return TRUE;
    // The piece's own origin is in the middle of its plan.
    Vec3 middle = vec3((low.x + high.x) / 2, (low.y + high.y) / 2, 0);
    double cell = board_cell(work, vec3_sub(high, low));
    for (int round = 0; round < 12; round++, cell *= 1.25) {
        g_autoptr(SolidGrid) field = board_field_new(vec3_sub(low, middle), vec3_sub(high, middle),
                                                     cell, error);
        if (!field)
            return FALSE;
        for (int k = 0; k < field->nz; k++)
            for (int j = 0; j < field->ny; j++)
                for (int i = 0; i < field->nx; i++) {
                    Vec3 p = vec3(field->origin.x + i * cell, field->origin.y + j * cell,
                                  field->origin.z + k * cell);
                    field->value[solid_grid_index(field, i, j, k)] = (float)gating_distance(
                        g, vec3_add(p, middle));
                }
        board_skin_mend(field, TRUE);
        if (round < 11 && cut_triangles(field) > BOARD_MOST_BEFORE_THIN)
            continue;
        BoardPlace place = {middle.x, middle.y, 0, 0, FALSE};
        return board_add_parts(work, field, name, BOARD_PIECE_RUNNER, g->side, &place, 1, NULL,
                               error);
    }
    return TRUE;
}

static gboolean
stand_on_sprue(BoardWork *work, const BoardCone *cone, GError **error)
{
    BoardPlace place = {work->layout->sprue_x, work->layout->sprue_y, cone->stands + cone->height,
                        0, TRUE};
    return board_add_cone(work, cone, &place, 1, error);
}

// The hole for the sprue's dowel is in its narrow end, which stands on the cope board; in its wide
// end there is one for the basin's.
static gboolean
add_sprue(BoardWork *work, gboolean with_basin, GError **error)
{
    const MouldLayout *l = work->layout;
    BoardCone cone = {"sprue-pin",
                      BOARD_PIECE_SPRUE,
                      l->sprue_top_diameter / 2,
                      l->sprue_bottom_diameter / 2,
                      l->sprue_height,
                      0,
                      with_basin};
    if (!(cone.height > 0) || !(cone.wide > 0) || !(cone.narrow > 0))
        return TRUE;
    guint before = work->pieces->len;
    if (!stand_on_sprue(work, &cone, error))
        return FALSE;
    for (guint i = before; i < work->pieces->len; i++) {
        BoardPiece *piece = &g_array_index(work->pieces, BoardPiece, i);
        piece->n_dowels = i + 1 == work->pieces->len && board_cone_takes_dowel(work, cone.narrow);
        piece->dowels[0] = (SolidPoint){0, 0};
    }
    return TRUE;
}

// The plug the basin is rammed about, on top of the cope: as wide as the basin half way up, and
// wider above, so that it draws upwards.
static BoardCone
make_basin(const BoardWork *work)
{
    const MouldLayout *l = work->layout;
    double height = l->basin_height, lean = board_tab_taper(work->options, l) * height / 2;
    double radius = l->basin_diameter / 2;
    lean = fmin(lean, radius / 2);
    return (BoardCone){"basin-plug", BOARD_PIECE_BASIN, radius + lean, radius - lean,
                       height,       l->sprue_height,   FALSE};
}

gboolean
board_add_gating(BoardWork *work, GError **error)
{
    const MouldLayout *l = work->layout;
    Gating drag = {l, TRUE, !l->gates_in_drag, BOARD_DRAG, 0, tan(work->options->draft)};
    if (!add_gating(work, &drag, "runner", error))
        return FALSE;
    if (l->gates_in_drag) {
        // Clear of the sprue's pin, but over the well.
        Gating cope = drag;
        cope.well = FALSE;
        cope.runners = TRUE;
        cope.side = BOARD_COPE;
        cope.start = l->sprue_bottom_diameter / 2 + 0.0005;
        if (!add_gating(work, &cope, "cope-runner", error))
            return FALSE;
    }
    BoardCone basin = make_basin(work);
    gboolean has_sprue = l->sprue_height > 0 && l->sprue_top_diameter > 0;
    gboolean has_basin = has_sprue && basin.height > 0 && basin.narrow > 0;
    gboolean doweled = has_basin && board_cone_takes_dowel(work, basin.narrow) &&
                       board_cone_takes_dowel(work, l->sprue_top_diameter / 2);
    return add_sprue(work, doweled, error) && (!has_basin || stand_on_sprue(work, &basin, error));
}
