// SPDX-License-Identifier: GPL-3.0-or-later
// Is a mesh the skin of a solid? Open, non-manifold, flipped and degenerate places, with where.
#pragma once

#include "solid/mesh.h"

G_BEGIN_DECLS

typedef struct {
    guint open_edges;     // edges with one triangle
    guint overfull_edges; // edges with more than two
    guint flipped_edges;  // two triangles that run along it the same way
    guint degenerate;     // triangles with zero area or a repeated vertex
    guint duplicates;     // triangles that stand twice
    guint shells;         // connected pieces
    guint hollows;    // closed shells that face the other way than the whole: voids in the metal
    guint inside_out; // 1 if the whole has negative volume
    gboolean closed;  // every edge has two triangles that run along it in opposite ways
    Vec3 where;       // middle of the first bad edge; m
    gboolean has_where;
} SolidCheck;

// O(n) by a counting sort of edges on their lower vertex. The mesh must be welded.
SolidCheck solid_check(const SolidMesh *mesh);

// A sentence for people, in millimetres: "12 open edges, the first near 10.0, 4.2, 0.0 mm". Free.
char *solid_check_words(const SolidCheck *check);

G_END_DECLS
