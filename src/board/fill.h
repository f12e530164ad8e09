// SPDX-License-Identifier: GPL-3.0-or-later
// Triangles over a plane polygon with holes. Inside board/ only.
#pragma once

#include <glib.h>

#include "solid/section.h"

G_BEGIN_DECLS

// `loops` holds GArrays of guint, indices into `points`: first the outline, anticlockwise, then the
// holes, clockwise, none touching another. Appends three guint for each triangle, anticlockwise;
// every edge of a loop is used once, as it runs, and no other point is put on it. FALSE when the
// loops cross, so that no triangles can be found.
gboolean board_fill(const SolidPoint *points, GPtrArray *loops, GArray *triangles);

G_END_DECLS
