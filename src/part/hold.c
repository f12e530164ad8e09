// SPDX-License-Identifier: GPL-3.0-or-later
// The net over the cells knows an edge or a corner of the part only by the cells about it, and may
// miss its tip by some of a cell. The part itself knows better: each of its vertices that lacks
// allowance pushes the triangle nearest to it out by what it lacks.
#include "part/hold.h"

#include "solid/bvh.h"

#define ROUNDS 6
#define CHUNK 4096

// What one vertex of the part asks for.
typedef struct {
    guint32 vertex;
    SolidNearest near;
    Vec3 push; // of the nearest point; zero: it asks for nothing
} Wish;

// Shares (of one) of the corners of a triangle in a point of it.
static void
find_shares(const SolidMesh *mesh, const guint32 c[3], Vec3 p, double share[3])
{
    const Vec3 *v = mesh->vertices;
    Vec3 n = vec3_cross(vec3_sub(v[c[1]], v[c[0]]), vec3_sub(v[c[2]], v[c[0]]));
    double nn = vec3_dot(n, n);
    for (int i = 0; i < 3; i++) {
        Vec3 a = vec3_sub(v[c[(i + 1) % 3]], p), b = vec3_sub(v[c[(i + 2) % 3]], p);
        share[i] = nn > 0 ? CLAMP(vec3_dot(vec3_cross(a, b), n) / nn, 0.0, 1.0) : 1.0 / 3;
    }
}

// Which side of the surface a point lies on is asked of the normal of the corners about the nearest
// point: of one triangle alone it would be wrong beside an edge.
static void
look_up(const SolidMesh *casting, const SolidBvh *bvh, const Vec3 *normals, Vec3 at,
        double allowance, double cell, Wish *wish)
{
    wish->near = solid_bvh_nearest(bvh, at, SOLID_NO_TRIANGLE);
    wish->push = vec3(0, 0, 0);
    if (wish->near.triangle == SOLID_NO_TRIANGLE)
        return;
    const guint32 *c = casting->triangles[wish->near.triangle];
    double share[3];
    find_shares(casting, c, wish->near.point, share);
    Vec3 way = vec3_sub(wish->near.point, at), normal = vec3(0, 0, 0);
    for (int i = 0; i < 3; i++)
        normal = vec3_add(normal, vec3_scale(normals[c[i]], share[i]));
    double inward = vec3_dot(way, normal) >= 0 ? 1 : -1; // 1: the vertex lies in the metal
    double lack = allowance - inward * wish->near.distance;
    if (lack <= HOLD_MISS * cell || lack > cell)
        return;
    Vec3 out = wish->near.distance > 1e-3 * cell ? vec3_scale(vec3_unit(way), inward)
                                                 : vec3_unit(normal);
    wish->push = vec3_scale(out, lack);
}

// Moves the corners so that the nearest point moves by the push; of several pushes on one corner
// the longest counts.
static void
push_triangle(const SolidMesh *casting, const Wish *wish, Vec3 *moves)
{
    const guint32 *c = casting->triangles[wish->near.triangle];
    double share[3], squares = 0;
    find_shares(casting, c, wish->near.point, share);
    for (int i = 0; i < 3; i++)
        squares += share[i] * share[i];
    for (int i = 0; i < 3; i++) {
        Vec3 move = vec3_scale(wish->push, share[i] / squares);
        if (vec3_dot(move, move) > vec3_dot(moves[c[i]], moves[c[i]]))
            moves[c[i]] = move;
    }
}

// One round over the wishes; those fulfilled go. FALSE only when stopped.
static gboolean
push_round(SolidMesh *casting, const SolidMesh *part, double allowance, double cell, GArray *wishes,
           Progress *progress, GError **error)
{
    g_autoptr(SolidBvh) bvh = solid_bvh_new(casting);
    g_autofree Vec3 *normals = solid_mesh_normals(casting);
    g_autofree Vec3 *moves = g_new0(Vec3, (gsize)casting->n_vertices + 1);
    int chunks = (int)(wishes->len / CHUNK) + 1;
#pragma omp parallel for schedule(dynamic)
    for (int chunk = 0; chunk < chunks; chunk++)
        for (guint i = (guint)chunk * CHUNK; i < MIN(wishes->len, (guint)(chunk + 1) * CHUNK);
             i++) {
            Wish *wish = &g_array_index(wishes, Wish, i);
            if (i % 256 == 0 && progress_stopped(progress))
                break;
            look_up(casting, bvh, normals, part->vertices[wish->vertex], allowance, cell, wish);
        }
    if (!progress_check(progress, error))
        return FALSE;
    guint left = 0;
    for (guint i = 0; i < wishes->len; i++) {
        const Wish *wish = &g_array_index(wishes, Wish, i);
        if (!(vec3_dot(wish->push, wish->push) > 0))
            continue;
        push_triangle(casting, wish, moves);
        g_array_index(wishes, Wish, left++) = *wish;
    }
    g_array_set_size(wishes, left);
    for (guint32 v = 0; v < casting->n_vertices; v++)
        casting->vertices[v] = vec3_add(casting->vertices[v], moves[v]);
    return TRUE;
}

gboolean
hold_vertices(SolidMesh *casting, const SolidMesh *part, double allowance, double cell,
              Progress *progress, GError **error)
{
    g_autoptr(GArray) wishes = g_array_new(FALSE, FALSE, sizeof(Wish));
    for (guint32 v = 0; v < part->n_vertices; v++) {
        Wish wish = {.vertex = v};
        g_array_append_val(wishes, wish);
    }
    for (int round = 0; round < ROUNDS && wishes->len > 0; round++)
        if (!push_round(casting, part, allowance, cell, wishes, progress, error))
            return FALSE;
    return TRUE;
}
