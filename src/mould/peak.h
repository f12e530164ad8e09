// SPDX-License-Identifier: GPL-3.0-or-later
// High points of a field on a raster, each with how far one must go down from it to reach a higher
// one: what bubbles under such a roof collect in.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct {
    int i, j;     // a cell of the top itself, the one nearest its middle
    double value; // the highest
    double rise;  // over the pass to a higher top; over the floor for the highest of a region
} MouldPeak;

// The tops of `value` (nx by ny, NAN outside the region) that rise by at least `least`; cells that
// touch at a corner are neighbours; the highest of each part of the region rises over `floor`. A
// flat top counts once; it ends `flat` below the highest. MouldPeak, highest first; equal ones in
// the order of the raster. Free with g_array_unref.
GArray *mould_peaks(const double *value, int nx, int ny, double floor, double least, double flat);

G_END_DECLS
