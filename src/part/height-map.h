// SPDX-License-Identifier: GPL-3.0-or-later
// Maps of heights seen along a pull. Inside part/ only.
#pragma once

#include "part/envelope.h"

G_BEGIN_DECLS

#define HEIGHT_LOST (-1e30F) // no metal over this place

// The plane the maps lie in. Place (i,j) is start + i pixel x + j pixel y, [ j*nx + i ].
typedef struct {
    Vec3 x, y, z, start; // axes; place of the first pixel at height 0
    int nx, ny;
    double pixel, low, high; // m; heights the metal can have
} HeightView;

// Wide enough for the body of `field` (signed distance, m) with allowance, taper and stub; `pixel`
// in m.
HeightView height_view(const SolidGrid *field, const EnvelopeOptions *options, Vec3 pull,
                       double pixel);

// Where field < level (m) begins over each place, from above and from below: top[] the height (m
// along the pull), bottom[] the same upside down; HEIGHT_LOST where there is none.
void height_map_draw(const SolidGrid *field, const HeightView *view, double level, float *top,
                     float *bottom);

// Leaves out what lies further than `reach` places from all metal; both maps move together.
void height_map_crop(HeightView *view, int reach, float *top, float *bottom);

G_END_DECLS
