// SPDX-License-Identifier: GPL-3.0-or-later
// From a solved way to the shapes of a MouldLayout.
#pragma once

#include "mould/place.h"

G_BEGIN_DECLS

// An empty layout, all zero.
MouldLayout *mould_layout_new(void);

// The flask, its tabs and what else does not depend on the cavities, as another layout has them.
void mould_layout_take_flask(MouldLayout *layout, const MouldLayout *from);

// Fills cavities, gates, runners, sprue, risers and the metal of `layout`. The flask's own sizes,
// tabs and covers are set elsewhere.
void mould_build(MouldLayout *layout, const MouldWish *wish, const MouldWay *way,
                 const MouldPlace *place);

// The riser a wish asks for, wherever it stands.
MouldRiser mould_build_riser(const MouldWish *wish);

// Puts the riser of a cavity that stands at its place, if it has one of its own, and its neck.
void mould_build_own(MouldCavity *cavity, const MouldWish *wish);

// The sizes of sprue, well, basin, risers and necks, and the metal; and how many of the gates,
// which are there, lie over the well.
void mould_build_pour(MouldLayout *layout, const MouldWish *wish, const MouldPour *pour,
                      const MouldNeck *neck);

G_END_DECLS
