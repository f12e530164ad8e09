// SPDX-License-Identifier: GPL-3.0-or-later
// The pin of an open riser and the foot it stands on.
#include "board/riser.h"

#include "board/cone.h"

#define LEAST_FOOT 0.003 // m, so that the pin finds a flat place
#define LEAST_PIN 0.010  // m; a shorter one is no piece of its own
#define KEPT 0.002       // m, of the foot under the dowel's hole
#define MOST_LEAN 0.2    // of the radius, that the pin's narrow end may lose

static const MouldRiser *
riser_of(const MouldLayout *l, gboolean guest)
{
    return guest ? &l->guest_riser : &l->riser;
}

double
board_riser_foot(const MouldLayout *l, gboolean guest)
{
    g_return_val_if_fail(l != NULL, 0);
    const MouldRiser *r = riser_of(l, guest);
    double top = r->base + r->height, low = LEAST_FOOT;
    if (!r->open)
        return top;
    if (!r->on_top)
        low = fmax(low, guest ? l->guest_neck.up : l->neck.up);
    for (guint i = 0; i < l->n_gates && !r->on_top && !l->gates_in_drag; i++)
        low = fmax(low, l->gates[i].depth);
    double foot = r->base + low;
    return top - foot < LEAST_PIN ? top : foot;
}

// Half way up as wide as the riser, so that it holds as much metal.
static BoardCone
make_pin(const BoardWork *work, gboolean guest)
{
    const MouldRiser *r = riser_of(work->layout, guest);
    double foot = board_riser_foot(work->layout, guest), radius = r->diameter / 2;
    double height = r->base + r->height - foot;
    double lean = fmin(tan(work->options->draft) * height / 2, MOST_LEAN * radius);
    return (BoardCone){.name = guest ? "guest-riser-pin" : "riser-pin",
                       .kind = BOARD_PIECE_RISER,
                       .wide = radius + lean,
                       .narrow = radius - lean,
                       .height = height,
                       .stands = foot};
}

double
board_riser_hole(const BoardWork *work, gboolean guest)
{
    const MouldRiser *r = riser_of(work->layout, guest);
    if (!(r->diameter > 0) || !r->open)
        return 0;
    BoardCone pin = make_pin(work, guest);
    double depth = fmin(2.5 * work->options->dowel, pin.stands - KEPT);
    return pin.height > 0 && board_cone_takes_dowel(work, pin.narrow) ? fmax(depth, 0) : 0;
}

// The pins of one job's risers.
static gboolean
add_pins(BoardWork *work, gboolean guest, GError **error)
{
    const MouldLayout *l = work->layout;
    const MouldRiser *r = riser_of(l, guest);
    if (!(r->diameter > 0) || !r->open)
        return TRUE;
    BoardCone pin = make_pin(work, guest);
    g_autofree BoardPlace *places = g_new0(BoardPlace, l->n_cavities);
    guint n = 0;
    for (guint i = 0; i < l->n_cavities && pin.height > 0; i++) {
        const MouldCavity *c = &l->cavities[i];
        if (c->guest == guest && !isnan(c->riser_x))
            places[n++] = (BoardPlace){c->riser_x, c->riser_y, pin.stands + pin.height, 0, TRUE};
    }
    return n == 0 || board_add_cone(work, &pin, places, n, error);
}

gboolean
board_add_risers(BoardWork *work, GError **error)
{
    return add_pins(work, FALSE, error) && add_pins(work, TRUE, error);
}
