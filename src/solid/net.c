// SPDX-License-Identifier: GPL-3.0-or-later
// The net over a region's surface, layer of cubes by layer of cubes. A cube has a vertex for each
// piece of surface in it, and an edge between two cell middles that the surface crosses has a
// quadrilateral between the four cubes round it.
#include "solid/net.h"

#include <string.h>

#include "solid/net-map.h"

#define AHEAD 4 // rows

// One piece of the net and the crossing it was made for.
typedef struct {
    guint32 corner[4];
    Vec3 crossing;
} Quad;

// What is to be added to a vertex, or what it is the mean of.
typedef struct {
    Vec3 sum;
    guint32 count;
} Shift;

typedef struct {
    const SolidGrid *g;
    SolidNetRise rise;
    gconstpointer data;
    NetMap *map;
    Vec3 *vertices;
    Shift *shifts; // one a vertex
    Quad *quads;
    gsize *first; // [ k ] quads before layer k
    Progress *progress;
} Net;

static double
find_share(const Net *net, gsize a, gsize b, int axis, int k)
{
    if (axis == 2 && net->rise)
        return net->rise(net->data, a, b, k);
    return net->g->value[a] / ((double)net->g->value[a] - net->g->value[b]);
}

// A cube at the edge of the grid, where crossed edges may have no quadrilateral: the mean crossing
// of the edges that belong to each piece.
static void
place_vertices(Net *net, int i, int j, int k)
{
    const SolidGrid *g = net->g;
    gsize cube = solid_grid_index(g, i, j, k);
    gsize step[3] = {1, (gsize)g->nx, (gsize)g->nx * g->ny};
    NetPatch patch = net_map_patch(net->map, i, j, k);
    Vec3 sum[4] = {{0, 0, 0}, {0, 0, 0}, {0, 0, 0}, {0, 0, 0}};
    int n[4] = {0, 0, 0, 0};
    for (int e = 0; e < 12; e++) {
        int q = patch.of[e], axis = e / 4, u = (axis + 1) % 3, v = (axis + 2) % 3;
        if (q == NET_NO_PATCH)
            continue;
        double p[3];
        p[u] = e & 1;
        p[v] = e >> 1 & 1;
        gsize a = cube + (gsize)(e & 1) * step[u] + (gsize)(e >> 1 & 1) * step[v];
        p[axis] = find_share(net, a, a + step[axis], axis, k);
        sum[q] = vec3_add(sum[q], vec3(p[0], p[1], p[2]));
        n[q]++;
    }
    for (int q = 0; q < patch.n; q++) {
        Vec3 at = vec3_scale(sum[q], 1.0 / n[q]);
        net->vertices[net_map_vertex(net->map, i, j, k, q)] = vec3(
            g->origin.x + (i + at.x) * g->cell, g->origin.y + (j + at.y) * g->cell,
            g->origin.z + (k + at.z) * g->cell);
    }
}

static void
place_outermost(Net *net)
{
    const NetMap *map = net->map;
    for (int k = 0; k + 1 < map->nz; k++)
        for (int j = 0; j + 1 < map->ny; j++) {
            gboolean all = k == 0 || k + 2 == map->nz || j == 0 || j + 2 == map->ny;
            for (int i = 0; i + 1 < map->nx; i += all ? 1 : MAX(1, map->nx - 2))
                if (map->active[net_map_row(map, j, k) + i / 64] >> i % 64 & 1)
                    place_vertices(net, i, j, k);
        }
}

// Edges along each axis, of 64 of a row's cells, that the surface crosses and that have four cubes.
static guint64
find_crossed(const NetMap *map, int j, int k, gsize w, guint64 crossed[3])
{
    const guint64 *row = map->in + net_map_row(map, j, k);
    guint64 next = w + 1 < map->words ? row[w + 1] << 63 : 0, valid = ~G_GUINT64_CONSTANT(0);
    int cells = map->nx - 1 - 64 * (int)w;
    if (cells < 64)
        valid = cells > 0 ? (G_GUINT64_CONSTANT(1) << cells) - 1 : 0;
    guint64 inner = w > 0 ? valid : valid & ~G_GUINT64_CONSTANT(1);
    crossed[0] = j > 0 && k > 0 ? (row[w] ^ (row[w] >> 1 | next)) & valid : 0;
    crossed[1] = k > 0 ? (row[w] ^ map->in[net_map_row(map, j + 1, k) + w]) & inner : 0;
    crossed[2] = j > 0 ? (row[w] ^ map->in[net_map_row(map, j, k + 1) + w]) & inner : 0;
    return crossed[0] | crossed[1] | crossed[2];
}

