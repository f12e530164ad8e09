// SPDX-License-Identifier: GPL-3.0-or-later
// Writes a mesh in every format the readers know, so that tests can read it back, spoil it and
// hand it to others. Coordinates are written in millimetres.
#pragma once

#include "check.h"

G_BEGIN_DECLS

typedef enum {
    MESH_STL_BINARY,
    MESH_STL_TEXT,
    MESH_OBJ,
    MESH_PLY_TEXT,
    MESH_PLY_LITTLE,
    MESH_PLY_BIG,
    MESH_3MF,
    MESH_KINDS,
} MeshKind;

extern const char *const mesh_kind_names[MESH_KINDS]; // "box.stl" and the like

GByteArray *mesh_text(const SolidMesh *mesh, MeshKind kind);
void mesh_text_add(GByteArray *to, const char *format, ...) G_GNUC_PRINTF(2, 3);

// A 3MF package: its relationships name 3D/3dmodel.model; entries are name, text, ..., NULL.
GByteArray *mesh_package(const char *name, ...) G_GNUC_NULL_TERMINATED;
// The XML of a model around `inside`, which stands between <model ...> and </model>.
char *mesh_model_xml(const char *attributes, const char *inside);
// <object id="..."><mesh>...</mesh></object>
char *mesh_object_xml(const SolidMesh *mesh, const char *id);
extern const char *const mesh_relationships;

// Fails the test unless both have the same triangles, in the same order, within `relative` of the
// size of the whole.
void mesh_check_same(const SolidMesh *a, const SolidMesh *b, double relative);
// Volume, summed here and in long double, m3.
long double mesh_volume(const SolidMesh *mesh);

G_END_DECLS
