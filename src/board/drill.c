// SPDX-License-Identifier: GPL-3.0-or-later
// Finding places with room for a hole, and drilling them into the field.
#include "board/drill.h"

#include <string.h>

#include "board/shape.h"

#define DOWEL_WALL 0.0012 // m, least material round a hole
#define SHORTEST_HOLE 0.003

void
drill_hole(SolidGrid *g, Vec3 a, Vec3 b, double radius, GArray *holes)
{
    BoardHole hole = {a, b, radius};
    g_array_append_val(holes, hole);
    double reach = radius + 2 * g->cell;
    int low[3], high[3];
    const double from[3] = {fmin(a.x, b.x), fmin(a.y, b.y), fmin(a.z, b.z)};
    const double to[3] = {fmax(a.x, b.x), fmax(a.y, b.y), fmax(a.z, b.z)};
    const double o[3] = {g->origin.x, g->origin.y, g->origin.z};
    const int size[3] = {g->nx, g->ny, g->nz};
    for (int c = 0; c < 3; c++) {
        low[c] = (int)CLAMP(floor((from[c] - reach - o[c]) / g->cell), 0, size[c] - 1.0);
        high[c] = (int)CLAMP(ceil((to[c] + reach - o[c]) / g->cell), 0, size[c] - 1.0);
    }
    for (int k = low[2]; k <= high[2]; k++)
        for (int j = low[1]; j <= high[1]; j++)
            for (int i = low[0]; i <= high[0]; i++) {
                Vec3 p = vec3(o[0] + i * g->cell, o[1] + j * g->cell, o[2] + k * g->cell);
                float *v = &g->value[solid_grid_index(g, i, j, k)];
                *v = MAX(*v, (float)-board_shape_rod(p, a, b, radius));
            }
}

// Is there enough material about a hole that starts at cell n and runs `cells` cells both ways (or,
// from a foot, one way) along axis? Looks along the hole and, by the distance, about it.
static gboolean
bears_hole(const SolidGrid *g, const int n[3], int axis, int back, int on, double need)
{
    const gsize step[3] = {1, (gsize)g->nx, (gsize)g->nx * g->ny};
    const int size[3] = {g->nx, g->ny, g->nz};
    const int o[3] = {n[0], n[1], n[2]};
    if (n[axis] - back < 0 || n[axis] + on >= size[axis])
        return FALSE;
    // Room about the hole in the two other axes, wherever the distance itself is only a bound.
    int about = (int)ceil(need / g->cell);
    for (int d = -back; d <= on; d++) {
        for (int u = -about; u <= about; u++)
            for (int v = -about; v <= about; v++) {
                if (u * u + v * v > about * about)
                    continue;
                int q[3] = {o[0], o[1], o[2]};
                q[axis] += d;
                q[(axis + 1) % 3] += u;
                q[(axis + 2) % 3] += v;
                // Below a foot nothing is missing: the board lies there.
                if (q[0] < 0 || q[1] < 0 || q[2] < 0 || q[0] >= size[0] || q[1] >= size[1] ||
                    q[2] >= size[2])
                    return FALSE;
                gsize c = q[0] * step[0] + q[1] * step[1] + q[2] * step[2];
                if (g->value[c] > 0)
                    return FALSE;
            }
    }
    return TRUE;
}

// Up to two places in the plane of cells n[axis] = at, far from each other, that bear a hole.
static guint
find_holes(const SolidGrid *g, int axis, int at, int back, int on, double need, int found[2][3])
{
    const int size[3] = {g->nx, g->ny, g->nz};
    int u = (axis + 1) % 3, v = (axis + 2) % 3, stride = MAX(1, (int)(0.001 / g->cell));
    g_autoptr(GArray) places = g_array_new(FALSE, FALSE, 3 * sizeof(int));
    double mu = 0, mv = 0;
    for (int b = 0; b < size[v]; b += stride)
        for (int a = 0; a < size[u]; a += stride) {
            int n[3];
            n[axis] = at;
            n[u] = a;
            n[v] = b;
            if (!bears_hole(g, n, axis, back, on, need))
                continue;
            g_array_append_vals(places, n, 1);
            mu += a;
            mv += b;
        }
    if (places->len == 0)
        return 0;
    double from[2] = {mu / places->len, mv / places->len}, apart = 0;
    for (int round = 0; round < 2; round++) {
        double most = -1;
        for (guint i = 0; i < places->len; i++) {
            const int *n = (const int *)(gpointer)(places->data + i * 3 * sizeof(int));
            double d = hypot(n[u] - from[0], n[v] - from[1]);
            if (d > most + 1e-9) {
                most = d;
                memcpy(found[round], n, 3 * sizeof(int));
            }
        }
        from[0] = found[round][u];
        from[1] = found[round][v];
        apart = most * g->cell;
    }
    return apart > 3 * need ? 2 : 1;
}

static Vec3
cell_middle(const SolidGrid *g, const int n[3])
{
    return vec3(g->origin.x + n[0] * g->cell, g->origin.y + n[1] * g->cell,
                g->origin.z + n[2] * g->cell);
}

