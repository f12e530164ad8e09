// SPDX-License-Identifier: GPL-3.0-or-later
// More cavities than plain rows hold, where more might fit: rows with every second casting turned,
// rows of two kinds of standing, and a free nesting about the runner.
#pragma once

#include "mould/bound.h"
#include "mould/fixed.h"

G_BEGIN_DECLS

typedef struct {
    GArray *spots; // PlacementSpot
    int axis;      // to be built with
    double sprue_x, sprue_y;
    double half; // m, room that was kept for runner, well and sprue; NAN: not known
} MouldCloser;

void mould_closer_free(MouldCloser *closer); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(MouldCloser, mould_closer_free)

// NULL when none holds more than `least`, or more than that cannot be. `axis` is that of the plain
// rows, kept where sprues are given (NAN: found). `least_half` as in MouldRestTask.
MouldCloser *mould_closer_find(const MouldFixed *fixed, guint least, int axis, double sprue_x,
                               double sprue_y, double least_half, const Progress *progress);

// The flask of a wish as bounds see it, with the outline of its cavities.
MouldBoundTask mould_closer_bound(const MouldFixed *fixed);

// The least of the bounds that are quick to find; `radius` (may be NULL) of the disc in a cavity.
guint mould_closer_quick_bound(const MouldFixed *fixed, double *radius);

G_END_DECLS
