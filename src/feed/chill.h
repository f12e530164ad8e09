// SPDX-License-Identifier: GPL-3.0-or-later
// A chill: metal in the sand against a heavy section, which draws heat faster than sand does.
#pragma once

#include "solid/grid.h"

G_BEGIN_DECLS

typedef struct {
    double modulus, area;   // m, m2: of the section, and of all its surface that cools
    double chilled, factor; // m2 of it against the chill, and how many times that counts
} FeedChilled;

// Modulus, m, with the chilled surface counted `factor` times: V / (A + (k - 1) A_chill). Common
// practice, no source.
double feed_chilled_modulus(const FeedChilled *c);

// Widest square about `at`, m, no wider than `most`, on which a block of `thickness` stands over
// the casting (`way` 1) or under it (-1), its face at height at.z, without meeting more of the
// casting: what rises by less than a quarter of the thickness the chill is fitted to. By the grid's
// cells.
double feed_chill_room(const SolidGrid *casting, Vec3 at, int way, double most, double thickness);

// deg C a chill comes to when it keeps all the heat that goes through its face until the section is
// solid: ambient + V q k / ((A + (k - 1) A_chill) C t). `heat` J/m3 of section, `capacity`
// J/(m3 K) of the chill, `thickness` m. It keeps less, so it stays below; a heat balance.
double feed_chill_temperature(const FeedChilled *c, double heat, double ambient, double capacity,
                              double thickness);

G_END_DECLS
