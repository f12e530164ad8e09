// SPDX-License-Identifier: GPL-3.0-or-later
// The parts of a traveller, each below the one before.
#pragma once

#include "report/traveller.h"

G_BEGIN_DECLS

typedef struct {
    const Plan *plan;
    UnitSet units;
    Sheet *sheet;
} Traveller;

void traveller_patterns(const Traveller *t);
void traveller_mould(const Traveller *t);
void traveller_melt(const Traveller *t);
void traveller_day(const Traveller *t);
void traveller_finish(const Traveller *t);

// Label and value of figures, by id; ids end with NULL. One that the plan does not have is left
// out.
void traveller_pairs(const Traveller *t, const char *const *ids);
// The value of a figure in the shop's units, "unknown" if it has none. Free.
char *traveller_value(const Traveller *t, const char *id);
double traveller_number(const Traveller *t, const char *id); // SI; NAN if unknown
// FALSE, after setting down why, when the stage has nothing to show.
gboolean traveller_has(const Traveller *t, const char *stage, gconstpointer result);

G_END_DECLS
