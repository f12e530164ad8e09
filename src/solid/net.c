// SPDX-License-Identifier: GPL-3.0-or-later
// The net over a region's surface, layer of cubes by layer of cubes. A cube has a vertex for each
// piece of surface in it, and an edge between two cell middles that the surface crosses has a
// quadrilateral between the four cubes round it.
#include "solid/net-private.h"

#include "base/large.h"

#define AHEAD 4 // rows
#define FITS 3
#define FURTHER 1.1

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
        net->vertices[net_map_vertex(net->map, i, j, k, q)] = vec3_add(vec3(i, j, k), at);
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

static gsize
count_layer(const NetMap *map, int k)
{
    gsize n = 0;
    guint64 crossed[3];
    for (int j = 0; j + 1 < map->ny; j++)
        for (gsize w = 0; w < map->words; w++)
            if (net_find_crossed(map, j, k, w, crossed))
                for (int axis = 0; axis < 3; axis++)
                    n += (gsize)__builtin_popcountll(crossed[axis]);
    return n;
}

// The first vertex of each cube of two layers: those below and above a layer of cell middles.
typedef struct {
    guint32 *of[2]; // [ j*nx + i ]; unset where the surface does not run
} Numbers;

static void
number_layer(const NetMap *map, int k, guint32 *of)
{
    for (int j = 0; j + 1 < map->ny && k >= 0; j++)
        for (gsize w = 0; w < map->words; w++) {
            gsize at = net_map_row(map, j, k) + w;
            guint32 vertex = map->first[at];
            for (guint64 left = map->active[at]; left; left &= left - 1)
                of[(gsize)j * map->nx + 64 * w + (gsize)__builtin_ctzll(left)] = vertex++;
        }
}

// Corners anticlockwise seen from the end of the edge; faces that end if the start is in the
// region.
static NetQuad
make_quad(const Net *net, const Numbers *numbers, int i, int j, int k, int axis)
{
    const NetMap *map = net->map;
    double share = find_share(net, i, j, k, axis);
    NetQuad quad;
    quad.crossing[0] = (float)(axis == 0 ? i + share : i);
    quad.crossing[1] = (float)(axis == 1 ? j + share : j);
    quad.crossing[2] = (float)(axis == 2 ? k + share : k);
    gboolean in = net_map_in(map, i, j, k);
    for (int c = 0; c < 4; c++) {
        int at[3] = {i, j, k}, du = c == 0 || c == 3, dv = c < 2;
        at[(axis + 1) % 3] -= du;
        at[(axis + 2) % 3] -= dv;
        guint32 vertex = numbers->of[at[2] - k + 1][(gsize)at[1] * map->nx + at[0]];
        if (net_map_many(map, at[0], at[1], at[2])) {
            int p = net_map_patch(map, at[0], at[1], at[2]).of[4 * axis + du + 2 * dv];
            vertex = net_map_vertex(map, at[0], at[1], at[2], p);
        }
        quad.corner[in ? c : (4 - c) % 4] = vertex;
    }
    return quad;
}

