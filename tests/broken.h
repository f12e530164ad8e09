// SPDX-License-Identifier: GPL-3.0-or-later
// Meshes that are not as they should be, made by code.
#pragma once

#include "check.h"

G_BEGIN_DECLS

// All in one mesh, not welded.
SolidMesh *broken_join(const SolidMesh *a, const SolidMesh *b);
SolidMesh *broken_moved(const SolidMesh *mesh, Vec3 shift);

// Two boxes of 30 x 20 x 10 mm, the second moved by 18, 7, 4 mm: 12 x 13 x 6 mm lie in both.
SolidMesh *broken_overlap(void);
// A five-pointed star of radius r drawn in one stroke, h thick: its pentagon lies within it twice.
SolidMesh *broken_star(double r, double h);
// A box of 30 x 20 x 10 mm and in its middle another of 12 x 8 x 4 mm, facing out or in.
SolidMesh *broken_nested(gboolean hollow);
// Two boxes beside each other, the second facing inwards.
SolidMesh *broken_inward(void);
// Two faces of 40 x 30 mm upon each other.
SolidMesh *broken_sheet(void);
// A box without its last triangle; with one triangle twice; two boxes with one edge in common.
SolidMesh *broken_open(void);
SolidMesh *broken_doubled(void);
SolidMesh *broken_edge(void);
// A cup 30 mm across and 20 mm high, its wall 0.05 mm, its floor 2 mm thick.
SolidMesh *broken_thin_cup(void);

G_END_DECLS
