// SPDX-License-Identifier: GPL-3.0-or-later
// What pushes and weighs in the cope, with its middle: areas and volumes of the metal there.
#pragma once

#include "mould/layout.h"

G_BEGIN_DECLS

typedef struct {
    double sum;  // m2 or m3
    double x, y; // its middle, flask axes, m; NAN without any
} MouldLoad;

// `scale` is cavity over cold casting. Metal seen along the pull, what overlaps counted once, less
// the foot of the sprue and open risers, which have no roof.
MouldLoad mould_cope_seen(const MouldLayout *layout, const PatternResult *pattern, double scale);

// Metal in the cope that stands under a roof: castings, and blind risers beside them.
MouldLoad mould_cope_roofed(const MouldLayout *layout, const PatternResult *pattern, double scale);

// All metal in the cope.
MouldLoad mould_cope_metal(const MouldLayout *layout, const PatternResult *pattern, double scale);

G_END_DECLS
