// SPDX-License-Identifier: GPL-3.0-or-later
// Making an outline from growing arrays; for the files of this folder that trace one.
#pragma once

#include "solid/section.h"

G_BEGIN_DECLS

// Takes both arrays: points (SolidPoint) and the index of each loop's first point (guint), without
// the end mark.
SolidOutline *solid_outline_take(GArray *points, GArray *starts);

G_END_DECLS
