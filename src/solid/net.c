// SPDX-License-Identifier: GPL-3.0-or-later
// The net over a region's surface, layer of cubes by layer of cubes. Cube (i,j,k) has the cell
// middles (i..i+1, j..j+1, k..k+1) as its corners.
#include "solid/net.h"

#include "solid/quads.h"

typedef struct {
    const SolidGrid *g;
    SolidNetRise rise;
    gconstpointer data;
    GArray *vertices;      // Vec3
    GArray *quads;         // SolidQuad
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

// Corners anticlockwise seen from the end of the edge; faces that end if the start is in the
// region.
static void
add_quad(Net *net, int i, int j, int k, int axis, const guint32 corner[4])
{
    const SolidGrid *g = net->g;
    gsize step[3] = {1, (gsize)g->nx, (gsize)g->nx * g->ny};
    gsize a = solid_grid_index(g, i, j, k), b = a + step[axis];
    if (is_in(g, a) == is_in(g, b))
        return;
    double share = find_share(net, a, b, axis == 2, k) * g->cell;
    Vec3 at = vec3(g->origin.x + i * g->cell + (axis == 0 ? share : 0),
                   g->origin.y + j * g->cell + (axis == 1 ? share : 0),
                   g->origin.z + k * g->cell + (axis == 2 ? share : 0));
    gboolean in = is_in(g, a);
    SolidQuad quad = {{corner[0], corner[in ? 1 : 3], corner[2], corner[in ? 3 : 1]}, at, FALSE};
    g_array_append_val(net->quads, quad);
}

// The quadrilaterals round the edges that start at the cell middles of layer k.
static void
add_quads(Net *net, int k)
{
    const SolidGrid *g = net->g;
    gsize nx = (gsize)g->nx;
    const guint32 *h = net->here, *b = net->below;
    for (int j = 1; j + 1 < g->ny; j++)
        for (int i = 1; i + 1 < g->nx; i++) {
            gsize c = (gsize)j * nx + i;
            if (k > 0) {
                add_quad(net, i, j, k, 0, (guint32[4]){b[c - nx], b[c], h[c], h[c - nx]});
                add_quad(net, i, j, k, 1, (guint32[4]){b[c - 1], h[c - 1], h[c], b[c]});
            }
            add_quad(net, i, j, k, 2, (guint32[4]){h[c - nx - 1], h[c - nx], h[c], h[c - 1]});
        }
}

SolidMesh *
solid_net(const SolidGrid *field, SolidNetRise rise, gconstpointer data, Progress *progress,
          GError **error)
{
    gsize layer = (gsize)field->nx * field->ny;
    g_autofree guint32 *one = g_new(guint32, layer), *two = g_new(guint32, layer);
    g_autoptr(GArray) vertices = g_array_new(FALSE, FALSE, sizeof(Vec3));
    g_autoptr(GArray) quads = g_array_new(FALSE, FALSE, sizeof(SolidQuad));
    Net net = {field, rise, data, vertices, quads, one, two};
    for (int k = 0; k + 1 < field->nz; k++) {
        if (!progress_check(progress, error))
            return NULL;
        guint32 *swap = net.below;
        net.below = net.here;
        net.here = swap;
        add_vertices(&net, k);
        add_quads(&net, k);
    }
    Vec3 *places = (Vec3 *)(gpointer)vertices->data;
    const SolidQuad *pieces = (const SolidQuad *)(gpointer)quads->data;
    solid_quads_fit(places, NULL, vertices->len, pieces, quads->len);
    return solid_quads_mesh(places, vertices->len, pieces, quads->len);
}
