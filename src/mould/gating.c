// SPDX-License-Identifier: GPL-3.0-or-later
// Formulas of the gating.
#include "mould/gating.h"

#include <math.h>

double
mould_effective_head(double head, double above_gate, double casting_height)
{
    if (!(casting_height > 0))
        return head;
    return head - above_gate * above_gate / (2 * casting_height);
}

double
mould_velocity(double discharge, double head, double gravity)
{
    return discharge * sqrt(2 * gravity * head);
}

double
mould_choke_area(double mass, double density, double time, double discharge, double head,
                 double gravity)
{
    return mass / (density * time * mould_velocity(discharge, head, gravity));
}

double
mould_fill_top(double volume, double area, double discharge, double head, double gravity)
{
    return volume / (area * mould_velocity(discharge, head, gravity));
}

double
mould_fill_bottom(double plan, double height, double area, double discharge, double head,
                  double gravity)
{
    if (!(height <= head))
        return NAN;
    return 2 * plan / (area * discharge * sqrt(2 * gravity)) * (sqrt(head) - sqrt(head - height));
}

double
mould_sprue_area(double area, double lower, double upper)
{
    return area * sqrt(lower / upper);
}

double
mould_discharge(double entry, double length, double diameter, double bends, double velocity,
                double density, double viscosity)
{
    double reynolds = mould_reynolds(velocity, diameter, density, viscosity);
    double friction = 0.0791 * pow(reynolds, -0.25);
    return 1 / sqrt(1 + entry + 4 * friction * (length / diameter + bends));
}

double
mould_critical_velocity(double surface_tension, double density, double gravity)
{
    return 2 * pow(surface_tension * gravity / density, 0.25);
}

double
mould_reynolds(double velocity, double diameter, double density, double viscosity)
{
    return density * velocity * diameter / viscosity;
}

double
mould_wall_time(double wall, double density, double heat, double face, double ambient,
                double product)
{
    double ratio = wall / 2 * density * heat / (face - ambient);
    return G_PI / 4 * ratio * ratio / product;
}
