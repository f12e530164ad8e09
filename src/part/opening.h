// SPDX-License-Identifier: GPL-3.0-or-later
// Openings of a layer: places without metal that have metal all round. Inside part/ only.
#pragma once

#include "part/planar.h"

G_BEGIN_DECLS

typedef struct {
    int nx, ny;
    double cell;          // m
    const float *section; // planar distance of the layer, <= 0 in the metal
    guint8 *seen;
    GArray *stack, *cells; // guint32; `cells` are those of the opening gathered last
} OpeningScan;

void opening_scan_init(OpeningScan *scan, int nx, int ny, double cell);
void opening_scan_clear(OpeningScan *scan);

// Begins a layer; `section` must outlive its walk.
void opening_begin(OpeningScan *scan, const float *section);

// Gathers the next opening or open place from *at on (0 at first), which is moved past its first
// cell. FALSE when there are no more. `round` tells whether metal stands all round it, `width` (m)
// the widest circle in it, good to half a cell, better when it is round.
gboolean opening_next(OpeningScan *scan, gsize *at, gboolean *round, double *width);

G_END_DECLS
