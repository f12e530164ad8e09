// SPDX-License-Identifier: GPL-3.0-or-later
// What the tests of placing wish for: a flat casting of odd sizes, without a riser.
#pragma once

#include "mould/place.h"

G_BEGIN_DECLS

// In a flask of this inside, m.
MouldWish wish_of(double length, double width);

G_END_DECLS