static void
add_shift(Net *net, const NetQuad *quad, const float way[3])
{
    for (int c = 0; c < 4; c++) {
        NetShift *shift = &net->shifts[quad->corner[c]];
        for (int v = 0; v < 3; v++)
            shift->sum[v] += way[v];
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
        for (guint64 left = net_find_crossed(net->map, j, k, w, crossed); left; left &= left - 1) {
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
    gsize layer = (gsize)net->map->nx * net->map->ny;
    g_autofree guint32 *of = g_new(guint32, 2 * layer);
    Numbers numbers = {{of, of + layer}};
    number_layer(net->map, k - 1, numbers.of[0]);
    number_layer(net->map, k, numbers.of[1]);
    NetQuad *quad = net->quads + net->first[k];
    guint64 crossed[3];
    for (int j = 0; j + 1 < net->map->ny; j++) {
        if (j + AHEAD + 1 < net->map->ny)
            fetch_row(net, j + AHEAD, k);
        for (gsize w = 0; w < net->map->words; w++)
            for (guint64 left = net_find_crossed(net->map, j, k, w, crossed); left;
                 left &= left - 1) {
                int bit = __builtin_ctzll(left);
                for (int axis = 0; axis < 3; axis++)
                    if (crossed[axis] >> bit & 1) {
                        *quad = make_quad(net, &numbers, 64 * (int)w + bit, j, k, axis);
                        add_shift(net, quad, quad->crossing);
                        quad++;
                    }
            }
    }
}

void
net_run_layers(Net *net, void (*run)(Net *net, int k))
{
    for (int odd = 0; odd < 2; odd++) {
#pragma omp parallel for schedule(dynamic, 4)
        for (int k = odd; k < net->g->nz - 1; k += 2)
            if (!progress_stopped(net->progress))
                run(net, k);
    }
}

// What the middle of a quadrilateral misses its crossing by, along its normal.
static void
find_miss(const Vec3 *v, const NetQuad *quad, float miss[3])
{
    const guint32 *c = quad->corner;
    Vec3 a = vec3_add(v[c[0]], v[c[2]]), b = vec3_add(v[c[1]], v[c[3]]);
    Vec3 way = vec3_sub(net_find_crossing(quad), vec3_scale(vec3_add(a, b), 0.25));
    Vec3 n = vec3_cross(vec3_sub(v[c[2]], v[c[0]]), vec3_sub(v[c[3]], v[c[1]]));
    double nn = vec3_dot(n, n), along = nn > 0 ? vec3_dot(n, way) / nn : 0;
    miss[0] = (float)(along * n.x);
    miss[1] = (float)(along * n.y);
    miss[2] = (float)(along * n.z);
}

static void
fit_layer(Net *net, int k)
{
    float miss[3];
    for (gsize q = net->first[k]; q < net->first[k + 1]; q++) {
        find_miss(net->vertices, &net->quads[q], miss);
        add_shift(net, &net->quads[q], miss);
    }
}

// By `further` times the means of their shifts, which start again from nothing.
static void
move_vertices(Net *net, double further)
{
#pragma omp parallel for schedule(static)
    for (guint32 i = 0; i < net->map->n; i++) {
        NetShift *shift = &net->shifts[i];
        if (shift->count > 0 && !(net->fast && net->fast[i])) {
            double share = further / shift->count;
            Vec3 *at = &net->vertices[i];
            *at = vec3(at->x + share * (double)shift->sum[0], at->y + share * (double)shift->sum[1],
                       at->z + share * (double)shift->sum[2]);
        }
        *shift = (NetShift){{0, 0, 0}, 0};
    }
}

// From cells to metres.
static void
scale_vertices(Net *net)
{
    const SolidGrid *g = net->g;
#pragma omp parallel for schedule(static)
    for (guint32 i = 0; i < net->map->n; i++)
        net->vertices[i] = vec3_add(g->origin, vec3_scale(net->vertices[i], g->cell));
}

// A vertex starts at the mean of the crossings about it. A mean of points of a curved surface lies
// below it: each round moves the vertices by what the middles of the quadrilaterals about them miss
// their crossings by, along the surface's normal. One round that goes a little further leaves as
// little of a ball's volume missing as three plain ones, but draws the surface less evenly.
static void
fill_net(Net *net)
{
    net_run_layers(net, fill_layer);
    int rounds = net->form.sharp ? FITS : 1;
    for (int round = 0; round <= rounds; round++) {
        if (round > 0)
            net_run_layers(net, fit_layer);
        move_vertices(net, round > 0 && rounds == 1 ? FURTHER : 1);
        if (round == 0)
            place_outermost(net);
        if (round == 0 && net->form.sharp)
            net_sharpen(net);
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
    g_autofree NetQuad *quads = large_new((n + 1) * sizeof *quads);
    g_autofree NetShift *shifts = large_new0(((gsize)map->n + 1) * sizeof *shifts);
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
    net_cut(&net, mesh);
    scale_vertices(&net);
    return g_steal_pointer(&mesh);
}
