// SPDX-License-Identifier: GPL-3.0-or-later
// The line of a runner between cavities that do not move.
#pragma once

#include "mould/fixed.h"

G_BEGIN_DECLS

typedef struct {
    double x, y, turn; // flask axes
    double u, v;       // the same along and across the runner
    gboolean guest;
    int side;                                 // 1 at +v of the runner, -1 at -v
    MouldStance stance;                       // as seen from the runner: front faces it
    double gate_u, attach_v, riser_v, gate_v; // where the gate's line, the casting, riser, gate end
} FixedPiece;

typedef struct {
    int axis;
    double v; // of the runner
    FixedPiece *pieces;
    guint n, missing; // gates that miss
    double cost;      // m, the less the better: length of gates, and room that lacks
} FixedLine;

// The best line along `axis`; at `v` unless that is NAN.
FixedLine *fixed_line_find(const MouldFixed *fixed, const PlacementSpot *spots, guint n, int axis,
                           double v, const MouldPour *pour);
void fixed_line_free(FixedLine *line); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(FixedLine, fixed_line_free)

G_END_DECLS
