// SPDX-License-Identifier: GPL-3.0-or-later
// Heat content, liquid density and contraction of a metal at a temperature.
#pragma once

#include "metal/tables.h"

G_BEGIN_DECLS

// Heat to bring 1 kg from `from` to `to` (deg C), J/kg, through melting: cp_solid to the solidus,
// the latent heat spread evenly over solidus to liquidus together with the heat capacity of the
// mixture there, cp_liquid above. A row whose enthalpy_model names a Shomate equation (pure
// aluminium and copper) uses that instead. NAN if a property needed is missing or a temperature is
// not a number. `to` below `from` gives the heat given off, negative.
double enthalpy_between(const TableRow *metal, double from, double to);

// Liquid density at `temperature` (deg C), kg/m3: density_liquid + density_slope (T - liquidus).
// NAN below the solidus or when unknown; between solidus and liquidus the same line is carried on.
double density_of_liquid(const TableRow *metal, double temperature);

// Share of solid, 1 below the solidus to 0 above the liquidus, linear between.
double solid_fraction(const TableRow *metal, double temperature);

G_END_DECLS
