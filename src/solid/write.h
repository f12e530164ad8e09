// SPDX-License-Identifier: GPL-3.0-or-later
// Meshes out: binary STL and 3MF, both in millimetres.
#pragma once

#include "solid/mesh.h"

G_BEGIN_DECLS

// Atomic; replaces an existing file only if `replace`.
gboolean solid_write_stl(const SolidMesh *mesh, const char *path, gboolean replace, GError **error);

// A 3MF package that says its unit, with one object called `name` (plain words; NULL: none). The
// same bytes for the same mesh and name. Atomic; replaces an existing file only if `replace`.
gboolean solid_write_3mf(const SolidMesh *mesh, const char *name, const char *path,
                         gboolean replace, GError **error);

// Moves a file written on the same disk into its place, at once; replaces an existing file only if
// `replace`.
gboolean solid_write_move(const char *from, const char *to, gboolean replace, GError **error);

G_END_DECLS
