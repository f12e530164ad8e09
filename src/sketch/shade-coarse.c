// SPDX-License-Identifier: GPL-3.0-or-later
// Fewer triangles for a picture that moves: the vertices in one cell of a grid become one, and
// triangles that shrink to a line are left out.
#include "sketch/shade-private.h"

#define CELLS 112 // along the longest side
#define NO_VERTEX G_MAXUINT32

typedef struct {
    int n[3];
    double cell;
    Vec3 low;
} Lattice;

static Lattice
lay_lattice(Vec3 low, Vec3 high)
{
    double size[3] = {high.x - low.x, high.y - low.y, high.z - low.z};
    Lattice l = {.cell = fmax(fmax(size[0], fmax(size[1], size[2])) / CELLS, 1e-12), .low = low};
    for (int a = 0; a < 3; a++)
        l.n[a] = (int)floor(size[a] / l.cell) + 1;
    return l;
}

static gsize
find_cell(const Lattice *l, Vec3 at)
{
    double p[3] = {at.x - l->low.x, at.y - l->low.y, at.z - l->low.z};
    gsize cell = 0;
    for (int a = 2; a >= 0; a--)
        cell = cell * (gsize)l->n[a] + (gsize)CLAMP((int)(p[a] / l->cell), 0, l->n[a] - 1);
    return cell;
}

// Each vertex's new number in `to`; the new vertices are the means of those that became one.
static Vec3 *
merge_vertices(const SolidMesh *mesh, const Lattice *l, guint32 *to, guint32 *n)
{
    gsize cells = (gsize)l->n[0] * (gsize)l->n[1] * (gsize)l->n[2];
    g_autofree guint32 *number = g_new(guint32, cells);
    for (gsize i = 0; i < cells; i++)
        number[i] = NO_VERTEX;
    Vec3 *sums = g_new0(Vec3, (gsize)mesh->n_vertices + 1);
    g_autofree guint32 *counts = g_new0(guint32, (gsize)mesh->n_vertices + 1);
    *n = 0;
    for (guint32 v = 0; v < mesh->n_vertices; v++) {
        guint32 *own = &number[find_cell(l, mesh->vertices[v])];
        if (*own == NO_VERTEX)
            *own = (*n)++;
        to[v] = *own;
        sums[*own] = vec3_add(sums[*own], mesh->vertices[v]);
        counts[*own]++;
    }
    for (guint32 v = 0; v < *n; v++)
        sums[v] = vec3_scale(sums[v], 1.0 / counts[v]);
    return sums;
}

SolidMesh *
shade_coarse(const SolidMesh *mesh, Vec3 low, Vec3 high, guint32 **from)
{
    Lattice lattice = lay_lattice(low, high);
    g_autofree guint32 *to = g_new(guint32, (gsize)mesh->n_vertices + 1);
    guint32 vertices, triangles = 0;
    g_autofree Vec3 *places = merge_vertices(mesh, &lattice, to, &vertices);
    g_autofree guint32 *kept = g_new(guint32, (gsize)mesh->n_triangles + 1);
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        const guint32 *c = mesh->triangles[t];
        if (to[c[0]] != to[c[1]] && to[c[1]] != to[c[2]] && to[c[2]] != to[c[0]])
            kept[triangles++] = t;
    }
    SolidMesh *out = solid_mesh_new(vertices, triangles);
    for (guint32 v = 0; v < vertices; v++)
        out->vertices[v] = places[v];
    for (guint32 t = 0; t < triangles; t++)
        for (int k = 0; k < 3; k++)
            out->triangles[t][k] = to[mesh->triangles[kept[t]][k]];
    *from = g_steal_pointer(&kept);
    return out;
}
