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
