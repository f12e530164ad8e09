// SPDX-License-Identifier: GPL-3.0-or-later
// The most outlines that fit in a rectangle or a circle with sand between them, turned freely, in
// steps or not at all, round obstacles and pieces that stay where they are.
//
// Rows at every angle give a first arrangement. Then one more piece is tried: from many scattered
// starts, overlaps are pressed apart like springs; where that ends with overlaps left the worst
// piece is put elsewhere and all is pressed apart again. What holds is checked on the true
// outlines. Starts are seeded by their number and run side by side; of those that succeed the
// first counts, so the result does not depend on the number of threads.
#pragma once

#include "base/progress.h"
#include "solid/section.h"

G_BEGIN_DECLS

#define MOULD_NEST_KINDS 2
#define MOULD_NEST_MOST 200 // pieces

typedef struct {
    double x, y, turn; // m from the container's middle; rad
    guint kind;
    gboolean locked;
} MouldNestSpot;

typedef struct {
    gboolean round;
    double length, width; // m, where outlines may reach; the diameter twice when round
    double clearance;     // m, between outlines, and to obstacles
    int angles;           // of a whole turn that may be taken: 1, 2, 4, 24 ...; 0: any
    const SolidOutline *outlines[MOULD_NEST_KINDS]; // about their own origins, m
    guint share[MOULD_NEST_KINDS]; // pieces of each kind in turn: {1, 0}, or {2, 1} for two to one
    const SolidOutline *const *obstacles; // where they lie, m
    guint n_obstacles;
    const MouldNestSpot *locked; // stay; count among the result
    guint n_locked;
    guint most;   // pieces with the locked ones; 0: as many as fit
    guint starts; // tried for each number of pieces; 0: 32
} MouldNestTask;

typedef struct {
    GArray *spots;  // MouldNestSpot, the locked ones first
    guint bound;    // no more than this fit, by area
    double quality; // found over bound
} MouldNestResult;

void mould_nest_result_free(MouldNestResult *result); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(MouldNestResult, mould_nest_result_free)

// NULL with an error when stopped, or for sizes that make no sense. Locked pieces are not judged.
MouldNestResult *mould_nest(const MouldNestTask *task, Progress *progress, GError **error);

// Do all pieces lie inside, `clearance` apart, to within `slack` (m)?
gboolean mould_nest_holds(const MouldNestTask *task, const MouldNestSpot *spots, guint n,
                          double slack);

G_END_DECLS
