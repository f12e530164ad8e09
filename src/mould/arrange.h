// SPDX-License-Identifier: GPL-3.0-or-later
// From what is wished to a layout that fills as it should: cavities placed by the program or by
// hand, gating drawn to them, its sizes found by filling it.
#pragma once

#include "book/inputs.h"
#include "mould/fit.h"
#include "mould/fixed.h"

G_BEGIN_DECLS

typedef struct {
    MouldWish wish; // as fitted
    MouldWay way;
    MouldPlace place;    // of the way; of a layout placed freely only `pour` counts
    MouldPour better;    // sizes that would keep the limits where these do not
    gboolean has_better; // there are such sizes
    MouldLayout *layout; // its flask and guest are set; cavities and gating are to be filled in
    MouldLevel *level;   // of one cavity
    gboolean fits;
    // where another job shares the flask; `guest` is borrowed, and NULL where none does
    const MouldGuest *guest;
    MouldWish guest_wish;
    MouldWish alone; // this job's where none of the guest's castings finds room
    MouldLevel *guest_level;
    guint guests;     // asked for; 0: by what is wanted
    double wanted[2]; // castings still wanted, this job's and the guest's
} MouldWork;

void mould_work_clear(MouldWork *work);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(MouldWork, mould_work_clear)

// Places cavities and draws gating into `work->layout`. By hand where cavities or the sprue have
// places; a sprue alone moves the program's own cavities onto a runner through it. `fits` stays
// FALSE when nothing could be placed. Stops early, with a layout that is good as far as it goes,
// when `progress` is stopped.
void mould_arrange(MouldWork *work, const Inputs *inputs, const PatternResult *pattern,
                   const Progress *progress);

G_END_DECLS
