// SPDX-License-Identifier: GPL-3.0-or-later
// A book by text, and earlier stages' results and figures with awkward numbers, for the stages run
// and cost.
#pragma once

#include "book/store.h"
#include "session/cost.h"

G_BEGIN_DECLS

typedef struct {
    Tables *tables;
    Book *book;
    GHashTable *values;  // id -> double, figures of the stages before
    FigureList *earlier; // the list made of them by fixture_run
    LearnResult learn;
    MouldLayout layout;
    FreezeResult freeze;
    MeltResult melt;
    MeltStep warmup[2];
} Fixture;

// `shop` and `job` are JSON members to put into the book ("" for none), the job's beginning with a
// comma.
void fixture_open(Fixture *fixture, const char *shop, const char *job);
void fixture_close(Fixture *fixture);

// Gives a number of an earlier stage, in place of what it was.
void fixture_give(Fixture *fixture, const char *id, double value);

// Counts of the log, as the stage learn would leave them.
void fixture_log(Fixture *fixture, guint good, guint poured);

// Runs the stage run on it; *figures sees the earlier ones. Neither may fail.
SessionResult *fixture_run(Fixture *fixture, FigureList **figures);
// Runs the stage cost after it.
FigureList *fixture_cost(Fixture *fixture, const SessionResult *run, FigureList *run_figures);

G_END_DECLS
