// SPDX-License-Identifier: GPL-3.0-or-later
// An open riser in a cope of another depth: what it has to have stays, its height and with it its
// diameter do not.
#include <math.h>

#include "feed/feed.h"
#include "feed/riser.h"
#include "feed/seat.h"

FeedResult *
feed_result_for_cope(const FeedResult *feed, const PatternResult *pattern, double scale,
                     double cope)
{
    g_return_val_if_fail(feed != NULL && pattern != NULL, NULL);
    if (feed->risers == 0 || !feed->open || isnan(cope))
        return feed_result_ref(feed);
    FeedResult *r = g_atomic_rc_box_new0(FeedResult);
    *r = *feed;
    r->map = feed->map ? solid_grid_ref(feed->map) : NULL;
    r->height = cope - r->base;
    double by_modulus = feed_riser_open_by_modulus(r->needed_modulus, r->height, !r->on_top);
    double by_volume = feed_riser_open_by_volume(r->needed_volume, r->height);
    r->diameter = isnan(by_modulus + by_volume) ? NAN : fmax(by_modulus, by_volume);
    r->volume = G_PI / 4 * r->diameter * r->diameter * r->height;
    r->modulus = feed_cylinder_modulus(r->diameter, r->height, !r->on_top);
    if (r->on_top && pattern->casting && r->diameter > 0)
        r->seat = feed_seat(pattern->casting, scale, r);
    return r;
}
