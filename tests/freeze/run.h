// SPDX-License-Identifier: GPL-3.0-or-later
// The stages feed, mould and freeze after one another on a casting made by code.
#pragma once

#include "freeze/freeze.h"

extern Tables *tables; // of the program; loaded by main()

typedef struct {
    FigureList *casting, *feeds, *moulds, *freezes;
    PatternResult pattern;
    FeedResult *feed;
    MouldLayout *mould;
    FreezeResult *freeze;
} Run;

// A rough casting that is the mesh itself, its parting `below` above its lowest point. `job` holds
// further members of job, each with a leading comma. Without `heat` the freeze stage has no shape
// to let heat flow in.
Run run_some(const SolidMesh *mesh, double below, const char *job, gboolean heat);
Run run_stages(const SolidMesh *mesh, double below, const char *job);
void clear_run(Run *run);

// The figure of any of the stages; ends the test without.
const Figure *get(const Run *run, const char *id);
