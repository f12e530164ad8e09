// SPDX-License-Identifier: GPL-3.0-or-later
// A closed sphere with bumps, of any number of triangles: the part that benchmarks are made with.
#pragma once

#include "solid/mesh.h"

G_BEGIN_DECLS

// rings x sides vertices and two poles: 2 sides rings triangles, in strips.
SolidMesh *bumpy_rings(guint32 rings, guint32 sides, double radius);
// About `triangles` triangles; radius in m.
SolidMesh *bumpy_sphere(guint32 triangles, double radius);

G_END_DECLS
