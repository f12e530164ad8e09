// SPDX-License-Identifier: GPL-3.0-or-later
// Where a casting is heavy: the modulus of the neighbourhood of every place in it, and the maxima.
//
// At a place, metal and surface are both weighed by a bell curve round it as wide as the radius of
// the largest ball that fits in the casting, and divided: volume over surface, seen locally. A wide
// plate as thick as that ball would come out 41 % too much, so everything is divided by that; then
// a long round bar is 8 % low, a ball 13 %, walls much thinner than the heaviest section up to 29
// %. A narrower curve would not see the surface, a wider one would not tell places apart.
#pragma once

#include "solid/grid.h"

G_BEGIN_DECLS

#define FEED_MAP_WIDTH 1.0 // of the bell curve (standard deviation) over the ball's radius
#define FEED_MAP_MOST 9    // places told

typedef struct {
    Vec3 at;        // m, axes of the casting
    double modulus; // m
} FeedSpot;

// The local modulus, m, on coarser cells (at most 72 along the longest side), in the axes of
// `casting`; where there is no metal, how it would go on, with a minus sign. `radius` m, of the
// largest ball. NULL with an error when stopped; NULL without one for an empty casting.
SolidGrid *feed_modulus_map(const SolidGrid *casting, double radius, Progress *progress,
                            GError **error);

// Maxima that stand out by 3 % over the saddle to a higher one, the highest first; of equal places
// the nearest to the middle of all metal. At most FEED_MAP_MOST; returns how many.
guint feed_modulus_spots(const SolidGrid *map, FeedSpot *spots);

// Height, m over the parting, of the highest (way 1) or lowest (-1) metal at (x, y); NAN if none.
double feed_skin_at(const SolidGrid *casting, double x, double y, int way);

G_END_DECLS
