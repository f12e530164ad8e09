// SPDX-License-Identifier: GPL-3.0-or-later
// Cavities that stand where a person put them: runner, gates and risers are drawn to them.
//
// The runner is a straight line along one axis of the flask, through the sprue. Each gate leaves it
// square, to the casting's foremost point facing it. Where the sprue is not given, the runner takes
// the line with the most room and the shortest gates, and the sprue stands in the middle of its
// gates.
#pragma once

#include "mould/place.h"

G_BEGIN_DECLS

// What decides such a layout besides the places. Immutable, reference-counted.
typedef struct MouldFixed {
    MouldWish wish;
    double out;                  // m, by which the true skin reaches beyond the shadow
    SolidOutline *shadow, *skin; // seen along the pull; at the parting; m, as moulded
    struct MouldFixed *guest; // the same of the other job's casting that shares the flask, or NULL
} MouldFixed;

MouldFixed *mould_fixed_new(const MouldWish *wish, const SolidOutline *shadow,
                            const SolidOutline *skin);
// The same shapes, and the same guest, with another wish.
MouldFixed *mould_fixed_with(const MouldFixed *fixed, const MouldWish *wish);
// Before it is handed on: takes `guest`.
void mould_fixed_set_guest(MouldFixed *fixed, MouldFixed *guest);
// Of a spot: itself or the guest's.
const MouldFixed *mould_fixed_of(const MouldFixed *fixed, gboolean guest);
MouldFixed *mould_fixed_ref(const MouldFixed *fixed);
void mould_fixed_unref(const MouldFixed *fixed);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(MouldFixed, mould_fixed_unref)

// Fills cavities, gates, runners, sprue, risers and metal of `layout`, an empty one whose flask is
// set, and writes the gating's sizes. `axis` -1: the better of both. `sprue_x`, `sprue_y` NAN:
// found here.
void mould_fixed_build(MouldLayout *layout, const MouldFixed *fixed, const PlacementSpot *spots,
                       guint n, double sprue_x, double sprue_y, int axis, MouldPour *pour);

// All metal of a layout, as drawn, m3.
double mould_fixed_volume(const MouldLayout *layout, const MouldFixed *fixed);

G_END_DECLS
