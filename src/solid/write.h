// SPDX-License-Identifier: GPL-3.0-or-later
// Meshes out: binary STL in millimetres.
#pragma once

#include "solid/mesh.h"

G_BEGIN_DECLS

// Atomic; replaces an existing file only if `replace`.
gboolean solid_write_stl(const SolidMesh *mesh, const char *path, gboolean replace, GError **error);

G_END_DECLS
