// SPDX-License-Identifier: GPL-3.0-or-later
// The stepped warm-up of a furnace with its empty crucible, told as prompts: a small controller
// holds a setpoint but has no program, so a person turns it on at each step.
#pragma once

#include "melt/melt.h"

G_BEGIN_DECLS

typedef struct {
    double ambient;    // deg C, where it starts
    double hold_at[2]; // deg C; a hold not below the setpoint is left out
    double hold;       // s, each
    double temper_at;  // deg C, a further hold of a new crucible
    double temper;     // s, that hold; 0 for a crucible that has been fired
    double setpoint;   // deg C, where the metal is melted
    double rate;       // K/s
} MeltWarmup;

// How many holds lie between ambient and setpoint, not counting that of a new crucible.
guint melt_warmup_holds(const MeltWarmup *warmup);

// 1 if a new crucible is held longer between ambient and setpoint, else 0.
guint melt_warmup_tempers(const MeltWarmup *warmup);

// Time from cold to the setpoint, s; 0 if the furnace need not climb. NAN if a number is missing.
double melt_warmup_time(const MeltWarmup *warmup);

// The steps, the last to the setpoint. Free each prompt and the array. NULL (and 0) if a number is
// missing, the rate is not above 0 or the setpoint is not above ambient.
MeltStep *melt_warmup_steps(const MeltWarmup *warmup, const UnitSet *units, guint *n_steps);

G_END_DECLS
