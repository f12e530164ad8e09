// SPDX-License-Identifier: GPL-3.0-or-later
// Room between walls and what others take of it.
#include "mould/rest-stretch.h"

#include <math.h>

#include "solid/outline.h"

#define GATE 2 // points of the gate's line

RestStretch
rest_stretch_room(const MouldWish *wish, double share, RestSide side, const SolidOutline *whole,
                  double off, RestStretch gate)
{
    double radius = wish->length / 2 - share;
    double long_u = (side.axis ? wish->width : wish->length) / 2 - share;
    double long_v = (side.axis ? wish->length : wish->width) / 2 - share;
    RestStretch room = {-INFINITY, INFINITY};
    guint n = whole->n_points - GATE;
    for (guint i = 0; i < n + 2; i++) {
        double u = i < n ? whole->points[i].x : i == n ? gate.low : gate.high;
        double v = side.side * side.v + (i < n ? whole->points[i].y + off : 0), reach = long_u;
        if (wish->round)
            reach = fabs(v) <= radius ? sqrt(radius * radius - v * v) : -1;
        else if (fabs(v) > long_v)
            reach = -1;
        if (reach < 0)
            return (RestStretch){1, 0};
        room.low = fmax(room.low, -reach - u);
        room.high = fmin(room.high, reach - u);
    }
    return room;
}

// Are they the sand apart across, wherever they stand along?
static gboolean
is_across(const SolidOutline *a, const SolidOutline *b, double sand)
{
    SolidPoint min, max, low, high;
    solid_outline_box(a, &min, &max);
    solid_outline_box(b, &low, &high);
    return max.y + sand <= low.y || high.y + sand <= min.y;
}

void
rest_stretch_ban_box(GArray *bans, const SolidOutline *it, double u, const SolidOutline *mine,
                     double sand)
{
    SolidPoint min, max, low, high;
    solid_outline_box(it, &min, &max);
    solid_outline_box(mine, &low, &high);
    RestStretch taken = {u + min.x - high.x - sand, u + max.x - low.x + sand};
    if (!is_across(it, mine, sand))
        g_array_append_val(bans, taken);
}

void
rest_stretch_ban(GArray *bans, const SolidOutline *it, double u, const SolidOutline *mine,
                 double sand)
{
    if (is_across(it, mine, sand))
        return;
    RestStretch taken = {u - mould_stance_shift(mine, it, sand),
                         u + mould_stance_shift(it, mine, sand)};
    if (taken.low < taken.high)
        g_array_append_val(bans, taken);
}

double
rest_stretch_pass(const GArray *bans, double from)
{
    gboolean moved = TRUE;
    while (moved) {
        moved = FALSE;
        for (guint i = 0; i < bans->len; i++) {
            const RestStretch *b = &g_array_index(bans, RestStretch, i);
            if (from > b->low + 1e-12 && from < b->high - 1e-12) {
                from = b->high;
                moved = TRUE;
            }
        }
    }
    return from;
}
