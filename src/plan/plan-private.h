// SPDX-License-Identifier: GPL-3.0-or-later
// What a Plan is made of; for walk.c and plan.c only.
#pragma once

#include "plan/plan.h"

G_BEGIN_DECLS

struct Plan {
    Book *book;
    char *job_id;
    const TableRow *metal; // of the job; the tables outlive all plans
    UnitSet units;
    CacheEntry *entries[STAGE_COUNT]; // NULL: not reached
    gboolean stale[STAGE_COUNT], reused[STAGE_COUNT];
    FigureList *figures; // empty, sees every stage's list
    GPtrArray *computed; // const Figure *, stage by stage
    char **cautions;
};

// A Plan without entries. `plan_seal` makes figures, computed and cautions once the entries are in.
Plan *plan_new(const Book *book, const char *job_id, const Tables *tables);
void plan_seal(Plan *plan, const Tables *tables);

G_END_DECLS
