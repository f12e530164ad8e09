// SPDX-License-Identifier: GPL-3.0-or-later
// Walks the log once and gathers what the stage needs.
#pragma once

#include "book/node.h"
#include "learn/fit.h"
#include "units/quantity.h"

G_BEGIN_DECLS

// Which loads count for the furnace, and what is known of it. SI.
typedef struct {
    const char *furnace; // id; a session that names none counts too; NULL: none is chosen
    const char *metal;   // id
    double heat_content; // J/kg from the shop to the pouring temperature; NAN if unknown
    double power;        // W
} LearnFurnace;

typedef struct {
    guint sessions; // in which the job was poured
    guint poured, good;
    guint *scrap;      // of the poured, by cause in the order of book/log-members.h
    guint unnamed;     // scrap without a cause
    GArray *masses;    // double, kg, one a good casting of the job that was weighed
    GArray *ram_times; // double, s, one a flask that noted it
    GArray *cycles;    // LearnCycle, one a load that can be judged
} LearnTally;

// Counts castings of `job_id`, of all jobs when it is NULL; ramming times of every flask; and the
// loads that fit `furnace`. What cannot be read is passed over. `log` may be NULL.
LearnTally *learn_tally_new(const Node *log, const char *job_id, const LearnFurnace *furnace,
                            const UnitSet *units);
void learn_tally_free(LearnTally *tally);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LearnTally, learn_tally_free)

G_END_DECLS
