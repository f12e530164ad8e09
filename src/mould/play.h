// SPDX-License-Identifier: GPL-3.0-or-later
// What the clearance of index tabs or pins lets a cope do: slide by (tx, ty) and turn by a, both
// small, so that a point (x, y) moves by (tx - a y, ty + a x); a squared is left out, far less than
// a micrometre. A tab touches its socket with its corners, so every corner's movement is bounded
// along x and along y, and together that is a small linear programme in three unknowns. A round pin
// bounds the length of its middle's movement. Solved exactly, not by trying.
#pragma once

#include "mould/layout.h"

G_BEGIN_DECLS

// m; a cope out of line with its drag by more than this at the frame is seen by eye and lifted off
// again (common practice, no source). Wrong closings are looked for only up to it.
#define MOULD_NOTICE 0.005

// The most the cope may turn either way, rad. Unbounded (INFINITY) for tabs all in one point.
double mould_play_turn(const MouldTab *tabs, guint n, double clearance);

// The greatest movement, m, of the point (x, y) over all sliding and turning that is left.
double mould_play_shift(const MouldTab *tabs, guint n, double clearance, double x, double y);

// The greatest movement of any of `points`, of which only the outermost matter.
double mould_play_shift_most(const MouldTab *tabs, guint n, double clearance,
                             const SolidPoint *points, guint n_points);

// Outermost points of a set, anticlockwise; `hull` has room for all. How many.
guint mould_play_hull(const SolidPoint *points, guint n, SolidPoint *hull);

// A way to put the cope on: its tab at (x, y) comes to (xx x + xy y, yx x + yy y).
typedef struct {
    int xx, xy, yx, yy;
} MouldTurn;

// The least clearance, m, with which every tab, brought over by `way`, lies in a socket, whatever
// tab in whatever socket, when cope and drag are out of line by no more than MOULD_NOTICE; negative
// when it fits with room to spare. Which half has the tabs makes no difference: the ways undo
// themselves, or come in pairs that undo each other.
double mould_play_closes(const MouldTab *tabs, guint n, const MouldTurn *way);

G_END_DECLS
