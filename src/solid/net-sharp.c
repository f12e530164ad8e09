// SPDX-License-Identifier: GPL-3.0-or-later
// Sharpening a net: the planes of the surface at its crossings are summed up about each vertex, and
// a vertex whose planes are not those of one smooth surface goes to where they meet.
#include "solid/net-private.h"

#define OUTSIDE 0.5 // cells

// Adds the plane of the surface at a crossing to the sums of the four vertices round it.
static void
add_plane(Net *net, const NetQuad *quad, int i, int j, int k, int axis)
{
    Vec3 normal = net->form.lean ? net->form.lean(net->form.data, i, j, k, axis)
                                 : solid_net_normal(net->g, i, j, k, axis);
    if (!(vec3_dot(normal, normal) > 0))
        return;
    for (int c = 0; c < 4; c++) {
        Vec3 way = vec3_sub(net_find_crossing(quad), net->vertices[quad->corner[c]]);
        net_corner_add(&net->corners[quad->corner[c]], way, normal);
    }
}

static void
plane_layer(Net *net, int k)
{
    const NetQuad *quad = net->quads + net->first[k];
    guint64 crossed[3];
    for (int j = 0; j + 1 < net->map->ny; j++)
        for (gsize w = 0; w < net->map->words; w++)
            for (guint64 left = net_find_crossed(net->map, j, k, w, crossed); left;
                 left &= left - 1) {
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
    Vec3 move, *at = &net->vertices[vertex];
    if (!net_corner_solve(&net->corners[vertex], &move))
        return;
    gboolean left = FALSE;
    double share = hold_near(vec3_sub(*at, vec3(i, j, k)), move, &left);
    net->corners[vertex].move = vec3_scale(move, share);
    *at = vec3_add(*at, net->corners[vertex].move);
    net->fast[vertex] = left ? FAST_OUTSIDE : FAST_WITHIN;
}

void
net_sharpen(Net *net)
{
    const NetMap *map = net->map;
    net_run_layers(net, plane_layer);
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
