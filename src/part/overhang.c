// SPDX-License-Identifier: GPL-3.0-or-later
// A rim of the part between two layers of cells stands sharp in the net, while the wall below it
// was widened only by what the layers themselves know of it. So every vertex of a wall looks along
// the draft, away from the parting, from a step outside the wall: where it meets metal, the wall is
// moved out.
//
//      __            __
//     |  \  rim     |  \      up: away from the parting
//     |  /          |   |
//     | |    ->     |   |
#include "part/overhang.h"

#include "solid/bvh.h"

#define ROUNDS 3
#define STEPS 6
#define WALL 0.5     // least horizontal part of a wall's normal
#define NEAREST 0.75 // cells; nearer to the parting there is nothing to free

// What a vertex sees by.
typedef struct {
    const SolidBvh *bvh;
    Vec3 at, out, way; // out: level, away from the metal; way: along the draft
    double cell;
} View;

static gboolean
meets_metal(const View *view, double step)
{
    Vec3 from = vec3_add(view->at, vec3_scale(view->out, step * view->cell));
    return solid_bvh_ray(view->bvh, from, view->way, 1e-6 * view->cell).triangle !=
           SOLID_NO_TRIANGLE;
}

// How far (cells) the metal beyond hangs over the vertex; 0 when not by more than the least, or by
// a cell and more.
static double
find_overhang(const View *view)
{
    if (!meets_metal(view, OVERHANG_LEAST) || meets_metal(view, 1))
        return 0;
    double low = OVERHANG_LEAST, high = 1;
    for (int i = 0; i < STEPS; i++) {
        double middle = 0.5 * (low + high);
        if (meets_metal(view, middle))
            low = middle;
        else
            high = middle;
    }
    return high;
}

// One round; the number of vertices moved.
static guint
fill_round(SolidMesh *mesh, double parting, double tangent, double cell, Progress *progress)
{
    g_autoptr(SolidBvh) bvh = solid_bvh_new(mesh);
    g_autofree Vec3 *normals = solid_mesh_normals(mesh),
                    *moves = g_new0(Vec3, mesh->n_vertices + 1);
    guint moved = 0;
#pragma omp parallel for schedule(dynamic, 512) reduction(+ : moved)
    for (guint32 v = 0; v < mesh->n_vertices; v++) {
        Vec3 n = normals[v], at = mesh->vertices[v];
        double flat = hypot(n.x, n.y), up = at.z > parting ? 1 : -1;
        if (flat < WALL || fabs(at.z - parting) < NEAREST * cell || progress_stopped(progress))
            continue;
        Vec3 out = vec3(n.x / flat, n.y / flat, 0);
        View view = {bvh, at, out, vec3_unit(vec3(-out.x * tangent, -out.y * tangent, up)), cell};
        double overhang = find_overhang(&view);
        moves[v] = vec3_scale(out, overhang * cell);
        moved += overhang > 0;
    }
    for (guint32 v = 0; v < mesh->n_vertices; v++)
        mesh->vertices[v] = vec3_add(mesh->vertices[v], moves[v]);
    return moved;
}

gboolean
overhang_fill(SolidMesh *mesh, double parting, double tangent, double cell, Progress *progress,
              GError **error)
{
    for (int round = 0; round < ROUNDS; round++) {
        guint moved = fill_round(mesh, parting, tangent, cell, progress);
        if (!progress_check(progress, error))
            return FALSE;
        if (moved == 0)
            break;
    }
    return TRUE;
}
