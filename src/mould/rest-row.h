// SPDX-License-Identifier: GPL-3.0-or-later
// A row of castings on one side of a straight runner, filled round what stands there; private to
// rest.c.
#pragma once

#include "mould/rest.h"

G_BEGIN_DECLS

#define REST_SIMPLER 6e-5 // m, by which outlines lose detail
#define REST_WAYS (2 * MOULD_STANCES)

typedef struct {
    MouldStance stance;
    SolidOutline *plain, *whole; // front side at v = front; whole has the gate down to v = 0
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
    double half, past;          // m, of the runner; beyond the last gate
    double margin;              // m, by which skins may lie outside of their outlines
} RestRow;

// By how much a casting's skin may lie outside of its outline, m: as far as its box does, and a
// little.
double rest_row_margin(const MouldFixed *fixed);
// What sand and lean of a wall take of the flask, m.
double rest_row_share(const MouldWish *wish);
// Ways of standing, and how close, beside a runner as wide as `pour` asks for.
void rest_row_size(RestRow *row, const MouldPour *pour);
void rest_row_clear(RestRow *row);
// Both sides of a line filled round `there`, up to `most` in all; what was there comes first. An
// array of PlacementSpot.
GArray *rest_row_fill(const RestRow *row, int axis, double v, const GArray *there, guint most);

G_END_DECLS