static void
nearest_cell(const SolidGrid *g, Vec3 p, int n[3])
{
    n[0] = (int)CLAMP(lround((p.x - g->origin.x) / g->cell), 0, g->nx - 1);
    n[1] = (int)CLAMP(lround((p.y - g->origin.y) / g->cell), 0, g->ny - 1);
    n[2] = (int)CLAMP(lround((p.z - g->origin.z) / g->cell), 0, g->nz - 1);
}

static void
add_joint(SolidGrid *g, const CutOptions *o, CutJoint joint, CutRecord *record, GArray *holes)
{
    drill_hole(g, joint.a, joint.b, o->radius, holes);
    g_array_append_val(record->joints, joint);
}

static gboolean
bears_joint(const SolidGrid *g, const CutJoint *joint, int at, double need)
{
    double depth = vec3_length(vec3_sub(joint->b, joint->a)) / 2;
    int cells = (int)ceil((depth + DOWEL_WALL / 2) / g->cell), n[3];
    nearest_cell(g, vec3_scale(vec3_add(joint->a, joint->b), 0.5), n);
    n[joint->axis] = at;
    return bears_hole(g, n, joint->axis, cells, cells, need);
}

// Holes across a cut where the guide has them; how many, 0 when there is no room for all. Half the
// wall will do: it was found wide enough on other cells.
static guint
drill_joint_guided(SolidGrid *g, int axis, int cut, int at, const CutOptions *o, CutRecord *record,
                   GArray *holes)
{
    const GArray *joints = o->guide->joints;
    guint n = 0;
    for (guint i = 0; i < joints->len; i++) {
        const CutJoint *joint = &g_array_index(joints, CutJoint, i);
        if (joint->axis != axis || joint->cut != cut)
            continue;
        if (!bears_joint(g, joint, at, o->radius + DOWEL_WALL / 2))
            return 0;
        n++;
    }
    for (guint i = 0; i < joints->len && n > 0; i++) {
        CutJoint joint = g_array_index(joints, CutJoint, i);
        if (joint.axis == axis && joint.cut == cut)
            add_joint(g, o, joint, record, holes);
    }
    return n;
}

// Holes across the plane below cells n[axis] = at; how many.
guint
drill_joint(SolidGrid *g, int axis, int cut, int at, const CutOptions *o, CutRecord *record,
            GArray *holes)
{
    guint guided = o->guide ? drill_joint_guided(g, axis, cut, at, o, record, holes) : 0;
    if (guided > 0)
        return guided;
    double need = o->radius + DOWEL_WALL;
    for (double depth = o->length; depth >= SHORTEST_HOLE; depth /= 2) {
        int cells = (int)ceil((depth + DOWEL_WALL) / g->cell), found[2][3];
        guint n = find_holes(g, axis, at, cells, cells, need, found);
        for (guint i = 0; i < n; i++) {
            Vec3 p = cell_middle(g, found[i]);
            double way[3] = {0, 0, 0};
            way[axis] = 1;
            Vec3 d = vec3(way[0], way[1], way[2]);
            Vec3 middle = vec3_sub(p, vec3_scale(d, g->cell / 2));
            CutJoint joint = {axis, cut, vec3_sub(middle, vec3_scale(d, depth)),
                              vec3_add(middle, vec3_scale(d, depth))};
            add_joint(g, o, joint, record, holes);
        }
        if (n > 0)
            return n;
    }
    return 0;
}

static void
add_foot(SolidGrid *g, const CutOptions *o, SolidPoint p, double depth, CutPart *part,
         GArray *holes)
{
    part->dowels[part->n_dowels++] = p;
    drill_hole(g, vec3(p.x, p.y, g->origin.z - depth), vec3(p.x, p.y, depth), o->radius, holes);
}

// Holes in the foot where the guide has them; FALSE if there is no room for all.
static gboolean
drill_foot_guided(SolidGrid *g, const CutOptions *o, const CutFoot *foot, CutPart *part,
                  GArray *holes)
{
    for (double depth = o->length; depth >= SHORTEST_HOLE; depth /= 2) {
        int on = (int)ceil((depth + DOWEL_WALL / 2) / g->cell), n[3];
        guint bears = 0;
        for (guint i = 0; i < foot->n_dowels; i++) {
            nearest_cell(g, vec3(foot->dowels[i].x, foot->dowels[i].y, g->origin.z), n);
            bears += bears_hole(g, n, 2, 0, on, o->radius + DOWEL_WALL / 2);
        }
        if (bears < foot->n_dowels)
            continue;
        for (guint i = 0; i < foot->n_dowels; i++)
            add_foot(g, o, foot->dowels[i], depth, part, holes);
        return TRUE;
    }
    return FALSE;
}

void
drill_foot(SolidGrid *g, const CutOptions *o, guint number, CutPart *part, GArray *holes)
{
    if (o->guide && number < o->guide->feet->len &&
        drill_foot_guided(g, o, &g_array_index(o->guide->feet, CutFoot, number), part, holes))
        return;
    for (double depth = o->length; depth >= SHORTEST_HOLE && part->n_dowels == 0; depth /= 2) {
        int on = (int)ceil((depth + DOWEL_WALL) / g->cell), found[2][3];
        guint n = find_holes(g, 2, 0, 0, on, o->radius + DOWEL_WALL, found);
        for (guint i = 0; i < n; i++) {
            Vec3 p = cell_middle(g, found[i]);
            add_foot(g, o, (SolidPoint){p.x, p.y}, depth, part, holes);
        }
    }
}
