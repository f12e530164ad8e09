// SPDX-License-Identifier: GPL-3.0-or-later
// The pieces of the runner for a way of arranging: straight arms, or arms that narrow behind every
// place where gates turn off.
#pragma once

#include "mould/place.h"

G_BEGIN_DECLS

// Writes the pieces along u (x1, x2) at v (y1, y2), from the well outwards, first the arm towards
// +u, then the other. `first` is the u of the first column's gate. `pieces` takes two for each
// column at most. Returns how many there are.
//
// A stepped arm keeps its depth; its width is the share of all columns that still lie ahead, at
// least half its depth so that it stays open.
guint mould_runner_pieces(const MouldWish *wish, const MouldWay *way, const MouldPlace *place,
                          double first, MouldChannel *pieces);

// Volume, m3, of all pieces, and the least area over outline, m, of any.
double mould_runner_volume(const MouldWish *wish, const MouldWay *way, const MouldPlace *place,
                           double first, double *modulus);

// Widest piece, m.
double mould_runner_widest(const MouldWish *wish, const MouldWay *way, const MouldPour *pour);

G_END_DECLS
