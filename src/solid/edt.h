// SPDX-License-Identifier: GPL-3.0-or-later
// Which marked cell is nearest to each cell: the transform behind distances on a grid.
#pragma once

#include "solid/grid.h"

G_BEGIN_DECLS

#define SOLID_NO_CELL G_MAXUINT32

// For every cell the index of a nearest cell with set != 0, by exact integer arithmetic;
// SOLID_NO_CELL everywhere when none is set. Free with g_free. NULL with an error when stopped.
guint32 *solid_edt_nearest(const guint8 *set, const SolidGrid *shape, Progress *progress,
                           GError **error);

G_END_DECLS
