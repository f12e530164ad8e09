// SPDX-License-Identifier: GPL-3.0-or-later
// What a chill does to a modulus, and how hot it gets.
#include "feed/chill.h"

#include <math.h>

#define FITTED 0.25 // of its thickness, that a chill is fitted to

static double
counted_area(const FeedChilled *c)
{
    return c->area + (c->factor - 1) * c->chilled;
}

double
feed_chilled_modulus(const FeedChilled *c)
{
    g_return_val_if_fail(c != NULL, NAN);
    return c->modulus * c->area / counted_area(c);
}

double
feed_chill_temperature(const FeedChilled *c, double heat, double ambient, double capacity,
                       double thickness)
{
    g_return_val_if_fail(c != NULL, NAN);
    double share = c->modulus * c->area * heat * c->factor / counted_area(c);
    return ambient + share / (capacity * thickness);
}

// Is there casting anywhere between two heights over (x, y)?
static gboolean
is_in_column(const SolidGrid *casting, double x, double y, double z1, double z2)
{
    int steps = (int)ceil(fabs(z2 - z1) / casting->cell);
    for (int k = 0; k <= steps; k++)
        if (solid_grid_sample(casting, vec3(x, y, z1 + (z2 - z1) * k / MAX(steps, 1))) < 0)
            return TRUE;
    return FALSE;
}

double
feed_chill_room(const SolidGrid *casting, Vec3 at, int way, double most, double thickness)
{
    g_return_val_if_fail(casting != NULL, NAN);
    double cell = casting->cell, room = most;
    double low = at.z + way * FITTED * thickness, high = at.z + way * thickness;
    // Beyond the grid there is no casting.
    for (int j = 0; j < casting->ny; j++)
        for (int i = 0; i < casting->nx; i++) {
            double x = casting->origin.x + i * cell, y = casting->origin.y + j * cell;
            double wide = 2 * fmax(fabs(x - at.x), fabs(y - at.y)) - cell;
            if (wide < room && is_in_column(casting, x, y, low, high))
                room = fmax(0, wide);
        }
    return room;
}
