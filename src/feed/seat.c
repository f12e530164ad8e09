// SPDX-License-Identifier: GPL-3.0-or-later
// A riser's foot on the casting.
#include "feed/seat.h"

#define LINES 24 // across the foot

double
feed_seat(const SolidGrid *casting, double scale, const FeedResult *r)
{
    g_return_val_if_fail(casting != NULL && r != NULL, 0);
    double d = r->diameter;
    int on = 0, all = 0;
    for (int j = 0; j < LINES; j++)
        for (int i = 0; i < LINES; i++) {
            double u = (2 * i + 1.0) / LINES - 1, v = (2 * j + 1.0) / LINES - 1;
            if (u * u + v * v > 1)
                continue;
            double x = (r->x + u * d / 2) / scale, y = (r->y + v * d / 2) / scale;
            double skin = feed_skin_at(casting, x, y, 1);
            all++;
            on += skin * scale > r->base - d / 10; // not where there is none
        }
    return (double)on / all;
}