static gsize
count_layer(const NetMap *map, int k)
{
    gsize n = 0;
    guint64 crossed[3];
    for (int j = 0; j + 1 < map->ny; j++)
        for (gsize w = 0; w < map->words; w++)
            if (find_crossed(map, j, k, w, crossed))
                for (int axis = 0; axis < 3; axis++)
                    n += (gsize)__builtin_popcountll(crossed[axis]);
    return n;
}

// Corners anticlockwise seen from the end of the edge; faces that end if the start is in the
// region.
static Quad
make_quad(const Net *net, int i, int j, int k, int axis)
{
    const SolidGrid *g = net->g;
    const NetMap *map = net->map;
    gsize step[3] = {1, (gsize)g->nx, (gsize)g->nx * g->ny};
    gsize a = solid_grid_index(g, i, j, k);
    double share = find_share(net, a, a + step[axis], axis, k) * g->cell;
    Quad quad;
    quad.crossing = vec3(g->origin.x + i * g->cell + (axis == 0 ? share : 0),
                         g->origin.y + j * g->cell + (axis == 1 ? share : 0),
                         g->origin.z + k * g->cell + (axis == 2 ? share : 0));
    gboolean in = net_map_in(map, i, j, k);
    for (int c = 0; c < 4; c++) {
        int at[3] = {i, j, k}, du = c == 0 || c == 3, dv = c < 2, p = 0;
        at[(axis + 1) % 3] -= du;
        at[(axis + 2) % 3] -= dv;
        if (net_map_many(map, at[0], at[1], at[2]))
            p = net_map_patch(map, at[0], at[1], at[2]).of[4 * axis + du + 2 * dv];
        quad.corner[in ? c : (4 - c) % 4] = net_map_vertex(map, at[0], at[1], at[2], p);
    }
    return quad;
}

static void
add_shift(Net *net, const Quad *quad, Vec3 way)
{
    for (int c = 0; c < 4; c++) {
        Shift *shift = &net->shifts[quad->corner[c]];
        shift->sum = vec3_add(shift->sum, way);
        shift->count++;
    }
}

// Asks for what a row further on will read, since a crossing lies far from the last in memory.
static void
fetch_row(const Net *net, int j, int k)
{
    const SolidGrid *g = net->g;
    gsize row = solid_grid_index(g, 0, j, k), step[3] = {0, (gsize)g->nx, (gsize)g->nx * g->ny};
    guint64 crossed[3];
    for (gsize w = 0; w < net->map->words; w++)
        for (guint64 left = find_crossed(net->map, j, k, w, crossed); left; left &= left - 1) {
            int bit = __builtin_ctzll(left);
            for (int axis = 0; axis < 3; axis++)
                if (axis == 0 || crossed[axis] >> bit & 1)
                    __builtin_prefetch(g->value + row + 64 * w + (gsize)bit + step[axis]);
        }
}

// The quadrilaterals round the edges that start at the cell middles of layer k.
static void
fill_layer(Net *net, int k)
{
    Quad *quad = net->quads + net->first[k];
    guint64 crossed[3];
    for (int j = 0; j + 1 < net->map->ny; j++) {
        if (j + AHEAD + 1 < net->map->ny)
            fetch_row(net, j + AHEAD, k);
        for (gsize w = 0; w < net->map->words; w++)
            for (guint64 left = find_crossed(net->map, j, k, w, crossed); left; left &= left - 1) {
                int bit = __builtin_ctzll(left);
                for (int axis = 0; axis < 3; axis++)
                    if (crossed[axis] >> bit & 1) {
                        *quad = make_quad(net, 64 * (int)w + bit, j, k, axis);
                        add_shift(net, quad, quad->crossing);
                        quad++;
                    }
            }
    }
}

