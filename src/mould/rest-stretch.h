// SPDX-License-Identifier: GPL-3.0-or-later
// Where along a runner a casting may stand: inside the walls, and past what stands there; private
// to rest*.c and mixed*.c. All seen from one side of the runner, as in rest-shape.h.
#pragma once

#include "mould/rest-shape.h"

G_BEGIN_DECLS

typedef struct {
    double low, high;
} RestStretch;

// Where a casting's u may be so that its outline, moved by `off` (m) away from the runner, stays
// `share` (m) inside the walls, and so do the runner's ends at `gate`, both seen from its u. The
// outline's last loop, the line of the gate, does not count. low > high when nowhere.
RestStretch rest_stretch_room(const MouldWish *wish, double share, RestSide side,
                              const SolidOutline *whole, double off, RestStretch gate);

// Adds to `bans` (of RestStretch) the u that `it`, which stands at `u`, takes from `mine`: exact
// for outlines that are kept from ever passing each other, or by their boxes.
void rest_stretch_ban(GArray *bans, const SolidOutline *it, double u, const SolidOutline *mine,
                      double sand);
void rest_stretch_ban_box(GArray *bans, const SolidOutline *it, double u, const SolidOutline *mine,
                          double sand);

// The least u from `from` on that no stretch takes.
double rest_stretch_pass(const GArray *bans, double from);

G_END_DECLS
