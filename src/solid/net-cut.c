// SPDX-License-Identifier: GPL-3.0-or-later
// Cutting a net into triangles, and taking back the vertices on edges that fold it.
#include <string.h>

#include "solid/net-private.h"

#define UNFOLDS 4
#define SLIVER 0.1 // cells squared, twice the area of a fold that does no harm

// Does the triangle face against the surface about its corners? A sliver may.
static gboolean
is_folded(const Net *net, const guint32 c[3])
{
    const Vec3 *v = net->vertices;
    Vec3 n = vec3_cross(vec3_sub(v[c[1]], v[c[0]]), vec3_sub(v[c[2]], v[c[0]]));
    Vec3 surface = vec3(0, 0, 0);
    for (int i = 0; i < 3; i++)
        surface = vec3_add(surface, vec3_unit(net->corners[c[i]].normal));
    return vec3_dot(n, surface) < -SLIVER;
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
        net_run_layers(net, mark_folds);
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

void
net_cut(Net *net, SolidMesh *mesh)
{
    if (net->fast)
        unfold(net);
#pragma omp parallel for schedule(static)
    for (guint32 q = 0; q < mesh->n_triangles / 2; q++) {
        guint32 pair[2][3];
        cut_quad(net, net->quads[q].corner, pair);
        memcpy(mesh->triangles[2 * (gsize)q], pair, sizeof pair);
    }
}
