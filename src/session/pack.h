// SPDX-License-Identifier: GPL-3.0-or-later
// Which moulds share a load. Moulds of one kind are alike, so loads are counted by *pattern*, a way
// to fill a crucible with so many of each kind, and not mould by mould: few variables, and bounds
// so close that the best is nearly always proved at once (the cutting-stock idea: Gilmore and
// Gomory, Operations Research 9 (1961) 849).
#pragma once

#include "session/floor.h"

G_BEGIN_DECLS

typedef struct {
    GArray *loads;      // of SessionLoad
    SessionPackHow how; // which answered
    double time;        // s of the furnaces that are longest at work, of a kind alike shared evenly
    double bound;       // no packing takes less time
} SessionPacking;

void session_packing_free(SessionPacking *packing); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(SessionPacking, session_packing_free)

// Packs `counts` moulds of each kind into loads of at most `most` moulds so that the furnaces are
// done soonest, then with fewest loads. The search is bounded by steps, not by the clock. NULL when
// some mould fits no load (session_floor_check_kind() says why), or when stopped.
SessionPacking *session_pack(const SessionFloor *floor, const int *counts, int most,
                             Progress *progress, GError **error);

// The most worth any session of the floor can pour, and the most moulds, were hands, furnaces and
// boxes never to wait for one another: bounds, with the counts that reach them (may be NULL).
// FALSE only when stopped.
typedef struct {
    double worth;
    int moulds;
    SessionPackHow how;
    int counts[SESSION_MOST_KINDS]; // of the one with most worth
} SessionBound;
gboolean session_bound(const SessionFloor *floor, SessionBound *bound, Progress *progress,
                       GError **error);

// The largest load, in moulds, that any furnace takes.
int session_pack_largest(const SessionFloor *floor);

G_END_DECLS
