// SPDX-License-Identifier: GPL-3.0-or-later
// What the tests of placing wish for: a flat casting of odd sizes, without a riser.
#pragma once

#include "mould/layout.h"
#include "mould/place.h"

G_BEGIN_DECLS

// In a flask of this inside, m.
MouldWish wish_of(double length, double width);

// Gates that lie over the sprue's well, found by points all over them.
guint wish_over_well(const MouldLayout *layout);

G_END_DECLS
