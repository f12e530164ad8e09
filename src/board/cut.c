// SPDX-License-Identifier: GPL-3.0-or-later
// Cutting along planes between cells, so that a cut face is exactly flat and both sides agree.
#include "board/cut.h"

#include <string.h>

#include "board/shape.h"
#include "board/skin.h"

#define DOWEL_WALL 0.0012 // m, least material round a hole
#define SHORTEST_HOLE 0.003
#define CUT_ROOM 0.01 // of the bed: cuts are between cells

void
cut_part_free(CutPart *part)
{
    solid_mesh_unref(part->mesh);
    g_free(part);
}

static int
pieces_of(double size, double bed, double room)
{
    return size <= bed * (1 + 1e-9) ? 1 : MAX(2, (int)ceil(size / (bed * (1 - room)) - 1e-9));
}

void
cut_counts(Vec3 size, Vec3 bed, double room, int counts[3])
{
    int straight[2] = {pieces_of(size.x, bed.x, room), pieces_of(size.y, bed.y, room)};
    int turned[2] = {pieces_of(size.x, bed.y, room), pieces_of(size.y, bed.x, room)};
    gboolean turn = turned[0] * turned[1] < straight[0] * straight[1];
    counts[0] = turn ? turned[0] : straight[0];
    counts[1] = turn ? turned[1] : straight[1];
    counts[2] = pieces_of(size.z, bed.z, room);
}

guint64
cut_triangles(const SolidGrid *g)
{
    const gsize step[3] = {1, (gsize)g->nx, (gsize)g->nx * g->ny};
    const int size[3] = {g->nx, g->ny, g->nz};
    guint64 quads = 0;
    for (int k = 0; k < g->nz; k++)
        for (int j = 0; j < g->ny; j++)
            for (int i = 0; i < g->nx; i++) {
                const int n[3] = {i, j, k};
                gsize c = solid_grid_index(g, i, j, k);
                gboolean in = g->value[c] <= 0;
                for (int axis = 0; axis < 3; axis++) {
                    gboolean last = n[axis] + 1 == size[axis];
                    quads += in != (!last && g->value[c + step[axis]] <= 0);
                    quads += in && n[axis] == 0;
                }
            }
    return 2 * quads;
}

static void
drill(SolidGrid *g, Vec3 a, Vec3 b, double radius, GArray *holes)
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

// Holes across the plane below cells n[axis] = at; how many.
static guint
drill_joint(SolidGrid *g, int axis, int at, const CutOptions *o, GArray *holes)
{
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
            drill(g, vec3_sub(middle, vec3_scale(d, depth)), vec3_add(middle, vec3_scale(d, depth)),
                  o->radius, holes);
        }
        if (n > 0)
            return n;
    }
    return 0;
}

static void
drill_foot(SolidGrid *g, const CutOptions *o, CutPart *part, GArray *holes)
{
    double need = o->radius + DOWEL_WALL;
    for (double depth = o->length; depth >= SHORTEST_HOLE; depth /= 2) {
        int on = (int)ceil((depth + DOWEL_WALL) / g->cell), found[2][3];
        part->n_dowels = find_holes(g, 2, 0, 0, on, need, found);
        for (guint i = 0; i < part->n_dowels; i++) {
            Vec3 p = cell_middle(g, found[i]);
            part->dowels[i] = (SolidPoint){p.x, p.y};
            drill(g, vec3(p.x, p.y, g->origin.z - depth), vec3(p.x, p.y, depth), o->radius, holes);
        }
        if (part->n_dowels > 0)
            return;
    }
}

static gboolean
find_box(const SolidGrid *g, int low[3], int high[3])
{
    gboolean any = FALSE;
    for (int c = 0; c < 3; c++) {
        low[c] = G_MAXINT;
        high[c] = -1;
    }
    for (int k = 0; k < g->nz; k++)
        for (int j = 0; j < g->ny; j++)
            for (int i = 0; i < g->nx; i++) {
                if (g->value[solid_grid_index(g, i, j, k)] > 0)
                    continue;
                const int n[3] = {i, j, k};
                any = TRUE;
                for (int c = 0; c < 3; c++) {
                    low[c] = MIN(low[c], n[c]);
                    high[c] = MAX(high[c], n[c]);
                }
            }
    return any;
}

// How far, in cells, the skin stands out beyond the cell middles of the outermost layer `at`
// towards the next one, `way` being 1 or -1.
static double
find_overhang(const SolidGrid *g, int axis, int at, int way)
{
    const int size[3] = {g->nx, g->ny, g->nz};
    int u = (axis + 1) % 3, v = (axis + 2) % 3, n[3], m[3];
    if (at + way < 0 || at + way >= size[axis])
        return 0.5;
    double most = 0;
    for (n[v] = 0; n[v] < size[v]; n[v]++)
        for (n[u] = 0; n[u] < size[u]; n[u]++) {
            n[axis] = at;
            memcpy(m, n, sizeof m);
            m[axis] += way;
            double in = g->value[solid_grid_index(g, n[0], n[1], n[2])];
            double out = g->value[solid_grid_index(g, m[0], m[1], m[2])];
            if (in <= 0 && out > 0)
                most = fmax(most, in / (in - out));
        }
    return most;
}

