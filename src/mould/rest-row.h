// SPDX-License-Identifier: GPL-3.0-or-later
// A row of castings on one side of a straight runner, filled round what stands there; private to
// rest.c.
#pragma once

#include "mould/rest-stretch.h"
#include "mould/rest.h"

G_BEGIN_DECLS

#define REST_WAYS (2 * MOULD_STANCES)

typedef struct {
    MouldStance stance;
    SolidOutline *plain, *whole; // front side at v = front; whole has the gate down to the runner
    gboolean barred;             // not tried: others are fed better
    double front;                // m, of the casting from the runner's middle
    double attach;               // u of the gate
} RestWay;

typedef struct {
    const MouldRestTask *task;
    const MouldFixed *own; // of what is placed: the host's or the guest's
    const MouldWish *wish; // its
    gboolean guest;
    const Progress *progress;
    RestWay ways[REST_WAYS];    // those of the second half are those of the first turned by half
    int n_ways;                 // of the first half
    double shift[REST_WAYS][2]; // to the same way, and to the one turned by half
    double front;               // m, what ways were made for
    MouldKept kept;             // of the runner and its sprue
    double past;                // m, of the runner beyond the last gate
    double margin;              // m, by which skins may lie outside of their outlines
} RestRow;

// Ways of standing, and how close, beside a runner for which `needed` is kept at least, and that
// goes on for `past` (m) beyond the last gate.
void rest_row_size(RestRow *row, MouldKept needed, double past);
void rest_row_clear(RestRow *row);
// Both sides of a line filled round `there`, up to `most` in all; what was there comes first. An
// array of PlacementSpot. `push` (m) is how much further than `front` rows stand at +v and at -v.
GArray *rest_row_fill(const RestRow *row, int axis, double v, const GArray *there, guint most,
                      const double push[2]);

// Adds to `push` what the spots from the `first` on lack of the sand to a sprue at `sprue_u` along
// the runner. TRUE when they lacked none.
gboolean rest_row_past_sprue(const RestRow *row, int axis, double v, const GArray *spots,
                             guint first, double sprue_u, double push[2]);

G_END_DECLS
