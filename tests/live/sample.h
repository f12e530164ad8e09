// SPDX-License-Identifier: GPL-3.0-or-later
// A small day made by code, and a clock that tests turn.
#pragma once

#include "live/journal.h"
#include "live/live.h"

G_BEGIN_DECLS

#define SAMPLE_START 1761461100.0 // 2025-10-26T06:45:00Z

// One pair of hands, one furnace, `loads` loads of two flasks with three castings each: set up 20
// min, warm-up 2 h, then for each load ram 30 min twice, charge 5 min, melt 47 min, pour 3 min
// twice, cool 61 min, shake out 10 min; closing 15 min. Times in s, in the order of start.
LiveSheet *sample_sheet(guint loads);

// A day of three jobs of two loads of two moulds, with the times of sample_sheet(2). Load 1, of
// a356, pours "pawl" (mould 1: 3 castings of 137 g, 1.13 kg of metal) and "knob" (mould 2: 2 of 210
// g and, sharing its flask, 1 of 50 g of the job "pin", 0.74 kg) from crucible-a in the small
// furnace; it is charged with 2.37 kg. Load 2, of silicon-bronze, pours "bush" (moulds 3 and 4: 1
// of 900 g, 1.45 kg) from crucible-b in the large furnace, charged with 3.41 kg.
LiveSheet *sample_shop(void);

// The session of the sheet alone.
SessionResult *sample_session(guint loads);

// The clock shows `at` (UTC, s) until it is set again.
void sample_clock(double at);

// A day in a journal of its own below `folder`, begun at SAMPLE_START, which the clock then shows.
// The sheet's first line is written; returns the path. Free.
char *sample_journal(const char *folder, guint loads);

// A tick as a node. Unref.
Node *sample_tick(const char *what, const char *key, double at);

G_END_DECLS
