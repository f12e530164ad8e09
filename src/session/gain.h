// SPDX-License-Identifier: GPL-3.0-or-later
// What one more of each thing would bring on a floor of several kinds: the day planned again.
#pragma once

#include "session/bottleneck.h"

G_BEGIN_DECLS

typedef struct {
    gboolean asked[SESSION_MORE_COUNT]; // FALSE: there is no limit to it
    double gain[SESSION_MORE_COUNT];    // worth, 0 or more
    SessionMore which; // what brings most; the hours, or a light that cuts them short, when nothing
                       // brings anything
} SessionGains;

// The floor with a little more of one thing, when it pours so many moulds of each kind.
// SESSION_MORE_FLASK is a box of the kind of which fewest stand ready for its moulds;
// SESSION_MORE_CRUCIBLE gives each crucible room for one more of the heaviest mould it may hold;
// SESSION_MORE_PERSON brings a bench where there are no more benches than people;
// SESSION_MORE_SAND is sand for the mould that takes most.
SessionFloor session_floor_richer(const SessionFloor *floor, const int *counts, SessionMore more);

// `now` is what session_floor_most() gives for the floor. FALSE only when stopped.
gboolean session_gains_find(const SessionFloor *floor, const SessionMost *now, SessionGains *gains,
                            Progress *progress, GError **error);

G_END_DECLS
