// SPDX-License-Identifier: GPL-3.0-or-later
// Pressing overlapping outlines apart.
#pragma once

#include "mould/nest-shape.h"
#include "mould/nest.h"

G_BEGIN_DECLS

typedef struct {
    const MouldNestTask *task;
    NestShape *kinds[MOULD_NEST_KINDS];
    NestShape **obstacles;
    double apart; // m, the sand aimed at, a little more than what is asked for
    double size;  // m, the larger shape's radius
} NestScene;

// Moves what is not locked until nothing overlaps, in at most `rounds` rounds. Returns what is left
// of the overlaps (a square over size squared; 0: none), and the piece with most of it. `turns`
// lets pieces turn.
double nest_relax(const NestScene *scene, MouldNestSpot *spots, guint n, int rounds, gboolean turns,
                  guint *worst, const Progress *progress);

#define NEST_FREE 1e-9 // overlaps no larger than this count as none

G_END_DECLS
