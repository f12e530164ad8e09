// SPDX-License-Identifier: GPL-3.0-or-later
// A skin draws when no triangle's shadow on the board is turned over. A turned shadow is set right
// by the least move of its corners that does it, over and over until all are right: seen from above
// the walls are narrow bands, and their waves are far smaller than a cell.
#include "board/draw.h"

#define MOST_ROUNDS 400
#define MOST_MOVE 0.05  // of a cell, at once
#define LEAST_AREA 1e-7 // of a cell's, twice a triangle's shadow

static gboolean
is_in_hole(Vec3 p, const BoardHole *hole, double room)
{
    Vec3 axis = vec3_sub(hole->b, hole->a), from = vec3_sub(p, hole->a);
    double length = vec3_dot(axis, axis);
    double share = length > 0 ? CLAMP(vec3_dot(from, axis) / length, 0.0, 1.0) : 0;
    return vec3_length(vec3_sub(from, vec3_scale(axis, share))) < hole->radius + room;
}

// Sets one triangle right; TRUE if it was wrong.
static gboolean
turn_up(Vec3 *v[3], const guint8 walls[3], double cell)
{
    double twice = (v[1]->x - v[0]->x) * (v[2]->y - v[0]->y) -
                   (v[1]->y - v[0]->y) * (v[2]->x - v[0]->x);
    if (twice >= 0)
        return FALSE;
    double gx[3], gy[3], sum = 0;
    for (int c = 0; c < 3; c++) {
        const Vec3 *a = v[(c + 1) % 3], *b = v[(c + 2) % 3];
        gx[c] = walls[c] & 1 ? 0 : a->y - b->y;
        gy[c] = walls[c] & 2 ? 0 : b->x - a->x;
        sum += gx[c] * gx[c] + gy[c] * gy[c];
    }
    double longest = 0, step = (LEAST_AREA * cell * cell - twice) / fmax(sum, 1e-12 * cell * cell);
    for (int c = 0; c < 3; c++)
        longest = fmax(longest, step * hypot(gx[c], gy[c]));
    if (longest > MOST_MOVE * cell)
        step *= MOST_MOVE * cell / longest;
    for (int c = 0; c < 3; c++) {
        v[c]->x += step * gx[c];
        v[c]->y += step * gy[c];
    }
    return TRUE;
}

guint
board_draw(SolidMesh *mesh, const guint8 *walls, guint8 *skip, const BoardHole *holes,
           guint n_holes, double cell)
{
    g_autoptr(GArray) list = g_array_new(FALSE, FALSE, sizeof(guint32));
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        gboolean free = skip[t];
        for (guint h = 0; h < n_holes && !free; h++)
            for (int c = 0; c < 3 && !free; c++)
                free = is_in_hole(mesh->vertices[mesh->triangles[t][c]], &holes[h], 0.8 * cell);
        skip[t] = free;
        if (!free)
            g_array_append_val(list, t);
    }
    guint wrong = 1;
    for (int round = 0; round < MOST_ROUNDS && wrong > 0; round++) {
        wrong = 0;
        for (guint i = 0; i < list->len; i++) {
            // To and fro, so that a move is not always handed on the same way.
            guint at = round % 2 ? list->len - 1 - i : i;
            const guint32 *t = mesh->triangles[g_array_index(list, guint32, at)];
            Vec3 *v[3] = {&mesh->vertices[t[0]], &mesh->vertices[t[1]], &mesh->vertices[t[2]]};
            const guint8 w[3] = {walls[t[0]], walls[t[1]], walls[t[2]]};
            wrong += turn_up(v, w, cell);
        }
    }
    return wrong;
}
