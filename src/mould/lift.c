// SPDX-License-Identifier: GPL-3.0-or-later
// Cope lift and the weight against it.
#include "mould/lift.h"

#include <math.h>

double
mould_lift(double density, double area, double head, double gravity)
{
    return density * gravity * area * head;
}

double
mould_lift_roofed(double density, double area, double head, double under, double gravity)
{
    return density * gravity * (area * head - under);
}

double
mould_lift_surging(double rest, double factor, double push)
{
    return isnan(push) ? NAN : MAX(rest * factor, rest + push);
}

double
mould_lift_tipping(const MouldTipping *t)
{
    g_return_val_if_fail(t != NULL, NAN);
    double x = fabs(t->lift * t->lift_x - t->weight * t->cope_x);
    double y = fabs(t->lift * t->lift_y - t->weight * t->cope_y);
    if (t->round)
        return t->lift + 2 * hypot(x, y) / t->length;
    double along = x / t->length, across = y / t->width;
    return isnan(along + across) ? NAN : t->lift + 2 * MAX(along, across);
}

double
mould_core_buoyancy(double volume, double metal_density, double core_density, double gravity)
{
    return volume * (metal_density - core_density) * gravity;
}

double
mould_weight_needed(double lift, double cope_mass, double gravity)
{
    return MAX(0, lift / gravity - cope_mass);
}

double
mould_clamps_needed(double mass, double force, double gravity)
{
    return ceil(mass * gravity / force);
}
