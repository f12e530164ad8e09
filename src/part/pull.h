// SPDX-License-Identifier: GPL-3.0-or-later
// Which way the pattern is drawn.
#pragma once

#include "part/envelope.h"

G_BEGIN_DECLS

// Rows of the rotation that turns a unit pull (part axes) to +z: the part's x axis, or its y axis
// for a pull along x, stays in the plane of x and z. Exact for pulls along the axes.
void pull_rotation(Vec3 pull, double rotation[9]);

// Box of a mesh, m.
void pull_box(const SolidMesh *mesh, Vec3 *low, Vec3 *high);

// Edge of the cells (m) for a mesh: `cells` along its longest side with allowance and stub, finer
// for a thin part so that its thinnest side has four, coarser if the casting's grid would pass
// `most` cells.
double pull_cell(const SolidMesh *mesh, const EnvelopeOptions *options, double most);

G_END_DECLS
