// SPDX-License-Identifier: GPL-3.0-or-later
// What one cavity is to whoever places and measures it: the hot cavity's skin, points all over it
// in a tree of balls, its distance field far out into the sand, its shadow along the pull, and how
// its volume grows with height. Made once for a rough casting; immutable and reference-counted.
// Body axes are the pattern's: z up from the parting, x = y = 0 in the middle of the plan box.
#pragma once

#include "part/pattern.h"
#include "solid/bvh.h"

G_BEGIN_DECLS

// A ball round `n` points from `first` on. The left child is the next node; right 0 means a leaf.
typedef struct {
    Vec3 middle;
    double radius; // m
    guint first, n, right;
} MouldBall;

typedef struct MouldBody {
    SolidMesh *mesh; // closed, m, as moulded
    SolidBvh *bvh;   // of the mesh
    Vec3 min, max;   // its box
    Vec3 *points;    // all vertices, and more on triangles wider than a cell; in the tree's order
    guint n_points;
    MouldBall *balls; // balls[0] holds all
    guint n_balls;
    SolidGrid *field;     // signed distance, m; within a cell of the truth
    double margin;        // m, the field reaches at least this far beyond the box
    SolidOutline *shadow; // seen along the pull, m, as moulded
    double *below;        // m3 of metal below equal steps of height from min.z to max.z
    guint n_steps;        // `below` has n_steps + 1 entries
} MouldBody;

MouldBody *mould_body_ref(const MouldBody *body);
void mould_body_unref(const MouldBody *body);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(MouldBody, mould_body_unref)

// The body of a pattern's rough casting, larger by `growth` (1 + contraction). The last few are
// kept, so asking again for the same pattern costs nothing; from any thread. NULL with an error
// when stopped, and for a pattern without mesh or shadow without one.
MouldBody *mould_body_of(const PatternResult *pattern, double growth, Progress *progress,
                         GError **error);

// The same from any closed mesh (already as moulded) and its shadow; `cell` (m) is the step of the
// field, made coarser for what would take too many cells. Nothing is kept.
MouldBody *mould_body_new(const SolidMesh *mesh, const SolidOutline *shadow, double cell,
                          Progress *progress, GError **error);

// Metal below height z, m3; linear between the steps.
double mould_body_volume_below(const MouldBody *body, double z);

G_END_DECLS
