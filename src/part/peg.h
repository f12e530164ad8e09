// SPDX-License-Identifier: GPL-3.0-or-later
// Sand pegs: the sand that stands in a hole of the casting, held at one end. Inside part/ only.
#pragma once

#include "base/progress.h"
#include "solid/grid.h"

G_BEGIN_DECLS

typedef struct {
    double height, width; // m: from its free end to where it is most slender, and its width there
    Vec3 at;              // there, m
} Peg;                    // zeros when there is none

// The most slender peg (height over width) of the layers of an envelope: planar distances, <= 0 in
// the metal, widening towards the parting (z, m). `below` is the highest layer of the drag. Heights
// are good to about a cell; the first three layers of a peg do not count, as cells say little of
// them.
void peg_find(const SolidGrid *layers, double parting, int below, Peg *peg, Progress *progress);

G_END_DECLS
