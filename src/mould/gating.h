// SPDX-License-Identifier: GPL-3.0-or-later
// Flow from the pouring basin to the cavity: heads, choke, sprue taper and times. Pure functions,
// SI; `g` in m/s2 is passed in where a formula uses it, so that worked examples with a rounded g
// can be repeated.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

#define MOULD_GRAVITY 9.80665 // m/s2, standard

// Mean head, m, over the filling: H = h - p^2/(2c), with h from basin level to the gate, c the
// height of the casting and p the part of it above the gate. p = 0 is a top gate, p = c a bottom
// gate. P. N. Rao, Manufacturing Technology; Heine, Loper and Rosenthal.
double mould_effective_head(double head, double above_gate, double casting_height);

// Speed, m/s, of metal fallen through `head` with discharge coefficient `discharge`.
double mould_velocity(double discharge, double head, double gravity);

// Choke area, m2: A = W/(rho t Cd sqrt(2 g H)).
double mould_choke_area(double mass, double density, double time, double discharge, double head,
                        double gravity);

// Time, s, to fill `volume` through `area` at the top or at a constant head.
double mould_fill_top(double volume, double area, double discharge, double head, double gravity);

// Time, s, to fill a prism of plan area `plan` and height `height` from below through `area` under
// `head` over the gate. NAN when the prism is taller than the head: it never fills.
double mould_fill_bottom(double plan, double height, double area, double discharge, double head,
                         double gravity);

// Area, m2, a sprue may have at the depth `upper` below the basin level so that falling metal still
// fills it, when it has `area` at `lower`: A_top = A sqrt(lower/upper).
double mould_sprue_area(double area, double lower, double upper);

// Discharge coefficient of a gating channel: 1/sqrt(1 + K + 4 f (L/d + bends)), f = 0.0791 Re^-0.25
// (Blasius), for pipe-like channels of diameter `diameter`, `entry` K of the entry loss, `bends` as
// a length over diameter, `velocity` the one f is taken at. Ghosh and Mallik, Manufacturing
// Science.
double mould_discharge(double entry, double length, double diameter, double bends, double velocity,
                       double density, double viscosity);

// Speed, m/s, at which a drop of the metal holds together no longer, 2 (gamma g/rho)^(1/4): the
// idea behind the critical gate velocity (Campbell, Castings, 1991). Surface tension in N/m.
double mould_critical_velocity(double surface_tension, double density, double gravity);

// Reynolds number of a channel.
double mould_reynolds(double velocity, double diameter, double density, double viscosity);

// Time, s, in which a wall of thickness `wall` between two thick sand faces gives off `heat` (J/kg)
// while its face stays at `face`; `product` is k rho c of the sand.
double mould_wall_time(double wall, double density, double heat, double face, double ambient,
                       double product);

G_END_DECLS
