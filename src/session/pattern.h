// SPDX-License-Identifier: GPL-3.0-or-later
// The ways to fill a crucible with moulds. Private to session/.
#pragma once

#include "session/floor.h"

G_BEGIN_DECLS

// Furnaces that are alike: one set of patterns and one account of time serves them all.
typedef struct {
    int furnace; // the first of them
    int n;
} SessionAlike;

// Groups furnaces whose crucibles hold and melt alike and that warm up alike; returns how many
// groups.
int session_alike(const SessionFloor *floor, SessionAlike alike[SESSION_MOST_FURNACES]);

typedef struct {
    SessionLoad load; // full: no mould more would go in
    int alike;        // the group it is for
} SessionPattern;

// All full loads for each group, of at most `counts` moulds of each kind and `most` in all, of
// SessionPattern. NULL when they are too many to list.
GArray *session_patterns(const SessionFloor *floor, const SessionAlike *alike, int n_alike,
                         const int *counts, int most);

G_END_DECLS
