// SPDX-License-Identifier: GPL-3.0-or-later
// The two rules a riser must meet: it freezes later than the casting, and it holds enough.
#include "feed/riser.h"

#include <math.h>

double
feed_cylinder_modulus(double diameter, double height, gboolean base_cools)
{
    double end = G_PI / 4 * diameter * diameter;
    double faces = G_PI * diameter * height + (base_cools ? 2 : 1) * end;
    return end * height / faces;
}

double
feed_riser_by_modulus(double modulus, gboolean base_cools)
{
    return (base_cools ? 6 : 5) * modulus;
}

double
feed_riser_volume(double casting_volume, double shrinkage, double share)
{
    if (!(share > shrinkage))
        return NAN;
    return shrinkage * casting_volume / (share - shrinkage);
}

double
feed_riser_by_volume(double volume)
{
    return cbrt(4 * volume / G_PI);
}

double
feed_riser_open_by_modulus(double modulus, double height, gboolean base_cools)
{
    double spare = height - (base_cools ? 2 : 1) * modulus;
    return spare > 0 ? 4 * modulus * height / spare : NAN;
}

double
feed_riser_open_by_volume(double volume, double height)
{
    return height > 0 ? sqrt(4 * volume / (G_PI * height)) : NAN;
}

double
feed_neck(double casting_modulus, double margin)
{
    return 4 * margin * casting_modulus;
}

gboolean
feed_is_uneven(double evenness)
{
    return evenness > 1.5;
}
