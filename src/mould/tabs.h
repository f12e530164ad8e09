// SPDX-License-Identifier: GPL-3.0-or-later
// Index tabs: where they stand, whether the flask closes one way only, and how far cope and drag
// can be out of register.
//
//   +--[1]-----------[0]----+    four near the corners, in the sand at the wall; the one at
//   |                       |    (+x, +y) stands further in, so that neither a cope turned end for
//   |                       |    end nor one turned over finds all its sockets
//   +--[2]--------------[3]-+
#pragma once

#include "mould/layout.h"

G_BEGIN_DECLS

// Fills `tabs` for a flask of inside `length` by `width` with `cover` of sand at the wall. Returns
// how many: 4, or 0 when the cover leaves no room for them (under 2.5 mm of tab).
guint mould_tabs_place(double length, double width, double cover, MouldTab tabs[4]);

// Does every tab, mirrored by sx and sy (1 or -1), find a socket that lets it in with `clearance`
// all round? sx = sy = -1 is a half turn; one of them -1 is a cope turned over.
gboolean mould_tabs_fit(const MouldTab *tabs, guint n_tabs, double clearance, int sx, int sy);

// Closes one way only: fits as it is and in none of the other three ways.
gboolean mould_tabs_one_way(const MouldTab *tabs, guint n_tabs, double clearance);

// Greatest shift, m, of cope against drag at a point (|x|, |y|), over every sliding and turning
// that `clearance` all round lets tabs at (+-reach_x, +-reach_y) do.
double mould_mismatch_at(double clearance, double reach_x, double reach_y, double x, double y);

G_END_DECLS