static Vec3
find_miss(const Vec3 *v, const Quad *quad)
{
    const guint32 *c = quad->corner;
    Vec3 middle = vec3_scale(vec3_add(vec3_add(v[c[0]], v[c[1]]), vec3_add(v[c[2]], v[c[3]])),
                             0.25);
    Vec3 n = vec3_cross(vec3_sub(v[c[2]], v[c[0]]), vec3_sub(v[c[3]], v[c[1]]));
    double nn = vec3_dot(n, n);
    return nn > 0 ? vec3_scale(n, vec3_dot(n, vec3_sub(quad->crossing, middle)) / nn)
                  : vec3(0, 0, 0);
}

static void
fit_layer(Net *net, int k)
{
    for (gsize q = net->first[k]; q < net->first[k + 1]; q++)
        add_shift(net, &net->quads[q], find_miss(net->vertices, &net->quads[q]));
}

// Runs a layer's work for all layers. A layer's quadrilaterals touch only its own vertices and
// those of the layer before, so that every other layer may run at a time.
static void
run_layers(Net *net, void (*run)(Net *net, int k))
{
    for (int odd = 0; odd < 2; odd++) {
#pragma omp parallel for schedule(dynamic, 4)
        for (int k = odd; k < net->g->nz - 1; k += 2)
            if (!progress_stopped(net->progress))
                run(net, k);
    }
}

// By the means of their shifts, which start again from nothing.
static void
move_vertices(Net *net)
{
#pragma omp parallel for schedule(static)
    for (guint32 i = 0; i < net->map->n; i++) {
        Shift *shift = &net->shifts[i];
        if (shift->count > 0)
            net->vertices[i] = vec3_add(net->vertices[i],
                                        vec3_scale(shift->sum, 1.0 / shift->count));
        *shift = (Shift){{0, 0, 0}, 0};
    }
}

// A vertex starts at the mean of the crossings about it. A mean of points of a curved surface lies
// below it: each round moves the vertices by what the middles of the quadrilaterals about them miss
// their crossings by, along the surface's normal.
static void
fill_net(Net *net)
{
    run_layers(net, fill_layer);
    for (int round = 0; round < 4; round++) {
        if (round > 0)
            run_layers(net, fit_layer);
        move_vertices(net);
        if (round == 0)
            place_outermost(net);
    }
}

// Two triangles a quadrilateral, cut along the shorter diagonal.
static void
cut_quads(const Net *net, SolidMesh *mesh)
{
    const Vec3 *v = net->vertices;
#pragma omp parallel for schedule(static)
    for (guint32 q = 0; q < mesh->n_triangles / 2; q++) {
        const guint32 *c = net->quads[q].corner;
        Vec3 one = vec3_sub(v[c[0]], v[c[2]]), two = vec3_sub(v[c[1]], v[c[3]]);
        int s = vec3_dot(one, one) <= vec3_dot(two, two) ? 0 : 1;
        guint32 pair[2][3] = {{c[s], c[s + 1], c[s + 2]}, {c[s], c[s + 2], c[(s + 3) % 4]}};
        memcpy(mesh->triangles[2 * (gsize)q], pair, sizeof pair);
    }
}

SolidMesh *
solid_net(const SolidGrid *field, SolidNetRise rise, gconstpointer data, Progress *progress,
          GError **error)
{
    g_autoptr(NetMap) map = net_map_new(field);
    g_autofree gsize *first = g_new0(gsize, (gsize)field->nz + 1);
    if (!progress_check(progress, error))
        return NULL;
#pragma omp parallel for schedule(dynamic, 4)
    for (int k = 0; k < field->nz - 1; k++)
        first[k + 1] = count_layer(map, k);
    for (int k = 1; k < field->nz; k++)
        first[k] += first[k - 1];
    gsize n = first[field->nz - 1];
    g_autofree Quad *quads = g_new(Quad, n + 1);
    g_autofree Shift *shifts = g_new0(Shift, (gsize)map->n + 1);
    g_autoptr(SolidMesh) mesh = solid_mesh_new(map->n, 2 * (guint32)n);
    Net net = {field, rise, data, map, mesh->vertices, shifts, quads, first, progress};
    fill_net(&net);
    if (!progress_check(progress, error))
        return NULL;
    cut_quads(&net, mesh);
    return g_steal_pointer(&mesh);
}
