// SPDX-License-Identifier: GPL-3.0-or-later
// What a charge is put together from, out of the lots a shop has in stock, and what its forms and
// states lose more than clean ingot does. Plain numbers in and out, SI.
#pragma once

#include "book/lots.h"

G_BEGIN_DECLS

// Loss beyond that of clean ingot, as a share of the lot. Common practice, no source: thin and
// dirty metal turns to dross.
double melt_extra_loss(LotForm form, LotState state);

typedef enum {
    MAKEUP_RETURNS, // returns and chips
    MAKEUP_CASTINGS,
    MAKEUP_INGOT,
    MAKEUP_COUNT
} MakeupGroup;

typedef struct {
    double stock[MAKEUP_COUNT]; // kg that may be charged
    double share[MAKEUP_COUNT]; // of a full crucible; they sum to 1
    double extra_loss;          // share of that charge, over its whole
    guint dirty_taken;          // lots not clean that go in
    guint dirty_left;           // lots not clean that stay out
    guint other_metal;          // lots of other metals: never taken
} Makeup;

// Puts together a charge of `full` kg of `metal`: returns and chips up to `returns_share` of it,
// the least losing lots first; then castings; the rest ingot, bought where the stock runs out. With
// `any` lots that are not clean may go in, else they stay out. `full` must be above 0; shares and
// loss are NAN otherwise.
Makeup melt_makeup(const GArray *lots, const char *metal, gboolean any, double full,
                   double returns_share);

// kg of each group that may be charged.
void melt_chargeable(const GArray *lots, const char *metal, gboolean any,
                     double stock[MAKEUP_COUNT]);

typedef struct {
    double taken[MAKEUP_COUNT]; // kg
    double lacking;             // kg that the lots did not have
} MakeupDraw;

// Takes a charge of `mass` kg out of the lots, whose masses it makes smaller: of each group in turn
// up to its share of the charge, and no more than is still wanted, the least losing lots first.
MakeupDraw melt_draw(GArray *lots, const char *metal, gboolean any, double mass,
                     const double most[MAKEUP_COUNT]);

G_END_DECLS
