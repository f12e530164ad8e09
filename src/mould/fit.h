// SPDX-License-Identifier: GPL-3.0-or-later
// Sizes of gates and runners by which the stepped filling keeps the limits.
#pragma once

#include "mould/build.h"
#include "mould/filling.h"
#include "mould/fixed.h"

G_BEGIN_DECLS

// Gates are drawn for no less than this share of the speed limit.
#define MOULD_FIT_LEAST_SHARE 0.05

typedef struct {
    const MouldLevel *cavity; // one cavity without its riser
    double spread;            // most unevenness of gates; NAN for none asked
    gboolean wide;            // may runners be made wider, and less deep, than their ratio?
    gboolean narrow;          // may gates be made smaller than their ratio to the choke?
    const Progress *progress; // or NULL; stopped, no more is tried
    const MouldLevel *guest;  // one guest's cavity without its riser, or NULL
} MouldFit;

// The filling of a layout that is built, its cavities with the risers drawn. NULL with an error
// when the flow cannot be solved or `progress`, which may be NULL, is stopped.
MouldFilling *mould_fit_run(const MouldLayout *layout, const MouldLevel *cavity,
                            const MouldLevel *guest, const Progress *progress, GError **error);

// Repeats solving `way` and filling it, with gates drawn for a smaller share of the speed limit
// (wish->gate_share) and wider runners (wish->runner_ratio), until the filling keeps the limits of
// speed and unevenness, for at most a dozen rounds; a size that no longer fits the flask or helps
// too little is not taken. `wish` and `place` hold the last that was. TRUE when the limits are
// kept.
gboolean mould_fit_sizes(const MouldFit *fit, MouldWish *wish, const MouldWay *way,
                         MouldPlace *place);

// The same with every size, the filling time and the runner's shape free, whatever a person fixed:
// what to suggest. TRUE with *place filled when that keeps the limits.
gboolean mould_fit_suggest(const MouldFit *fit, const MouldWish *wish, const MouldWay *way,
                           MouldPlace *place);

// Cavities at given places.
typedef struct {
    const PlacementSpot *spot;
    guint n;
    double sprue_x, sprue_y; // m; NAN: found
    int axis;                // of the runner; -1: found
} MouldSpots;

// The same for cavities at given places, with `*fixed`, of which the last that was taken is kept.
gboolean mould_fit_placed(const MouldFit *fit, MouldFixed **fixed, const MouldSpots *spots,
                          MouldPour *pour);

G_END_DECLS
