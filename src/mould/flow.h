// SPDX-License-Identifier: GPL-3.0-or-later
// From the shapes of a layout to the network that metal flows through: basin, tapered sprue, well,
// the runners cut where gates turn off, the gates.
#pragma once

#include "mould/filling.h"
#include "mould/layout.h"

G_BEGIN_DECLS

// Losses where a branch turns off a straight channel at a right angle, in heads of the velocity
// before the branching (`side`) and of the branch's own; and of what goes straight on, in heads of
// the velocity that is left behind. I. E. Idelchik, Handbook of Hydraulic Resistance, diverging
// tees; from memory.
#define MOULD_BRANCH_SIDE 1.0
#define MOULD_BRANCH_OWN 1.0
#define MOULD_BRANCH_THROUGH 0.4

// Levels are borrowed and must outlive the flow; `level` is one cavity's, with its riser, `guest`
// one guest's (NULL in a flask without). `layout` has at least one gate.
MouldFlow *mould_flow_build(const MouldLayout *layout, const MouldLevel *level,
                            const MouldLevel *guest);

G_END_DECLS
