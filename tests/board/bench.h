// SPDX-License-Identifier: GPL-3.0-or-later
// A casting and a flask made by hand, to make pieces from.
#pragma once

#include "board/board.h"
#include "check.h"

G_BEGIN_DECLS

// A bracket with two unequal legs of unequal heights: no mirror image of it fits it.
SolidMesh *bench_bracket(void);
// Takes the mesh over; drawn along z.
PatternResult *bench_pattern(SolidMesh *mesh, double allowance, double draft, int cells);
// A flask of 214 by 163 mm with tabs and one bare cavity, turned and off the middle.
MouldLayout *bench_bare(const PatternResult *pattern);
// The same with riser, gate, runner, well and sprue.
MouldLayout *bench_full(const PatternResult *pattern);
BoardOptions bench_options(void);
BoardResult *bench_make(const BoardOptions *options, const PatternResult *pattern,
                        const MouldLayout *layout);
const BoardPiece *bench_find(const BoardResult *result, const char *name);

// The bracket drawn, in both flasks.
typedef struct {
    PatternResult *pattern;
    MouldLayout *bare, *full;
} Bench;
void bench_set_up(Bench *bench, gconstpointer data);
void bench_tear_down(Bench *bench, gconstpointer data);

G_END_DECLS
