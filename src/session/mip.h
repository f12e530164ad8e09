// SPDX-License-Identifier: GPL-3.0-or-later
// A small whole-number program: columns with bounds and costs, rows with limits. Bounded by steps,
// not by the clock, so that it answers the same on every machine.
#pragma once

#include "base/progress.h"

G_BEGIN_DECLS

typedef enum {
    SESSION_MIP_BEST,      // proved
    SESSION_MIP_STOPPED,   // a solution, at its number of steps; the bound says how good
    SESSION_MIP_NONE,      // no solution exists, or none was found in its number of steps
    SESSION_MIP_CANCELLED, // by the progress
} SessionMipEnd;

typedef struct SessionMip SessionMip;

SessionMip *session_mip_new(gboolean maximise);
void session_mip_free(SessionMip *mip); // on the thread that made it
G_DEFINE_AUTOPTR_CLEANUP_FUNC(SessionMip, session_mip_free)

// Both return the index from 1. `high` and row limits may be infinite.
int session_mip_column(SessionMip *mip, double low, double high, double cost, gboolean integer);
int session_mip_row(SessionMip *mip, double low, double high);
// Each place once.
void session_mip_set(SessionMip *mip, int row, int column, double value);

SessionMipEnd session_mip_solve(SessionMip *mip, const Progress *progress);
// After BEST and STOPPED.
double session_mip_value(const SessionMip *mip, int column);
double session_mip_objective(const SessionMip *mip);
// No solution is better than this. Also after NONE, where it may be infinite.
double session_mip_bound(const SessionMip *mip);

G_END_DECLS
