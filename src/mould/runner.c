// SPDX-License-Identifier: GPL-3.0-or-later
// Pieces of the runner.
#include "mould/runner.h"

#include <math.h>

static double
width_for(const MouldWish *wish, const MouldWay *way, const MouldPour *pour, int ahead)
{
    if (!wish->stepped || way->columns == 1)
        return pour->runner;
    double all = pour->arms * pour->runner;
    return MAX(all * ahead / way->columns, MOULD_LEAST_STEP * pour->runner);
}

// One arm towards `side`, past `columns` places whose first lies at `u`.
static guint
add_arm(const MouldWish *wish, const MouldWay *way, const MouldPlace *p, int side, double u,
        int columns, MouldChannel *pieces)
{
    const MouldPour *pour = &p->pour;
    double from = p->sprue + side * pour->well / 2, v = p->runner_v;
    guint n = 0;
    for (int i = wish->stepped ? 0 : columns - 1; i < columns; i++) {
        double width = width_for(wish, way, pour, wish->stepped ? columns - i : columns);
        double past = pour->gate_width / 2 + (i == columns - 1 ? width : 0);
        double to = u + side * (i * p->pitch + past);
        pieces[n++] = (MouldChannel){from, v, to, v, width, pour->runner};
        from = to;
    }
    return n;
}

guint
mould_runner_pieces(const MouldWish *wish, const MouldWay *way, const MouldPlace *p, double first,
                    MouldChannel *pieces)
{
    int n = way->columns, behind = 0;
    if (p->pour.arms == 1)
        return add_arm(wish, way, p, 1, first, n, pieces);
    while (behind < n && first + behind * p->pitch < p->sprue)
        behind++;
    guint done = add_arm(wish, way, p, 1, first + behind * p->pitch, n - behind, pieces);
    return done + add_arm(wish, way, p, -1, first + (behind - 1) * p->pitch, behind, pieces + done);
}

double
mould_runner_volume(const MouldWish *wish, const MouldWay *way, const MouldPlace *p, double first,
                    double *modulus)
{
    g_autofree MouldChannel *pieces = g_new(MouldChannel, 2 * (guint)way->columns);
    guint n = mould_runner_pieces(wish, way, p, first, pieces);
    double volume = 0;
    *modulus = INFINITY;
    for (guint i = 0; i < n; i++) {
        const MouldChannel *c = &pieces[i];
        volume += c->width * c->depth * fabs(c->x2 - c->x1);
        *modulus = MIN(*modulus, c->width * c->depth / (2 * (c->width + c->depth)));
    }
    return volume;
}

double
mould_runner_widest(const MouldWish *wish, const MouldWay *way, const MouldPour *pour)
{
    return width_for(wish, way, pour, (way->columns + 1) / 2);
}
