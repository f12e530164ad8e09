// SPDX-License-Identifier: GPL-3.0-or-later
// The net over a region's surface, layer of cubes by layer of cubes. Cube (i,j,k) has the cell
// middles (i..i+1, j..j+1, k..k+1) as its corners.
#include "solid/net.h"

#include <string.h>

// One piece of the net and the crossing it was made for.
typedef struct {
    guint32 corner[4];
    Vec3 crossing;
} Quad;

typedef struct {
    const SolidGrid *g;
    SolidNetRise rise;
    gconstpointer data;
    GArray *vertices;      // Vec3
    GArray *quads;         // Quad
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
    Quad quad = {{corner[0], corner[in ? 1 : 3], corner[2], corner[in ? 3 : 1]}, at};
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

// A mean of points of a curved surface lies below it. Each round moves the vertices by what the
// middles of the quadrilaterals about them miss their crossings by, along the surface's normal.
static void
fit_net(Net *net)
{
    Vec3 *v = (Vec3 *)(gpointer)net->vertices->data;
    g_autofree Vec3 *sum = g_new(Vec3, net->vertices->len + 1);
    g_autofree guint8 *count = g_new(guint8, net->vertices->len + 1);
    for (int round = 0; round < 3; round++) {
        memset(sum, 0, net->vertices->len * sizeof *sum);
        memset(count, 0, net->vertices->len);
        for (guint q = 0; q < net->quads->len; q++) {
            const Quad *quad = &g_array_index(net->quads, Quad, q);
            const guint32 *c = quad->corner;
            Vec3 middle = vec3_scale(
                vec3_add(vec3_add(v[c[0]], v[c[1]]), vec3_add(v[c[2]], v[c[3]])), 0.25);
            Vec3 n = vec3_unit(vec3_cross(vec3_sub(v[c[2]], v[c[0]]), vec3_sub(v[c[3]], v[c[1]])));
            Vec3 miss = vec3_scale(n, vec3_dot(n, vec3_sub(quad->crossing, middle)));
            for (int e = 0; e < 4; e++) {
                sum[c[e]] = vec3_add(sum[c[e]], miss);
                count[c[e]]++;
            }
        }
        for (guint i = 0; i < net->vertices->len; i++)
            if (count[i] > 0)
                v[i] = vec3_add(v[i], vec3_scale(sum[i], 1.0 / count[i]));
    }
}

// Two triangles a quadrilateral, cut along the shorter diagonal.
static SolidMesh *
make_mesh(const Net *net)
{
    SolidMesh *mesh = solid_mesh_new(net->vertices->len, 2 * net->quads->len);
    if (net->vertices->len > 0)
        memcpy(mesh->vertices, net->vertices->data, net->vertices->len * sizeof(Vec3));
    const Vec3 *v = mesh->vertices;
    for (guint q = 0; q < net->quads->len; q++) {
        const guint32 *c = g_array_index(net->quads, Quad, q).corner;
        Vec3 one = vec3_sub(v[c[0]], v[c[2]]), two = vec3_sub(v[c[1]], v[c[3]]);
        int s = vec3_dot(one, one) <= vec3_dot(two, two) ? 0 : 1;
        guint32 pair[2][3] = {{c[s], c[s + 1], c[s + 2]}, {c[s], c[s + 2], c[(s + 3) % 4]}};
        memcpy(mesh->triangles[2 * q], pair, sizeof pair);
    }
    return mesh;
}

SolidMesh *
solid_net(const SolidGrid *field, SolidNetRise rise, gconstpointer data, Progress *progress,
          GError **error)
{
    gsize layer = (gsize)field->nx * field->ny;
    g_autofree guint32 *one = g_new(guint32, layer), *two = g_new(guint32, layer);
    g_autoptr(GArray) vertices = g_array_new(FALSE, FALSE, sizeof(Vec3));
    g_autoptr(GArray) quads = g_array_new(FALSE, FALSE, sizeof(Quad));
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
    fit_net(&net);
    return make_mesh(&net);
}
