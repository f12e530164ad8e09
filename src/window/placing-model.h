// SPDX-License-Identifier: GPL-3.0-or-later
// Where the cavities of a flask stand while a person moves them: what a command does to the spots,
// and what a moved one snaps to. Knows no GTK. Lengths m, turns rad, flask axes.
#pragma once

#include "mould/layout.h"

G_BEGIN_DECLS

#define PLACING_TURN (G_PI / 12) // 15 degrees

// The spots of a layout with the locks of `text` (job.placement; NULL or "" for none). What was
// typed is taken as typed. An array of PlacementSpot.
GArray *placing_spots(const MouldLayout *layout, const char *text, const UnitSet *units);

// To the next multiple of 15 degrees, on (1) or back (-1).
void placing_turn(PlacementSpot *spot, int way);
// Across the runner, with its gate where it is: turned by half a turn about the gate's start.
gboolean placing_mirror(const MouldLayout *layout, GArray *spots, guint index);
// A spot for one more, beside `index` or else anywhere, where all the sand asked for stays. FALSE
// when there is none: the spot then lies over `index`, a little aside.
gboolean placing_beside(const MouldLayout *layout, const GArray *spots, guint index, double sprue_x,
                        double sprue_y, PlacementSpot *beside);
// Where one more goes among the spots: before the guests, or last.
guint placing_next(const GArray *spots, gboolean guest);
// Moves all of the same row (along x) or column onto the middle line of `index`, locked ones left
// out. How many moved.
guint placing_align(const MouldLayout *layout, GArray *spots, guint index, gboolean column);

typedef struct {
    SolidPoint from, to; // flask axes
} PlacingGuide;

typedef struct {
    SolidPoint at;
    PlacingGuide guides[2];
    guint n_guides;
} PlacingSnap;

// Where (x, y) comes to within `reach`: the flask's centre lines, the middles of other cavities and
// their images across the runner. `index` is the one that moves; spots->len for the sprue.
PlacingSnap placing_snap(const MouldLayout *layout, const GArray *spots, guint index, double x,
                         double y, double reach);

G_END_DECLS
