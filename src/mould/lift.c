// SPDX-License-Identifier: GPL-3.0-or-later
// Cope lift and the weight against it.
#include "mould/lift.h"

double
mould_lift(double density, double area, double head, double gravity)
{
    return density * gravity * area * head;
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
