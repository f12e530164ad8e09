// SPDX-License-Identifier: GPL-3.0-or-later
// Sand that really stands round the cavities of a layout, from their outlines.
#pragma once

#include "mould/layout.h"

G_BEGIN_DECLS

// Fills cover_wall and cover_between with their places, from `outline` (about the casting's box
// middle, made larger by `scale`) set at every cavity, with risers, runners, sprue and well. Seen
// along the pull: what lies in different halves of the mould counts as if in one, on the safe side.
// cover_between is NAN for a layout without a cavity.
void mould_cover_measure(MouldLayout *layout, const SolidOutline *outline, double scale);

// Least distance, m, of two closed polygons' edges, with where.
double mould_polygon_distance(const SolidPoint *a, guint na, const SolidPoint *b, guint nb,
                              SolidPoint *on_a, SolidPoint *on_b);

G_END_DECLS
