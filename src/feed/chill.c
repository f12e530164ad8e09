// SPDX-License-Identifier: GPL-3.0-or-later
// What a chill does to a modulus, and how hot it gets.
#include "feed/chill.h"

#include <math.h>

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
