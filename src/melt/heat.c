// SPDX-License-Identifier: GPL-3.0-or-later
// The energy balance of an electric crucible furnace: what it draws, less what it loses merely by
// being hot, times the share of the rest that finds its way into the metal.
#include "melt/heat.h"

#include <math.h>

double
melt_power_into_metal(double power, double standing_loss, double efficiency)
{
    return (power - standing_loss) * efficiency;
}

double
melt_heat_time(double heat, double power_into_metal)
{
    return power_into_metal > 0 ? heat / power_into_metal : NAN;
}

double
melt_wall_energy(double power, double standing_loss, double heat_time, double cycle_time)
{
    return power * heat_time + standing_loss * (cycle_time - heat_time);
}

double
melt_hydrogen(double celsius)
{
    return pow(10, 2.720 - 2700 / (celsius + 273.15));
}

double
melt_hydrogen_step(double celsius, double step)
{
    return pow(10, 2700 / (celsius + 273.15) - 2700 / (celsius + 273.15 + step));
}
