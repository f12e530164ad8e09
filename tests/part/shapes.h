// SPDX-License-Identifier: GPL-3.0-or-later
// Parts for the tests of pulls, made by code.
#pragma once

#include "solid/mesh.h"

// A profile (r, z by turns, from the bottom up; r > 0) turned round z.
SolidMesh *shape_turned(const double (*profile)[2], int n, int sides);
// An L of two legs (x long and z high, both `thick`) extruded along y.
SolidMesh *shape_bracket(double x, double z, double thick, double y);
// Two ears, `gap` apart along x, stand on a base; a hole along x goes through both. The shells of
// ears and base overlap by `sunk`. `ear` is an ear's thickness, `y` the width, `z` the ears' height
// over the base, `base` its thickness; the hole's middle lies half-way up.
typedef struct {
    double ear, gap, y, z, base, sunk, hole;
} ShapeClevis;
SolidMesh *shape_clevis(const ShapeClevis *c, int sides);
// Turned by an angle about an axis, and moved.
SolidMesh *shape_rotated(const SolidMesh *mesh, Vec3 axis, double angle, Vec3 shift,
                         double rotation[9]);
