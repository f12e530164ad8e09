// SPDX-License-Identifier: GPL-3.0-or-later
// Where risers stand and what they ask of the layout.
#pragma once

#include "mould/place.h"

G_BEGIN_DECLS

// Moves a riser that stands on the casting from `riser_diameter` to `own`, which the rows of a
// layout do not see; where it reaches out over the casting's shadow (cold, about the middle of the
// plan; may be NULL) all sand beside castings is asked to be that much more. Also the chill.
void mould_wish_risers(MouldWish *wish, const FeedResult *feed, const SolidOutline *shadow,
                       double scale);

// Moves a riser beside the casting from `riser_diameter` to `own`: at the side nearest to where the
// feed stage wants it. Outlines as moulded. Leaves it between gate and casting when they give no
// place.
void mould_wish_beside(MouldWish *wish, const FeedResult *feed, const SolidOutline *shadow,
                       const SolidOutline *skin);

// Highest metal under sand, m over the parting.
double mould_wish_high(const MouldWish *wish);

G_END_DECLS
