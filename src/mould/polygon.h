// SPDX-License-Identifier: GPL-3.0-or-later
// Closed polygons in the plane, for arranging outlines.
#pragma once

#include "solid/section.h"

G_BEGIN_DECLS

// Least distance, m, of two closed polygons' edges, with where; 0 when they cross.
double mould_polygon_distance(const SolidPoint *a, guint na, const SolidPoint *b, guint nb,
                              SolidPoint *on_a, SolidPoint *on_b);

G_END_DECLS
