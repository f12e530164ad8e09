// SPDX-License-Identifier: GPL-3.0-or-later
// The sand that really stands between things in a flask, in all three directions: every pair of
// cavities, and every cavity against wall, top, bottom, sprue and runners, with the two places
// where each is least. A riser belongs to its cavity. A cavity's own gate and neck are not counted.
//
// Pairs are measured only while they may be the least, and one that stands in another just as a
// measured pair does is not measured again; neither are pairs that have not moved since `before`.
#pragma once

#include "mould/body.h"
#include "mould/layout.h"

G_BEGIN_DECLS

typedef enum {
    MOULD_COVER_WALL,
    MOULD_COVER_TOP,
    MOULD_COVER_BOTTOM,
    MOULD_COVER_SPRUE,
    MOULD_COVER_RUNNER,
    MOULD_COVER_BETWEEN,
    MOULD_COVERS
} MouldCoverKind;

typedef struct {
    double distance; // m; 0 when they meet, negative outside the flask; NAN: nothing to measure to
    Vec3 from, to;   // flask axes, m
    guint cavity, other; // which; `other` of MOULD_COVER_BETWEEN only
} MouldGap;

typedef struct MouldSpace MouldSpace; // immutable, reference-counted

// Measures the layout with `body` at every cavity. `before` (may be NULL) is an earlier measurement
// with the same body: what has not moved since is taken from it. Same result with and without.
MouldSpace *mould_space_measure(const MouldLayout *layout, const MouldBody *body,
                                const MouldSpace *before);
MouldSpace *mould_space_ref(const MouldSpace *space);
void mould_space_unref(const MouldSpace *space);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(MouldSpace, mould_space_unref)

// The least of its kind in the flask.
MouldGap mould_space_least(const MouldSpace *space, MouldCoverKind kind);

// The least of one cavity. For MOULD_COVER_BETWEEN a bound from below where `exact` is FALSE: then
// another pair is nearer.
MouldGap mould_space_of(const MouldSpace *space, MouldCoverKind kind, guint cavity,
                        gboolean *exact);

// How many gaps were measured for this one, for tests and timings.
guint mould_space_measured(const MouldSpace *space);

G_END_DECLS
