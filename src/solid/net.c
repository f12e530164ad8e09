// SPDX-License-Identifier: GPL-3.0-or-later
// The net over a region's surface, layer of cubes by layer of cubes. Cube (i,j,k) has the cell
// middles (i..i+1, j..j+1, k..k+1) as its corners.
#include "solid/net.h"

#include <string.h>

typedef struct {
    const SolidGrid *g;
    SolidNetRise rise;
    gconstpointer data;
    GArray *vertices;      // Vec3
    GArray *triangles;     // guint32[3]
    guint32 *below, *here; // vertex of each cube in the layer below and in this one
} Net;

static gboolean
is_in(const SolidGrid *g, gsize at)
{
    return g->value[at] <= 0;
}

static double
find_share(const Net *net, gsize a, gsize b, gboolean along_z, int k)
{
    if (along_z && net->rise)
        return net->rise(net->data, a, b, k);
    return net->g->value[a] / ((double)net->g->value[a] - net->g->value[b]);
}

// The mean crossing of the cube's twelve edges, in cells from its lower corner; FALSE if none.
static gboolean
find_vertex(const Net *net, int i, int j, int k, Vec3 *vertex)
{
    const SolidGrid *g = net->g;
    gsize corner = solid_grid_index(g, i, j, k);
    gsize step[3] = {1, (gsize)g->nx, (gsize)g->nx * g->ny};
    Vec3 sum = vec3(0, 0, 0);
    int n = 0;
    for (int axis = 0; axis < 3; axis++)
        for (int e = 0; e < 4; e++) {
            int u = (axis + 1) % 3, v = (axis + 2) % 3;
            double p[3];
            p[u] = e & 1;
            p[v] = e >> 1;
            gsize a = corner + (e & 1) * step[u] + (gsize)(e >> 1) * step[v], b = a + step[axis];
            if (is_in(g, a) == is_in(g, b))
                continue;
            p[axis] = find_share(net, a, b, axis == 2, k);
            sum = vec3_add(sum, vec3(p[0], p[1], p[2]));
            n++;
        }
    if (n == 0)
        return FALSE;
    *vertex = vec3_scale(sum, 1.0 / n);
    return TRUE;
}

static void
add_vertices(Net *net, int k)
{
    const SolidGrid *g = net->g;
    for (int j = 0; j + 1 < g->ny; j++)
        for (int i = 0; i + 1 < g->nx; i++) {
            Vec3 v;
            guint32 *slot = &net->here[(gsize)j * g->nx + i];
            *slot = G_MAXUINT32;
            if (!find_vertex(net, i, j, k, &v))
                continue;
            v = vec3(g->origin.x + (i + v.x) * g->cell, g->origin.y + (j + v.y) * g->cell,
                     g->origin.z + (k + v.z) * g->cell);
            *slot = net->vertices->len;
            g_array_append_val(net->vertices, v);
        }
}

static void
add_triangle(Net *net, guint32 a, guint32 b, guint32 c)
{
    guint32 t[3] = {a, b, c};
    g_array_append_vals(net->triangles, t, 1);
}

// Corners anticlockwise seen from the end of the edge; faces that end if the start is in the
// region. Cut along the shorter diagonal.
static void
add_quad(Net *net, guint32 a, guint32 b, guint32 c, guint32 d, gboolean start_in)
{
    const Vec3 *v = (const Vec3 *)(gpointer)net->vertices->data;
    if (!start_in) {
        guint32 t = b;
        b = d;
        d = t;
    }
    Vec3 ac = vec3_sub(v[a], v[c]), bd = vec3_sub(v[b], v[d]);
    if (vec3_dot(ac, ac) <= vec3_dot(bd, bd)) {
        add_triangle(net, a, b, c);
        add_triangle(net, a, c, d);
    } else {
        add_triangle(net, a, b, d);
        add_triangle(net, b, c, d);
    }
}

// The quadrilaterals round the edges that start at the cell middles of layer k.
static void
add_quads(Net *net, int k)
{
    const SolidGrid *g = net->g;
    gsize nx = (gsize)g->nx, nxy = nx * g->ny;
    for (int j = 1; j + 1 < g->ny; j++)
        for (int i = 1; i + 1 < g->nx; i++) {
            gsize a = solid_grid_index(g, i, j, k), c = (gsize)j * nx + i;
            gboolean in = is_in(g, a);
            const guint32 *h = net->here, *b = net->below;
            if (k > 0 && in != is_in(g, a + 1))
                add_quad(net, b[c - nx], b[c], h[c], h[c - nx], in);
            if (k > 0 && in != is_in(g, a + nx))
                add_quad(net, b[c - 1], h[c - 1], h[c], b[c], in);
            if (in != is_in(g, a + nxy))
                add_quad(net, h[c - nx - 1], h[c - nx], h[c], h[c - 1], in);
        }
}

SolidMesh *
solid_net(const SolidGrid *field, SolidNetRise rise, gconstpointer data)
{
    gsize layer = (gsize)field->nx * field->ny;
    g_autofree guint32 *one = g_new(guint32, layer), *two = g_new(guint32, layer);
    g_autoptr(GArray) vertices = g_array_new(FALSE, FALSE, sizeof(Vec3));
    g_autoptr(GArray) triangles = g_array_new(FALSE, FALSE, 3 * sizeof(guint32));
    Net net = {field, rise, data, vertices, triangles, one, two};
    for (int k = 0; k + 1 < field->nz; k++) {
        guint32 *swap = net.below;
        net.below = net.here;
        net.here = swap;
        add_vertices(&net, k);
        add_quads(&net, k);
    }
    SolidMesh *mesh = solid_mesh_new(vertices->len, triangles->len);
    if (vertices->len > 0)
        memcpy(mesh->vertices, vertices->data, vertices->len * sizeof(Vec3));
    if (triangles->len > 0)
        memcpy(mesh->triangles, triangles->data, (gsize)triangles->len * 3 * sizeof(guint32));
    return mesh;
}