// Size of what is in the field, on its foot; a little more than the skin, and nearly the same
// whatever the cells, so that what is cut does not depend on them.
static Vec3
find_size(const SolidGrid *g, const int low[3], const int high[3], double detail)
{
    double size[3];
    for (int axis = 0; axis < 3; axis++) {
        double before = axis == 2 ? low[2] + 0.5 : find_overhang(g, axis, low[axis], -1);
        double after = find_overhang(g, axis, high[axis], 1);
        size[axis] = (high[axis] - low[axis] + before + after) * g->cell + 2 * detail;
    }
    return vec3(size[0], size[1], size[2]);
}

static SolidGrid *
copy_box(const SolidGrid *g, const int low[3], const int high[3])
{
    Vec3 origin = cell_middle(g, low);
    SolidGrid *part = solid_grid_new(high[0] - low[0], high[1] - low[1], high[2] - low[2], g->cell,
                                     origin);
    for (int k = 0; k < part->nz; k++)
        for (int j = 0; j < part->ny; j++)
            memcpy(part->value + solid_grid_index(part, 0, j, k),
                   g->value + solid_grid_index(g, low[0], low[1] + j, low[2] + k),
                   part->nx * sizeof(float));
    return part;
}

// The part between two cuts in each axis; NULL without an error when it holds nothing.
static CutPart *
make_part(const SolidGrid *field, const int low[3], const int high[3], const CutOptions *o,
          const GArray *joints, Progress *progress, GError **error)
{
    g_autoptr(GArray) holes = g_array_copy((GArray *)joints);
    g_autoptr(SolidGrid) g = copy_box(field, low, high);
    int least[3], most[3];
    if (!find_box(g, least, most))
        return NULL;
    CutPart *part = g_new0(CutPart, 1);
    part->z = low[2] == 0 ? 0 : g->origin.z - g->cell / 2;
    if (low[2] == 0 && o->foot)
        drill_foot(g, o, part, holes);
    board_skin_mend(g, FALSE);
    g_autoptr(SolidMesh) mesh = board_skin(g, TRUE, (const BoardHole *)(gpointer)holes->data,
                                           holes->len, progress, error);
    if (mesh) {
        const double same[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
        part->mesh = solid_mesh_transformed(mesh, same, vec3(0, 0, -part->z));
        return part;
    }
    cut_part_free(part);
    return NULL;
}

GPtrArray *
cut_field(SolidGrid *g, const CutOptions *o, Progress *progress, GError **error)
{
    g_autoptr(GPtrArray) parts = g_ptr_array_new_with_free_func((GDestroyNotify)cut_part_free);
    g_autoptr(GArray) holes = g_array_new(FALSE, FALSE, sizeof(BoardHole));
    const int size[3] = {g->nx, g->ny, g->nz};
    int low[3], high[3], counts[3], cuts[3][66];
    if (!find_box(g, low, high))
        return g_steal_pointer(&parts);
    for (guint i = 0; o->bores && i < o->bores->len; i++) {
        const BoardHole *bore = &g_array_index(o->bores, BoardHole, i);
        drill(g, bore->a, bore->b, bore->radius, holes);
    }
    cut_counts(find_size(g, low, high, o->detail), o->bed, CUT_ROOM, counts);
    guint joints = 0;
    for (int axis = 0; axis < 3; axis++) {
        counts[axis] = MIN(counts[axis], 64);
        cuts[axis][0] = 0;
        for (int i = 1; i < counts[axis]; i++) {
            int from = axis == 2 ? 0 : low[axis];
            cuts[axis][i] = from + (int)((gint64)(high[axis] + 1 - from) * i / counts[axis]);
            joints += drill_joint(g, axis, cuts[axis][i], o, holes);
        }
        cuts[axis][counts[axis]] = size[axis];
    }
    for (int k = 0; k < counts[2]; k++)
        for (int j = 0; j < counts[1]; j++)
            for (int i = 0; i < counts[0]; i++) {
                const int from[3] = {cuts[0][i], cuts[1][j], cuts[2][k]};
                const int to[3] = {cuts[0][i + 1], cuts[1][j + 1], cuts[2][k + 1]};
                GError *failure = NULL;
                CutPart *part = make_part(g, from, to, o, holes, progress, &failure);
                if (failure) {
                    g_propagate_error(error, failure);
                    return NULL;
                }
                if (part) {
                    part->joints = joints;
                    g_ptr_array_add(parts, part);
                }
            }
    return g_steal_pointer(&parts);
}
