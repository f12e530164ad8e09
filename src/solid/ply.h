// SPDX-License-Identifier: GPL-3.0-or-later
// Private to solid/: the header of a PLY file, which says what its body is made of.
#pragma once

#include "solid/read-job.h"
#include "solid/scan.h"

G_BEGIN_DECLS

typedef enum {
    PLY_TEXT,
    PLY_LITTLE,
    PLY_BIG,
} PlyFormat;

typedef enum {
    PLY_I8,
    PLY_U8,
    PLY_I16,
    PLY_U16,
    PLY_I32,
    PLY_U32,
    PLY_F32,
    PLY_F64,
    PLY_NONE,
} PlyType;

// What a property is for.
typedef enum {
    PLY_OTHER,
    PLY_X,
    PLY_Y,
    PLY_Z,
    PLY_CORNERS,
} PlyRole;

typedef struct {
    PlyType type;
    PlyType count; // PLY_NONE unless a list
    PlyRole role;
} PlyProperty;

typedef enum {
    PLY_SKIPPED,
    PLY_VERTEX,
    PLY_FACE,
} PlyKind;

#define PLY_MAX_PROPERTIES 128
#define PLY_MAX_ELEMENTS 32

typedef struct {
    PlyKind kind;
    guint64 count;
    guint n_properties;
    PlyProperty properties[PLY_MAX_PROPERTIES];
} PlyElement;

typedef struct {
    PlyFormat format;
    guint n_elements;
    PlyElement elements[PLY_MAX_ELEMENTS];
} PlyHeader;

// Leaves `scan` at the first byte after the line "end_header".
gboolean solid_ply_header(const SolidReadJob *job, SolidScan *scan, PlyHeader *header,
                          GError **error);
gsize solid_ply_size(PlyType type); // bytes

G_END_DECLS
