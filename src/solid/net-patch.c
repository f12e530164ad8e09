// SPDX-License-Identifier: GPL-3.0-or-later
// On every face of a cube the surface draws lines between crossed edges; edges that lines connect
// belong to one piece. Both cubes at a face draw the same lines, so pieces fit together.
#include "solid/net-patch.h"

#include <string.h>

static int
find_edge(int axis, int corner)
{
    return 4 * axis + (corner >> (axis + 1) % 3 & 1) + 2 * (corner >> (axis + 2) % 3 & 1);
}

// The four edges in turn round a face and the corner each of them starts from.
static void
find_face(int face, int edge[4], int corner[4])
{
    int axis = face / 2, u = (axis + 1) % 3, v = (axis + 2) % 3, base = (face & 1) << axis;
    corner[0] = base;
    corner[1] = base | 1 << u;
    corner[2] = base | 1 << u | 1 << v;
    corner[3] = base | 1 << v;
    edge[0] = find_edge(u, corner[0]);
    edge[1] = find_edge(v, corner[1]);
    edge[2] = find_edge(u, corner[3]);
    edge[3] = find_edge(v, corner[0]);
}

static void
join_edges(guint8 group[12], int a, int b)
{
    guint8 keep = MIN(group[a], group[b]), drop = MAX(group[a], group[b]);
    for (int e = 0; e < 12; e++)
        if (group[e] == drop)
            group[e] = keep;
}

static gboolean
is_in(int corners, int corner)
{
    return corners >> corner & 1;
}

static gboolean
is_ambiguous(int corners, const int corner[4])
{
    gboolean a = is_in(corners, corner[0]), b = is_in(corners, corner[1]);
    return a != b && is_in(corners, corner[2]) == a && is_in(corners, corner[3]) == b;
}

static void
draw_lines(int corners, int face, gboolean turned, guint8 group[12])
{
    int edge[4], corner[4], crossed[4], n = 0;
    find_face(face, edge, corner);
    if (is_ambiguous(corners, corner)) {
        // Cut off corners 0 and 2, or 1 and 3.
        int first = is_in(corners, corner[0]) != turned ? 3 : 0;
        join_edges(group, edge[first], edge[(first + 1) % 4]);
        join_edges(group, edge[(first + 2) % 4], edge[(first + 3) % 4]);
        return;
    }
    for (int e = 0; e < 4; e++)
        if (is_in(corners, corner[e]) != is_in(corners, corner[(e + 1) % 4]))
            crossed[n++] = edge[e];
    if (n == 2)
        join_edges(group, crossed[0], crossed[1]);
}

NetPatch
net_patch(int corners, int turned)
{
    NetPatch patch = {.n = 0};
    guint8 group[12];
    for (int e = 0; e < 12; e++)
        group[e] = (guint8)e;
    for (int face = 0; face < 6; face++)
        draw_lines(corners, face, turned >> face & 1, group);
    memset(patch.of, NET_NO_PATCH, sizeof patch.of);
    for (int axis = 0; axis < 3; axis++)
        for (int corner = 0; corner < 8; corner++) {
            int e = find_edge(axis, corner);
            if (corner >> axis & 1 || is_in(corners, corner) == is_in(corners, corner | 1 << axis))
                continue;
            patch.of[e] = group[e];
        }
    // Numbered by their first edges.
    for (guint8 g = 0; g < 12; g++) {
        gboolean any = FALSE;
        for (int e = g; e < 12; e++)
            if (patch.of[e] == g && group[e] == g) {
                patch.of[e] = patch.n;
                group[e] = NET_NO_PATCH;
                any = TRUE;
            }
        patch.n += any;
    }
    return patch;
}

void
net_patches_init(NetPatches *all)
{
    for (int corners = 0; corners < 256; corners++) {
        all->patch[corners] = net_patch(corners, 0);
        all->ambiguous[corners] = all->joined[corners] = 0;
        for (int face = 0; face < 6; face++) {
            int edge[4], corner[4];
            find_face(face, edge, corner);
            if (!is_ambiguous(corners, corner))
                continue;
            const guint8 *of = all->patch[corners].of;
            all->ambiguous[corners] |= (guint8)(1 << face);
            if (of[edge[0]] == of[edge[2]])
                all->joined[corners] |= (guint8)(1 << face);
        }
    }
}
