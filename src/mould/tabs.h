// SPDX-License-Identifier: GPL-3.0-or-later
// Index tabs or pins: where they stand, and whether the flask closes one way only. How far cope and
// drag can be out of register is in play.h.
//
//   +--[1]-----------[0]----+    four near the corners, in the sand at the wall; the one at
//   |                       |    (+x, +y) stands further in, so that neither a cope turned end for
//   |                       |    end nor one turned over finds all its sockets
//   +--[2]--------------[3]-+
//
// Three leave out the corner (+x, +y), and only a square flask needs one of them shifted. Two stand
// in the corners (+x, +y) and (-x, -y), and the first is longer: shifting does not help, since half
// a turn brings any two equal tabs onto each other. In a square flask it also stands further in.
#pragma once

#include "mould/play.h"

G_BEGIN_DECLS

typedef struct {
    double length, width; // m, inside of the flask
    double cover;         // m, sand at the wall
    guint count;          // 2 to 4
    gboolean pins;        // round
    gboolean in_round;    // in the square that a round flask just holds
    double size;  // m, along the wall, or a pin's diameter; NAN: what the cover has room for
    double inset; // m, from the wall to a tab's middle; NAN: in the middle of the cover
    double shift; // m, of the odd one, or how much longer it is of two; NAN: ample
} MouldTabWish;

// Clearance that must be lacking, m, for a flask to be sure not to close the wrong way when it is
// pressed on in sand; common practice, no source.
#define MOULD_TAB_MARGIN 0.001

// Fills `tabs`. Returns how many, or 0 when the sand at the wall leaves no room (under 2.5 mm of
// tab, or a tab in the wall).
guint mould_tabs_place(const MouldTabWish *wish, MouldTab tabs[4]);

// Ways to close wrongly: half a turn, turned over lengthwise and crosswise; a square flask also by
// quarter turns and turned over cornerwise. Swapping cope and drag adds none: the whole mould
// upside down closes as it does upright, and only the sprue tells which half is up.
guint mould_tabs_wrong_ways(double length, double width, const MouldTurn **ways);

// How many of them `clearance` lets close.
guint mould_tabs_wrong(const MouldTab *tabs, guint n_tabs, double clearance, double length,
                       double width);

// The least clearance, m, with which any of them closes.
double mould_tabs_closes_at(const MouldTab *tabs, guint n_tabs, double length, double width);

// Closes one way only, in a flask that is not square.
gboolean mould_tabs_one_way(const MouldTab *tabs, guint n_tabs, double clearance);

// The least shift, m, to half a millimetre, with which no wrong way closes with less than
// `clearance` and MOULD_TAB_MARGIN; NAN when there is none.
double mould_tabs_least_shift(const MouldTabWish *wish, double clearance);

G_END_DECLS
