// SPDX-License-Identifier: GPL-3.0-or-later
// The most cavities along a straight runner round those that stay where a person locked them.
//
// Each side of the runner is a row. Castings stand in it with their fronts (or risers) the sand
// away from the runner, and from sprue and well where those are, one after another as close as sand
// allows, all alike or every second turned by half; a locked one with its gate takes what it takes
// of the row. Lines for the runner, ways of standing, and both axes are tried.
#pragma once

#include "base/progress.h"
#include "mould/fixed.h"

G_BEGIN_DECLS

// Room kept for the gating from the runner's middle line, m.
typedef struct {
    double runner; // all along the runner
    double sprue;  // where sprue and well are; no less
} MouldKept;

typedef struct {
    const MouldFixed *fixed;
    const PlacementSpot *locked; // stay
    guint n_locked;
    guint most;              // with the locked ones; 0: as many as fit
    double sprue_x, sprue_y; // m; NAN: found
    int axis;                // of the runner; -1: either
    MouldKept least;         // room to keep
    // where the flask is shared (fixed->guest)
    guint guests;     // so many; 0: as many as end both jobs in the fewest flasks
    double wanted[2]; // castings still wanted, this job's and the guest's
} MouldRestTask;

typedef struct {
    GArray *spots;           // PlacementSpot; the locked ones first, as given; guests last
    int axis;                // to be built with
    double sprue_x, sprue_y; // likewise
    guint missing;           // gates of locked ones that miss
    MouldKept kept;
} MouldRest;

// What the gating of a layout (NULL: a plain one) takes, times `spare`; whether as much was kept.
MouldKept mould_kept_of(const MouldLayout *layout, const MouldPour *pour, double spare);
gboolean mould_kept_holds(const MouldKept *kept, const MouldLayout *layout, const MouldPour *pour);

// The gating drawn to spots in the flask of `fixed`, and its sizes.
MouldLayout *mould_rest_build(const MouldFixed *fixed, const GArray *spots, int axis,
                              double sprue_x, double sprue_y, MouldPour *pour);

// How many flasks with so many castings of either job it takes until both have what they want, the
// fewer the better; INFINITY where one of them gets none, 0 without guests. Of guests asked for by
// number only how many there are counts.
double mould_rest_flasks(const MouldRestTask *task, guint hosts, guint guests);

void mould_rest_free(MouldRest *rest); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(MouldRest, mould_rest_free)

// NULL when not one can be placed besides the locked ones, or when stopped; in a shared flask also
// when there is no room for one of each.
MouldRest *mould_rest_place(const MouldRestTask *task, const Progress *progress);

G_END_DECLS
