// SPDX-License-Identifier: GPL-3.0-or-later
// Every order of work there is, for few moulds: the earliest last pour, proved.
#pragma once

#include "session/lay.h"

G_BEGIN_DECLS

// So many moulds at most are tried in every order.
#define SESSION_EXACT_MOULDS 5

typedef struct {
    SessionPlan *session; // better than asked, or NULL
    gboolean proved;      // every order was seen or ruled out
    double bound;         // when proved: no session of these moulds has its last pour sooner
    guint nodes;          // how many beginnings of a session were looked at
} SessionExact;

// FALSE for too many moulds, for pins, and where sand is short.
gboolean session_exact_is_small(const SessionFloor *floor, const int *counts);

// Looks for a session of these moulds whose last pour ends before `least` and lets the hours be
// kept; gives up after a fixed number of steps. Branch and bound over the order in which work is
// begun: each beginning of a session is a list of tasks, each with its hands, its furnace, box,
// bench and places, and starts as soon as what it waits for is over; a charge moves back as far as
// its metal would else be held too long. FALSE only when stopped.
gboolean session_exact(const SessionFloor *floor, const int *counts, double least,
                       SessionExact *exact, Progress *progress, GError **error);

G_END_DECLS
