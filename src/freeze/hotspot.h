// SPDX-License-Identifier: GPL-3.0-or-later
// Places that freeze last and are cut off from later ones while they do.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct {
    gsize cell;
    double time;    // s, when it was solid
    double cut_off; // s, when the last liquid way to a later place closed; 0 for the last of all
} FreezeSpot;

// Every local last place of `time` (NAN: no metal) on nx * ny * nz cells, neighbours by face, that
// stays liquid alone for at least `share` of the whole freezing time. Latest first, ties by cell.
// Free the array.
GArray *freeze_hot_spots(const double *time, int nx, int ny, int nz, double share);

G_END_DECLS
