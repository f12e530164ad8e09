// SPDX-License-Identifier: GPL-3.0-or-later
// A riser on the casting against the casting's shadow.
#include "mould/wish-riser.h"

#include <math.h>

#include "mould/beside.h"

#define SPOKES 72

static double
side_distance(SolidPoint p, SolidPoint a, SolidPoint b)
{
    double dx = b.x - a.x, dy = b.y - a.y, length = dx * dx + dy * dy;
    double t = length > 0 ? CLAMP(((p.x - a.x) * dx + (p.y - a.y) * dy) / length, 0, 1) : 0;
    return hypot(p.x - a.x - t * dx, p.y - a.y - t * dy);
}

// How far a point lies outside; 0 inside.
static double
outside(const SolidOutline *o, SolidPoint p)
{
    gboolean inside = FALSE;
    double least = INFINITY;
    for (guint loop = 0; loop < o->n_loops; loop++)
        for (guint i = o->starts[loop]; i < o->starts[loop + 1]; i++) {
            SolidPoint a = o->points[i];
            SolidPoint b = o->points[i + 1 < o->starts[loop + 1] ? i + 1 : o->starts[loop]];
            if ((a.y <= p.y) != (b.y <= p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y))
                inside = !inside;
            least = fmin(least, side_distance(p, a, b));
        }
    return inside || isinf(least) ? 0 : least;
}

// How far its rim reaches out over the shadow.
static double
reach_out(const MouldOwnRiser *top, const SolidOutline *shadow, double scale)
{
    double reach = 0, r = top->diameter / 2;
    for (int i = 0; i < SPOKES; i++) {
        double way = 2 * G_PI * i / SPOKES;
        SolidPoint p = {(top->x + r * cos(way)) / scale, (top->y + r * sin(way)) / scale};
        reach = fmax(reach, scale * outside(shadow, p));
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
        wish->riser_diameter, wish->riser_height, feed->x, feed->y, feed->base, FALSE, 0, 0};
    if (!isfinite(wish->riser_diameter) || !isfinite(wish->riser_height))
        return; // the wish is not complete
    wish->riser_diameter = wish->riser_height = wish->neck = 0;
    double reach = shadow ? reach_out(&wish->own, shadow, scale) : 0;
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
