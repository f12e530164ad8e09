// SPDX-License-Identifier: GPL-3.0-or-later
// The net over a region's surface, layer of cubes by layer of cubes. A cube has a vertex for each
// piece of surface in it, and an edge between two cell middles that the surface crosses has a
// quadrilateral between the four cubes round it.
#include "solid/net.h"

#include <string.h>

#include "solid/net-corner.h"
#include "solid/net-map.h"

#define AHEAD 4     // rows
#define OUTSIDE 0.5 // cells
#define UNFOLDS 4
#define SLIVER 0.1

// One piece of the net and the crossing it was made for.
typedef struct {
    guint32 corner[4];
    Vec3 crossing;
} Quad;

// Does a vertex stand on an edge or corner?
enum {
    FAST_NOT,
    FAST_WITHIN,  // in its cube
    FAST_OUTSIDE, // beside its cube
};

// What is to be added to a vertex, or what it is the mean of.
typedef struct {
    Vec3 sum;
    guint32 count;
} Shift;

typedef struct {
    const SolidGrid *g;
    SolidNetForm form;
    NetMap *map;
    Vec3 *vertices;
    Shift *shifts;      // one a vertex
    NetCorner *corners; // one a vertex, NULL unless sharp
    guint8 *fast;       // one a vertex, NULL unless sharp: Fast
    Quad *quads;
    gsize *first; // [ k ] quads before layer k
    Progress *progress;
} Net;

static double
find_share(const Net *net, int i, int j, int k, int axis)
{
    if (axis == 2 && net->form.rise)
        return net->form.rise(net->form.data, i, j, k);
    if (net->form.sharp)
        return solid_net_share(net->g, i, j, k, axis);
    gsize step[3] = {1, (gsize)net->g->nx, (gsize)net->g->nx * net->g->ny};
    const float *a = net->g->value + solid_grid_index(net->g, i, j, k), *b = a + step[axis];
    return *a / ((double)*a - *b);
}

