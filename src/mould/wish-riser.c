// SPDX-License-Identifier: GPL-3.0-or-later
// A riser on the casting against the casting's shadow.
#include "mould/wish-riser.h"

#include <math.h>

#include "mould/beside.h"
#include "mould/bound.h"

#define SPOKES 72

// How far its rim reaches out over the shadow.
static double
reach_out(const MouldOwnRiser *top, const SolidOutline *shadow, double scale)
{
    double reach = 0, r = top->diameter / 2;
    for (int i = 0; i < SPOKES; i++) {
        double way = 2 * G_PI * i / SPOKES;
        SolidPoint p = {(top->x + r * cos(way)) / scale, (top->y + r * sin(way)) / scale};
        reach = fmax(reach, -scale * mould_bound_depth(shadow, p));
    }
    return reach;
}

void
mould_wish_risers(MouldWish *wish, const FeedResult *feed, const SolidOutline *shadow, double scale)
{
    g_return_if_fail(wish != NULL && feed != NULL);
    wish->riser_open = feed->open && wish->riser_diameter > 0;
    wish->chill = feed->chill;
    if (!feed->on_top)
        return;
    wish->own = (MouldOwnRiser){
        wish->riser_diameter, wish->riser_height, feed->x, feed->y, feed->base, FALSE, 0, 0, 0};
    if (!isfinite(wish->riser_diameter) || !isfinite(wish->riser_height))
        return; // the wish is not complete
    wish->riser_diameter = wish->riser_height = wish->neck = 0;
    double reach = 0;
    if (shadow && shadow->n_points > 0) {
        SolidPoint at = {feed->x / scale, feed->y / scale};
        reach = reach_out(&wish->own, shadow, scale);
        wish->own.within = scale * mould_bound_depth(shadow, at) - wish->own.diameter / 2;
    }
    wish->cover_wall += reach;
    wish->cover_between += reach;
    wish->cover_runner += reach;
}

void
mould_wish_beside(MouldWish *wish, const FeedResult *feed, const SolidOutline *shadow,
                  const SolidOutline *skin)
{
    g_return_if_fail(wish != NULL && feed != NULL && shadow != NULL && skin != NULL);
    MouldBeside found;
    SolidPoint place = {feed->x, feed->y};
    if (feed->risers == 0 || feed->on_top ||
        !mould_beside_find(skin, shadow, place, wish->riser_diameter / 2, 0.5 * wish->neck, &found))
        return;
    wish->own = (MouldOwnRiser){.diameter = wish->riser_diameter,
                                .height = wish->riser_height,
                                .x = found.at.x,
                                .y = found.at.y,
                                .beside = TRUE,
                                .joint_x = found.joint.x,
                                .joint_y = found.joint.y};
    wish->riser_diameter = wish->riser_height = 0;
}

double
mould_wish_high(const MouldWish *wish)
{
    g_return_val_if_fail(wish != NULL, NAN);
    if (wish->riser_open)
        return wish->above;
    return fmax(wish->above, fmax(wish->riser_height, wish->own.base + wish->own.height));
}
