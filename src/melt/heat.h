// SPDX-License-Identifier: GPL-3.0-or-later
// Heat, time and energy of one load. Plain numbers in and out, SI.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// Power, W, that reaches the metal: of what the furnace draws beyond its standing loss, the share
// `efficiency`. Zero or below: the furnace does not melt.
double melt_power_into_metal(double power, double standing_loss, double efficiency);

// Time, s, for `heat` J at that power. NAN if the power is not above 0.
double melt_heat_time(double heat, double power_into_metal);

// Energy from the wall, J: full power while it melts, the standing loss for the rest of the cycle.
double melt_wall_energy(double power, double standing_loss, double heat_time, double cycle_time);

// Hydrogen that liquid aluminium can hold at `celsius` under one atmosphere of it, cm3 (at standard
// conditions) per 100 g: log10 S = 2.720 - 2700 / T, 943 to 1123 K. Source: Talbot and Anyalebechi
// 1988.
double melt_hydrogen(double celsius);

// How many times as much it can hold `step` K hotter, by the same equation.
double melt_hydrogen_step(double celsius, double step);

G_END_DECLS
