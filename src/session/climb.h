// SPDX-License-Identifier: GPL-3.0-or-later
// The order of many loads made better step by step. Private to session/.
#pragma once

#include "session/lay.h"

G_BEGIN_DECLS

// Times the hours: what ends within so much may be made to keep them by another order.
#define SESSION_NEAR 1.1

// The session that misses its hours by least, as it was laid out.
typedef struct {
    GArray *loads; // of SessionLoad, in their order; NULL: none misses by so little
    SessionWay way;
    double length;
} SessionNear;

void session_near_clear(SessionNear *near);
// Keeps what the plan was laid out from if it is nearer than what is kept.
void session_near_keep(SessionNear *near, const SessionFloor *floor, const SessionPlan *plan,
                       const GArray *loads, const SessionWay *way);

// Takes one load after another out of the order and puts it elsewhere, or tries another way, and
// keeps what pours its last sooner, until the session keeps its hours: then it is in *plan, which
// else stays NULL. A fixed number of steps; the same beginning gives the same answer. FALSE only
// when stopped.
gboolean session_climb(const SessionFloor *floor, const SessionNear *near, SessionPlan **plan,
                       Progress *progress, GError **error);

G_END_DECLS
