// SPDX-License-Identifier: GPL-3.0-or-later
// How much of its foot a riser on the casting has metal under.
#pragma once

#include "feed/feed.h"

G_BEGIN_DECLS

// Share of the riser's foot under which there is metal within a tenth of its diameter; `scale` is
// cavity over cold casting.
double feed_seat(const SolidGrid *casting, double scale, const FeedResult *riser);

G_END_DECLS
