// SPDX-License-Identifier: GPL-3.0-or-later
// Planes through part, rough casting and what lies between: outlines, areas, and what a point is.
#pragma once

#include "part/pattern.h"

G_BEGIN_DECLS

// What a plane cuts: outlines of the bodies, one within the other, and what each adds.
typedef struct {
    int axis;                        // 0, 1, 2: the plane x, y or z = at
    double at;                       // m, mould axes
    SolidOutline *body[CAUSE_COUNT]; // NULL: no more than the one before; points as solid/section.h
    double area[CAUSE_COUNT];        // m2 that each cause adds; they sum to the casting's
} CauseCut;

// The part is cut as a mesh, exactly; when its shells overlap, on its grid.
CauseCut cause_cut(const PatternResult *pattern, int axis, double at);
void cause_cut_clear(CauseCut *cut);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(CauseCut, cause_cut_clear)

// Which cause a point of the plane belongs to; CAUSE_COUNT outside the metal. `thickness` (or NULL)
// takes the shortest way (m) through the point, in the plane, that stays within the cause's metal.
Cause cause_cut_at(const CauseCut *cut, SolidPoint point, double *thickness);

G_END_DECLS
