// SPDX-License-Identifier: GPL-3.0-or-later
// Where the rough casting is heavy: lines of equal local modulus in a section, numbered places,
// riser and chill. Plan -> Scene. Lengths are those of the cold casting.
#pragma once

#include "sketch/casting.h"

G_BEGIN_DECLS

// NULL with an error as sketch_casting_scene(). A plane whose `at` is NAN goes through the heaviest
// place. Parts have the ids "modulus-1" .. (places, the heaviest first), "riser", "chill",
// "casting" and "plane".
Scene *sketch_modulus_scene(const Plan *plan, const CastingPlane *plane, GError **error);
// The same from the results; `layout` (may be NULL) says where a riser beside the casting stands.
// NULL when `feed` has no map.
Scene *modulus_scene(const PatternResult *pattern, const FeedResult *feed,
                     const MouldLayout *layout, const CastingPlane *plane, const UnitSet *units);

G_END_DECLS
