// SPDX-License-Identifier: GPL-3.0-or-later
// A riser beside the casting: at the side nearest to the place it has to feed.
#pragma once

#include "mould/stance.h"

G_BEGIN_DECLS

// Where such a riser stands: as near to `place` as it can without coming nearer than `gap` (the
// neck's length) to the casting, and `joint`, the casting's nearest point at the parting. Of sides
// about equally near (to a tenth of the radius) the one at -y, which faces the runner as drawn. All
// in the casting's own axes as moulded, m. FALSE when the outlines leave no such place.
gboolean mould_beside_find(const SolidOutline *skin, const SolidOutline *shadow, SolidPoint place,
                           double radius, double gap, MouldBeside *beside);

// The shadow with the riser (radius 0: alone), as a polygon within its disc or about it; both in
// the casting's own axes.
SolidOutline *mould_beside_outline(const SolidOutline *shadow, const MouldBeside *beside,
                                   gboolean within);

// Puts the riser into a stance that was reached without it: its reach grows round the riser, and
// the gate goes into the riser's middle when no metal lies between that and the runner; else to the
// casting, past the riser. `shadow` and `skin` are turned as the stance is.
void mould_beside_stand(const MouldBeside *beside, const SolidOutline *shadow,
                        const SolidOutline *skin, MouldStance *stance);

G_END_DECLS
