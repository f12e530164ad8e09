// SPDX-License-Identifier: GPL-3.0-or-later
// A triangle mesh in metres, vertices shared after welding.
#pragma once

#include <glib.h>

#include "base/progress.h"
#include "solid/vec.h"

G_BEGIN_DECLS

#define SOLID_MAX_TRIANGLES 20000000u

// Plain arrays; built by a reader, never changed after welding. Reference-counted.
typedef struct {
    Vec3 *vertices; // m
    guint32 n_vertices;
    guint32 (*triangles)[3];
    guint32 n_triangles;
} SolidMesh;

SolidMesh *solid_mesh_new(guint32 n_vertices, guint32 n_triangles); // arrays allocated, zeroed
SolidMesh *solid_mesh_ref(const SolidMesh *mesh);
void solid_mesh_unref(const SolidMesh *mesh);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(SolidMesh, solid_mesh_unref)

// Vertices with the same bits (-0 counts as 0) become one; triangles keep their order.
SolidMesh *solid_mesh_weld(const SolidMesh *mesh);

// The same skin with every triangle turned round: inside becomes outside.
SolidMesh *solid_mesh_flipped(const SolidMesh *mesh);

// m' = R m (rows of R), then + shift.
SolidMesh *solid_mesh_transformed(const SolidMesh *mesh, const double rotation[9], Vec3 shift);

// Outward unit normals at the vertices, each the mean of the triangles about it by their area.
// Free.
Vec3 *solid_mesh_normals(const SolidMesh *mesh);

G_END_DECLS
