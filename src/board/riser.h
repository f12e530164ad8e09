// SPDX-License-Identifier: GPL-3.0-or-later
// Risers as patterns. A blind one hangs on its half pattern and draws with it. An open one goes
// through the cope's top, where it would draw the sand with it: only its foot hangs on the half
// pattern, and on that stands a loose pin, wider above, that is drawn up before the cope is lifted.
#pragma once

#include "board/pieces.h"

G_BEGIN_DECLS

// Height over the parting, m, up to which the riser hangs on the half pattern: all of a blind one,
// the foot of an open one, as high as neck and gate there. `guest`: of the other job's risers.
double board_riser_foot(const MouldLayout *layout, gboolean guest);

// Depth, m, of the hole for the pin's dowel in that foot; 0 without a pin, or when a dowel is too
// wide for it.
double board_riser_hole(const BoardWork *work, gboolean guest);

// The pins of open risers of both jobs; nothing without.
gboolean board_add_risers(BoardWork *work, GError **error);

G_END_DECLS
