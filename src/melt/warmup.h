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
    double setpoint;   // deg C, where the metal is melted
    double rate;       // K/s
} MeltWarmup;

// How many holds lie between ambient and setpoint.
guint melt_warmup_holds(const MeltWarmup *warmup);

// Time from cold to the setpoint, s; 0 if the furnace need not climb. NAN if a number is missing.
double melt_warmup_time(const MeltWarmup *warmup);

// The steps, the last to the setpoint. Free each prompt and the array. NULL (and 0) if a number is
// missing, the rate is not above 0 or the setpoint is not above ambient.
MeltStep *melt_warmup_steps(const MeltWarmup *warmup, const UnitSet *units, guint *n_steps);

G_END_DECLS
