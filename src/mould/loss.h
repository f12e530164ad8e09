// SPDX-License-Identifier: GPL-3.0-or-later
// Head that is lost where metal flows: friction of a channel and single losses, as pure functions
// in SI. A loss coefficient K counts heads of velocity, v^2/(2 g).
#pragma once

#include <glib.h>

G_BEGIN_DECLS

// m2/s. Liquid aluminium at 720 degrees has 1.19 mPa s over 2360 kg/m3 (Assael and others, J. Phys.
// Chem. Ref. Data 35, 2006, 285; from memory); zinc and copper alloys lie close to it.
#define MOULD_VISCOSITY 5e-7
// m; the wall of a rammed sand channel, about a grain (common practice, no source).
#define MOULD_ROUGHNESS 2e-4

// Single losses. White, Fluid Mechanics, minor losses; from memory.
#define MOULD_LOSS_ENTRY 0.5 // sharp-edged, from a basin or a well
#define MOULD_LOSS_EXIT 1.0  // into what stands still

// Darcy's friction factor: 64/Re below Re 2000; above 4000 by S. E. Haaland, Journal of Fluids
// Engineering 105 (1983) 89; blended between without a jump or a bend. `rough` is roughness over
// diameter. *slope takes df/dRe, or NULL.
double mould_friction(double reynolds, double rough, double *slope);

// The same for a smooth wall by Blasius, 0.3164 Re^(-1/4), above 4000.
double mould_friction_smooth(double reynolds);

// Length, m, that a straight channel of the lower diameter must have to lose as much by friction,
// at equal friction factor, as a cone `height` long from diameter `upper` to `lower` does.
double mould_loss_cone(double height, double upper, double lower);

// K of a step from one area to another, of the higher velocity: Borda and Carnot's sudden widening
// (1 - a/b)^2, or 0.5 (1 - b/a) where it narrows (White, Fluid Mechanics; from memory).
double mould_loss_step(double from, double to);

G_END_DECLS