// A cube at the edge of the grid, where crossed edges may have no quadrilateral: the mean crossing
// of the edges that belong to each piece.
static void
place_vertices(Net *net, int i, int j, int k)
{
    const SolidGrid *g = net->g;
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
        int at[3] = {i, j, k};
        at[u] += e & 1;
        at[v] += e >> 1 & 1;
        p[axis] = find_share(net, at[0], at[1], at[2], axis);
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
    double share = find_share(net, i, j, k, axis) * g->cell;
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

// Adds the plane of the surface at a crossing to the sums of the four vertices round it.
static void
add_plane(Net *net, const Quad *quad, int i, int j, int k, int axis)
{
    Vec3 normal = net->form.lean ? net->form.lean(net->form.data, i, j, k, axis)
                                 : solid_net_normal(net->g, i, j, k, axis);
    if (!(vec3_dot(normal, normal) > 0))
        return;
    for (int c = 0; c < 4; c++) {
        Vec3 way = vec3_sub(quad->crossing, net->vertices[quad->corner[c]]);
        net_corner_add(&net->corners[quad->corner[c]], vec3_scale(way, 1 / net->g->cell), normal);
    }
}

static void
plane_layer(Net *net, int k)
{
    const Quad *quad = net->quads + net->first[k];
    guint64 crossed[3];
    for (int j = 0; j + 1 < net->map->ny; j++)
        for (gsize w = 0; w < net->map->words; w++)
            for (guint64 left = find_crossed(net->map, j, k, w, crossed); left; left &= left - 1) {
                int bit = __builtin_ctzll(left);
                for (int axis = 0; axis < 3; axis++)
                    if (crossed[axis] >> bit & 1)
                        add_plane(net, quad++, 64 * (int)w + bit, j, k, axis);
            }
}

// The share of a move that keeps the vertex in its cube or half a cell outside it, where the tip of
// an edge may lie that holds no cell middle. *left: it leaves the cube.
static double
hold_near(Vec3 start, Vec3 move, gboolean *left)
{
    const double from[3] = {start.x, start.y, start.z}, way[3] = {move.x, move.y, move.z};
    double share = 1;
    for (int v = 0; v < 3; v++) {
        double to = from[v] + way[v], end = CLAMP(to, -OUTSIDE, 1 + OUTSIDE);
        *left = *left || to < 0 || to > 1;
        if (end != to)
            share = fmin(share, fmax(0, (end - from[v]) / way[v]));
    }
    return share;
}

static void
sharpen_vertex(Net *net, guint32 vertex, int i, int j, int k)
{
    const SolidGrid *g = net->g;
    Vec3 move, *at = &net->vertices[vertex];
    if (!net_corner_solve(&net->corners[vertex], &move))
        return;
    Vec3 from = vec3_scale(vec3_sub(*at, g->origin), 1 / g->cell);
    gboolean left = FALSE;
    double share = hold_near(vec3_sub(from, vec3(i, j, k)), move, &left);
    net->corners[vertex].move = vec3_scale(move, share * g->cell);
    *at = vec3_add(*at, net->corners[vertex].move);
    net->fast[vertex] = left ? FAST_OUTSIDE : FAST_WITHIN;
}

static void
sharpen_vertices(Net *net)
{
    const NetMap *map = net->map;
    run_layers(net, plane_layer);
#pragma omp parallel for schedule(dynamic, 4)
    for (int k = 0; k < map->nz - 1; k++)
        for (int j = 0; j + 1 < map->ny; j++)
            for (gsize w = 0; w < map->words; w++)
                for (guint64 left = map->active[net_map_row(map, j, k) + w]; left;
                     left &= left - 1) {
                    int i = 64 * (int)w + __builtin_ctzll(left);
                    int n = net_map_many(map, i, j, k) ? net_map_patch(map, i, j, k).n : 1;
                    for (int p = 0; p < n; p++)
                        sharpen_vertex(net, net_map_vertex(map, i, j, k, p), i, j, k);
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

// By the means of their shifts, which start again from nothing.
static void
move_vertices(Net *net)
{
#pragma omp parallel for schedule(static)
    for (guint32 i = 0; i < net->map->n; i++) {
        Shift *shift = &net->shifts[i];
        if (shift->count > 0 && !(net->fast && net->fast[i]))
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
        if (round == 0 && net->form.sharp)
            sharpen_vertices(net);
    }
}

// Does the triangle face against the surface about its corners? A sliver may.
static gboolean
is_folded(const Net *net, const guint32 c[3])
{
    const Vec3 *v = net->vertices;
    Vec3 n = vec3_cross(vec3_sub(v[c[1]], v[c[0]]), vec3_sub(v[c[2]], v[c[0]]));
    Vec3 surface = vec3(0, 0, 0);
    for (int i = 0; i < 3; i++)
        surface = vec3_add(surface, vec3_unit(net->corners[c[i]].normal));
    return vec3_dot(n, surface) < -SLIVER * net->g->cell * net->g->cell;
}

// Two triangles of a quadrilateral, cut from corner s.
static void
cut_from(const guint32 c[4], int s, guint32 pair[2][3])
{
    const guint32 both[2][3] = {{c[s], c[s + 1], c[s + 2]}, {c[s], c[s + 2], c[(s + 3) % 4]}};
    memcpy(pair, both, sizeof both);
}

// Cuts a quadrilateral between two vertices on an edge of the region, else along the shorter
// diagonal; along the other one if that folds and the other does not. FALSE if both fold.
static gboolean
cut_quad(const Net *net, const guint32 c[4], guint32 pair[2][3])
{
    const Vec3 *v = net->vertices;
    Vec3 one = vec3_sub(v[c[0]], v[c[2]]), two = vec3_sub(v[c[1]], v[c[3]]);
    int s = vec3_dot(one, one) <= vec3_dot(two, two) ? 0 : 1;
    if (!net->fast || !(net->fast[c[0]] || net->fast[c[1]] || net->fast[c[2]] || net->fast[c[3]])) {
        cut_from(c, s, pair);
        return TRUE;
    }
    gboolean first = net->fast[c[0]] && net->fast[c[2]];
    if (first != (net->fast[c[1]] && net->fast[c[3]]))
        s = first ? 0 : 1;
    for (int t = 0; t < 2; t++) {
        cut_from(c, (s + t) % 2, pair);
        if (!is_folded(net, pair[0]) && !is_folded(net, pair[1]))
            return TRUE;
    }
    cut_from(c, s, pair);
    return FALSE;
}

static void
mark_folds(Net *net, int k)
{
    for (gsize q = net->first[k]; q < net->first[k + 1]; q++) {
        const guint32 *c = net->quads[q].corner;
        guint32 pair[2][3];
        if (!cut_quad(net, c, pair))
            for (int i = 0; i < 4; i++)
                net->shifts[c[i]].count = 1;
    }
}

// Where a vertex on an edge has gone too far for its neighbours it is taken back, half way at a
// time.
static void
unfold(Net *net)
{
    for (int round = 0; round < UNFOLDS; round++) {
        run_layers(net, mark_folds);
#pragma omp parallel for schedule(static)
        for (guint32 i = 0; i < net->map->n; i++) {
            if (net->shifts[i].count > 0 && net->fast[i] == FAST_OUTSIDE) {
                NetCorner *corner = &net->corners[i];
                corner->move = vec3_scale(corner->move, 0.5);
                net->vertices[i] = vec3_sub(net->vertices[i], corner->move);
            }
            net->shifts[i].count = 0;
        }
    }
}

static void
cut_quads(const Net *net, SolidMesh *mesh)
{
#pragma omp parallel for schedule(static)
    for (guint32 q = 0; q < mesh->n_triangles / 2; q++) {
        guint32 pair[2][3];
        cut_quad(net, net->quads[q].corner, pair);
        memcpy(mesh->triangles[2 * (gsize)q], pair, sizeof pair);
    }
}

SolidMesh *
solid_net(const SolidGrid *field, const SolidNetForm *form, Progress *progress, GError **error)
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
    Net net = {.g = field,
               .form = form ? *form : (SolidNetForm){0},
               .map = map,
               .vertices = mesh->vertices,
               .shifts = shifts,
               .quads = quads,
               .first = first,
               .progress = progress};
    g_autofree NetCorner *corners = net.form.sharp ? g_new0(NetCorner, (gsize)map->n + 1) : NULL;
    g_autofree guint8 *fast = net.form.sharp ? g_new0(guint8, (gsize)map->n + 1) : NULL;
    net.corners = corners;
    net.fast = fast;
    fill_net(&net);
    if (!progress_check(progress, error))
        return NULL;
    if (fast)
        unfold(&net);
    cut_quads(&net, mesh);
    return g_steal_pointer(&mesh);
}
