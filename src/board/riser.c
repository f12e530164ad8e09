// SPDX-License-Identifier: GPL-3.0-or-later
// The pin of an open riser and the foot it stands on.
#include "board/riser.h"

#include "board/cone.h"

#define LEAST_FOOT 0.003 // m, so that the pin finds a flat place
#define LEAST_PIN 0.010  // m; a shorter one is no piece of its own
#define KEPT 0.002       // m, of the foot under the dowel's hole
#define MOST_LEAN 0.2    // of the radius, that the pin's narrow end may lose

double
board_riser_foot(const MouldLayout *l)
{
    g_return_val_if_fail(l != NULL, 0);
    double top = l->riser_base + l->riser_height, low = LEAST_FOOT;
    if (!l->riser_open)
        return top;
    if (!l->riser_on_top)
        low = fmax(low, l->neck.up);
    for (guint i = 0; i < l->n_gates && !l->riser_on_top && !l->gates_in_drag; i++)
        low = fmax(low, l->gates[i].depth);
    double foot = l->riser_base + low;
    return top - foot < LEAST_PIN ? top : foot;
}

// Half way up as wide as the riser, so that it holds as much metal.
static BoardCone
make_pin(const BoardWork *work)
{
    const MouldLayout *l = work->layout;
    double foot = board_riser_foot(l), radius = l->riser_diameter / 2;
    double height = l->riser_base + l->riser_height - foot;
    double lean = fmin(tan(work->options->draft) * height / 2, MOST_LEAN * radius);
    return (BoardCone){.name = "riser-pin",
                       .kind = BOARD_PIECE_RISER,
                       .wide = radius + lean,
                       .narrow = radius - lean,
                       .height = height,
                       .stands = foot};
}

double
board_riser_hole(const BoardWork *work)
{
    const MouldLayout *l = work->layout;
    if (!(l->riser_diameter > 0) || !l->riser_open)
        return 0;
    BoardCone pin = make_pin(work);
    double depth = fmin(2.5 * work->options->dowel, pin.stands - KEPT);
    return pin.height > 0 && board_cone_takes_dowel(work, pin.narrow) ? fmax(depth, 0) : 0;
}

gboolean
board_add_risers(BoardWork *work, GError **error)
{
    const MouldLayout *l = work->layout;
    if (!(l->riser_diameter > 0) || !l->riser_open)
        return TRUE;
    BoardCone pin = make_pin(work);
    g_autofree BoardPlace *places = g_new0(BoardPlace, l->n_cavities);
    guint n = 0;
    for (guint i = 0; i < l->n_cavities && pin.height > 0; i++) {
        const MouldCavity *c = &l->cavities[i];
        if (!isnan(c->riser_x))
            places[n++] = (BoardPlace){c->riser_x, c->riser_y, pin.stands + pin.height, 0, TRUE};
    }
    return n == 0 || board_add_cone(work, &pin, places, n, error);
}
