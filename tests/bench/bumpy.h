// SPDX-License-Identifier: GPL-3.0-or-later
// A closed sphere with bumps, of any number of triangles: the part that benchmarks are made with.
#pragma once

#include "solid/mesh.h"

G_BEGIN_DECLS

// About `triangles` triangles; radius in m.
SolidMesh *bumpy_sphere(guint32 triangles, double radius);

G_END_DECLS
