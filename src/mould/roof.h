// SPDX-License-Identifier: GPL-3.0-or-later
// The upper surface of the metal of one cavity, with its riser and neck, over the parting: heights
// on a raster in the cavity's own axes, at the hot cavity's size.
#pragma once

#include "mould/layout.h"

G_BEGIN_DECLS

typedef struct {
    int nx, ny;
    double cell;       // m
    SolidPoint origin; // middle of cell 0, 0; m
    double *height;    // m over the parting, 0 or more; NAN where no metal reaches it; [j*nx + i]
} MouldRoof;

// The casting's roof alone, `scale` times as large as `casting`, whose axes are the cavity's.
MouldRoof *mould_roof_new(const SolidGrid *casting, double scale);
// A copy with riser and neck of this cavity of `layout`, wider where they reach out of it.
MouldRoof *mould_roof_with_riser(const MouldRoof *roof, const MouldLayout *layout, guint cavity);
void mould_roof_free(MouldRoof *roof); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(MouldRoof, mould_roof_free)

// Height at a point of the cavity's axes; NAN off the metal.
double mould_roof_at(const MouldRoof *roof, double x, double y);

// Volume, m3, of a cylinder on the parting that stands clear of what lies under the roof already.
double mould_roof_beside(const MouldRoof *roof, double x, double y, double diameter, double height);

// Distance, m, every cell lies from the nearest cell within `reach` of (x, y), by the way the metal
// takes inside the region; NAN off it and where no way leads. Along steps to 16 neighbours, so at
// most 3 % too long. Free.
double *mould_roof_distance(const MouldRoof *roof, double x, double y, double reach);

// From flask axes to a cavity's own and back.
SolidPoint mould_roof_into(const MouldCavity *cavity, double x, double y);
SolidPoint mould_roof_out(const MouldCavity *cavity, double x, double y);

G_END_DECLS
