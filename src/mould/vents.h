// SPDX-License-Identifier: GPL-3.0-or-later
// Where vents are pricked through the cope: over every high point of a cavity that no higher one
// drains, over blind risers, and where the metal comes last, far from the gate. What is no higher
// than the parting lets its air out along it. What counts as high or far, and the wire's size, is
// common practice, no source.
#pragma once

#include "mould/roof.h"

G_BEGIN_DECLS

#define MOULD_VENT_RISE 0.001 // m; lower humps than this give their air off sideways
#define MOULD_VENT_FAR 0.04   // m from the gate; nearer places are fed by metal still hot and fast
#define MOULD_VENT_CORNER 0.004 // m; a far corner lies this much further than what is about it
#define MOULD_VENT_NEAR 0.015   // m; one vent serves what is within it
#define MOULD_VENT_SLENDER 40   // a wire longer than so many diameters wanders in the sand

// Fills `vents` of the layout for all cavities: `casting` as in MouldRoof, made larger by `scale`,
// `wire` (m) the thinnest wire used.
void mould_vents_find(MouldLayout *layout, const SolidGrid *casting, double scale, double wire);

// Diameter, m, for a vent through `depth` of sand: the wire, or what the depth asks for, to the
// next half millimetre.
double mould_vent_diameter(double depth, double wire);

G_END_DECLS
