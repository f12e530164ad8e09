// SPDX-License-Identifier: GPL-3.0-or-later
// Holes for dowels in a piece's field: in its foot and across cuts. Inside board/ only.
#pragma once

#include "board/cut.h"

G_BEGIN_DECLS

// Takes a rod out of the field and adds it to `holes`, of BoardHole.
void drill_hole(SolidGrid *field, Vec3 a, Vec3 b, double radius, GArray *holes);

// Up to two holes across cut number `cut` of an axis, the plane below cells `at`: where the guide
// has them if there is room, else far from each other. How many.
guint drill_joint(SolidGrid *field, int axis, int cut, int at, const CutOptions *options,
                  CutRecord *record, GArray *holes);

// The same for the foot of part `number`, as deep as there is room; fills its dowels.
void drill_foot(SolidGrid *field, const CutOptions *options, guint number, CutPart *part,
                GArray *holes);

G_END_DECLS
