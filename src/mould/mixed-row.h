// SPDX-License-Identifier: GPL-3.0-or-later
// One side of a runner filled with guests and then this job's castings, round what is locked there;
// private to mixed.c.
//
// A side is seen from the runner: u along it, v away from it, so that the one at -v is the one at
// +v turned by half.
#pragma once

#include "mould/rest-shape.h"
#include "mould/rest.h"

G_BEGIN_DECLS

#define MIXED_STANDS 8                  // ways a casting of a kind may stand
#define MIXED_PIECES (2 * MIXED_STANDS) // those of the second half are the first turned by half
#define MIXED_MOST 48                   // castings of a side

// A casting of this job (kind 0) or a guest (1) as it stands, with riser and gate.
typedef struct {
    MouldStance stance;
    SolidOutline *whole; // as near to the runner's side at v = 0 as it may be; its last loop is the
                         // gate
    double front;        // m, its foremost point from there, without the riser
    gboolean barred;     // its neck is too thin there, where others have a good one
} MixedPiece;

typedef struct {
    const MouldRestTask *task;
    const MouldFixed *fixed; // of the task
    double past;             // m, the runner's end beyond the last gate
    MixedPiece pieces[2][MIXED_PIECES];
    int n[2]; // stands of each kind
    // least way along u from one to the next
    double shift[2][MIXED_PIECES][2][MIXED_PIECES];
} MixedRows;

// A line for the runner, and what is kept for it on either side, m.
typedef struct {
    int axis;
    double v, half;
} MixedLine;

typedef struct {
    int kind, piece;
    double u;
} MixedPut;

typedef struct {
    MixedPut put[MIXED_MOST]; // guests first; without the locked ones
    guint n, guests;
} MixedRow;

// Makes the pieces, and finds how close they may stand whatever the runner's width; `past` is to be
// set before rows are filled.
void mixed_rows_init(MixedRows *rows, const MouldRestTask *task);
void mixed_rows_clear(MixedRows *rows);

// For every number of guests from 0 to `most` (into best[number]) the row with most castings of
// this job, on one side (1 or -1) of a runner that the locked ones keep clear of; empty where so
// many guests find no room. Of equals the first, square ones before odd angles.
void mixed_rows_fill(const MixedRows *rows, const MixedLine *line, int side, guint most,
                     MixedRow *best);

G_END_DECLS
