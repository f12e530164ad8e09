// SPDX-License-Identifier: GPL-3.0-or-later
// More cavities than plain rows hold, where more might fit: rows with every second casting turned,
// rows of two kinds of standing, and a free nesting about the runner.
#pragma once

#include "mould/bound.h"
#include "mould/rest.h"

G_BEGIN_DECLS

typedef struct {
    GArray *spots; // PlacementSpot
    int axis;      // to be built with
    double sprue_x, sprue_y;
    MouldKept kept; // runner NAN: not known
} MouldCloser;

void mould_closer_free(MouldCloser *closer); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(MouldCloser, mould_closer_free)

// What holds more than `least`, which is how many the plain rows hold; NULL when none is found or
// more than that cannot be. With a sprue put somewhere (not NAN) also rows on a runner through it
// that hold as many, which the plain rows need not be. `axis` is that of the plain rows, kept where
// sprues are given. `keep` is the room to keep for the gating.
MouldCloser *mould_closer_find(const MouldFixed *fixed, guint least, int axis, double sprue_x,
                               double sprue_y, MouldKept keep, const Progress *progress);

// A cavity's outline with the riser beside it, drawn within its disc (for what holds at most) or
// about it.
SolidOutline *mould_closer_outline(const MouldFixed *fixed, gboolean within);

// The flask of a wish as bounds see it, without a well.
MouldBoundTask mould_closer_bound(const MouldFixed *fixed, const SolidOutline *outline);

G_END_DECLS
