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

// The layers of an envelope: planar distances, <= 0 in the metal, widening towards the parting
// (z, m). `below` is the highest layer of the drag. `rough` are those before the sweep, with holes
// as wide as they are without draft.
typedef struct {
    const SolidGrid *layers, *rough;
    double parting;
    int below;
} PegSand;

// The most slender peg (height over width). Heights are good to about a cell; the first three
// layers of a peg do not count, as cells say little of them.
void peg_find(const PegSand *sand, Peg *peg, Progress *progress);

// The least width, m, such that with all rough holes no wider cast solid no peg is more slender
// than `most`, to a sixteenth of a cell; 0 when none is as it is, INFINITY when no closing helps.
double peg_cure(const PegSand *sand, double most, Progress *progress);

G_END_DECLS
