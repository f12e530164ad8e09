// SPDX-License-Identifier: GPL-3.0-or-later
// Private to solid/: eigenvalues and axes of a symmetric 3 by 3 matrix.
#pragma once

#include <glib.h>

#include "solid/vec.h"

G_BEGIN_DECLS

// Values ascending, axes of unit length, right-handed, the largest component of the first two
// positive. `matrix` is row by row and symmetric.
void solid_principal_axes(const double matrix[3][3], double values[3], Vec3 axes[3]);

G_END_DECLS
