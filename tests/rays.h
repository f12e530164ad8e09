// SPDX-License-Identifier: GPL-3.0-or-later
// Second ways to look at meshes: upright lines through all triangles, the volume of what is above
// or below a plane, and another program's opinion.
#pragma once

#include "check.h"
#include "solid/section.h"

G_BEGIN_DECLS

// Heights at which the upright line through (x, y) meets the mesh, ascending; doubles.
GArray *rays_cross(const SolidMesh *mesh, double x, double y);
gboolean rays_inside(const SolidMesh *mesh, Vec3 point);

// Volume of the closed mesh above (side 1) or below (-1) z = 0, by the flux of z through it.
double rays_half_volume(const SolidMesh *mesh, int side);

// Closed, nothing degenerate, facing out.
void rays_check_closed(const SolidMesh *mesh, const char *what);
// By admesh; FALSE when it is not there.
gboolean rays_check_admesh(const SolidMesh *mesh, const char *what);

// How far (x, y) lies outside of the outline, by every side; 0 inside (crossings of a ray).
double rays_outside(const SolidOutline *outline, double x, double y);

G_END_DECLS
