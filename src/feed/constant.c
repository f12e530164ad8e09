// SPDX-License-Identifier: GPL-3.0-or-later
// Chvorinov's rule and its constant from the properties of metal and sand.
#include "feed/constant.h"

#include <math.h>

static double
sand_product(const FeedCooling *c)
{
    return c->conductivity * c->sand_density * c->sand_specific;
}

double
feed_constant(const FeedCooling *cooling)
{
    g_return_val_if_fail(cooling != NULL, NAN);
    double drop = cooling->face - cooling->ambient;
    if (!(drop > 0) || !(sand_product(cooling) > 0))
        return NAN;
    double ratio = cooling->density * cooling->heat / drop;
    return G_PI / 4 * ratio * ratio / sand_product(cooling);
}

double
feed_time(double constant, double modulus)
{
    return constant * modulus * modulus;
}

double
feed_time_curved(const FeedCooling *cooling, FeedShape shape, double modulus)
{
    g_return_val_if_fail(cooling != NULL, NAN);
    double drop = cooling->face - cooling->ambient;
    if (!(drop > 0) || !(sand_product(cooling) > 0))
        return NAN;
    double lambda = drop * cooling->sand_density * cooling->sand_specific /
                    (cooling->density * cooling->heat);
    double plane = 2 * lambda / sqrt(G_PI);
    double share = shape == FEED_SPHERE ? 1.0 / 3 : shape == FEED_CYLINDER ? 0.25 : 0;
    // beta^2 - plane beta - lambda share = 0, and beta is positive.
    double beta = plane / 2 + sqrt(plane * plane / 4 + lambda * share);
    double alpha = cooling->conductivity / (cooling->sand_density * cooling->sand_specific);
    return modulus * modulus / (beta * beta * alpha);
}

double
feed_heat_taken(const FeedCooling *cooling, double time)
{
    g_return_val_if_fail(cooling != NULL, NAN);
    return 2 * sqrt(sand_product(cooling) / G_PI) * (cooling->face - cooling->ambient) * sqrt(time);
}
