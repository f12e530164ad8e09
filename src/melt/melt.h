// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "melt": what one furnace load holds, how long it takes, and the warm-up before it.
#pragma once

#include "mould/layout.h"

G_BEGIN_DECLS

typedef struct {
    double setpoint; // deg C
    double ramp;     // s, time to get there
    double hold;     // s
    char *prompt;    // "Set 300 °C, hold 45 min"
} MeltStep;

typedef struct {
    MeltStep *warmup;
    guint n_warmup;
    double warmup_time;  // s, sum
    double working_mass; // kg the crucible may hold of this metal
    double charge_mass;  // kg, one load
    int flasks_per_load;
    double heat;                // J into the metal
    double heat_time;           // s
    double cycle_time;          // s from charging to the next charging
    double pouring_temperature; // deg C
    double energy;              // J from the wall, one load
    double warmup_energy;       // J from the wall, once a session
    char **closing;             // what to do after the last pour, a sentence each, in order
} MeltResult;

MeltResult *melt_result_ref(const MeltResult *result);
void melt_result_unref(const MeltResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(MeltResult, melt_result_unref)

extern const char *const melt_reads[];
MeltResult *melt_stage(const Inputs *inputs, const MouldLayout *layout, FigureList *figures,
                       Progress *progress, GError **error);

G_END_DECLS
