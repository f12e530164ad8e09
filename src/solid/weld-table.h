// SPDX-License-Identifier: GPL-3.0-or-later
// Private to solid/: the table that gives points with the same bits one number, fed in blocks so
// that memory is fetched before it is needed, and the stream of loose triangles built on it.
#pragma once

#include "solid/mesh.h"

G_BEGIN_DECLS

typedef struct {
    guint64 *slots; // upper half: hash; lower half: number + 1; 0 is free
    guint32 mask;
    guint64 seed;
    Vec3 *vertices; // what has been numbered so far, in order of first appearance
    guint32 n_vertices;
    guint32 capacity;
} SolidWeldTable;

// `expected` is a guess at the number of different points; a bad one costs time only.
void solid_weld_table_init(SolidWeldTable *table, guint32 expected);
void solid_weld_table_clear(SolidWeldTable *table);

// Numbers n points (any n); numbers[i] < table->n_vertices. -0 counts, and is kept, as 0.
void solid_weld_table_add(SolidWeldTable *table, const Vec3 *points, gsize n, guint32 *numbers);

// solid_mesh_weld() that can be stopped.
SolidMesh *solid_weld(const SolidMesh *mesh, Progress *progress, GError **error);

#define SOLID_SOUP_BLOCK 1536 // corners; a multiple of 3

// Loose triangles on their way to a welded mesh.
typedef struct {
    SolidWeldTable table;
    guint32 (*triangles)[3];
    guint32 n_triangles; // already welded
    guint32 capacity;
    Vec3 pending[SOLID_SOUP_BLOCK];
    guint n_pending;
} SolidSoup;

SolidSoup *solid_soup_new(guint32 expected_triangles);
void solid_soup_free(SolidSoup *soup);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(SolidSoup, solid_soup_free)
void solid_soup_flush(SolidSoup *soup);
// The welded mesh; the soup is empty afterwards. Corners must be a multiple of three.
SolidMesh *solid_soup_end(SolidSoup *soup);

static inline void
solid_soup_corner(SolidSoup *soup, Vec3 corner)
{
    soup->pending[soup->n_pending++] = corner;
    if (soup->n_pending == SOLID_SOUP_BLOCK)
        solid_soup_flush(soup);
}

static inline guint32
solid_soup_count(const SolidSoup *soup)
{
    return soup->n_triangles + soup->n_pending / 3;
}

G_END_DECLS
