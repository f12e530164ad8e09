// SPDX-License-Identifier: GPL-3.0-or-later
// How long a casting takes to cool to the temperature at which its mould may be opened.
#pragma once

#include "freeze/heat.h"

G_BEGIN_DECLS

// Time, s, until a plate of half thickness `modulus` (m) in thick sand is below `end` (deg C)
// everywhere, by heat flow in one dimension. Rounder castings are quicker, a flask whose sand is
// warmed through is slower. NAN with an error when stopped, when a property is missing, or when it
// takes longer than four weeks.
double freeze_shakeout_time(const FreezeMaterials *materials, double modulus, double end,
                            Progress *progress, GError **error);

G_END_DECLS
