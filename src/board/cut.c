// SPDX-License-Identifier: GPL-3.0-or-later
// Cutting along planes between cells, so that a cut face is exactly flat and both sides agree.
#include "board/cut.h"

#include <string.h>

#include "board/drill.h"
#include "board/skin.h"

#define CUT_ROOM 0.01 // of the bed: cuts are between cells

void
cut_part_free(CutPart *part)
{
    solid_mesh_unref(part->mesh);
    g_free(part);
}

CutRecord *
cut_record_new(const char *name)
{
    CutRecord *record = g_new0(CutRecord, 1);
    record->name = g_strdup(name);
    record->joints = g_array_new(FALSE, FALSE, sizeof(CutJoint));
    record->feet = g_array_new(FALSE, TRUE, sizeof(CutFoot));
    return record;
}

void
cut_record_free(CutRecord *record)
{
    if (!record)
        return;
    g_free(record->name);
    g_array_unref(record->joints);
    g_array_unref(record->feet);
    g_free(record);
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
    Vec3 origin = vec3(g->origin.x + low[0] * g->cell, g->origin.y + low[1] * g->cell,
                       g->origin.z + low[2] * g->cell);
    SolidGrid *part = solid_grid_new(high[0] - low[0], high[1] - low[1], high[2] - low[2], g->cell,
                                     origin);
    for (int k = 0; k < part->nz; k++)
        for (int j = 0; j < part->ny; j++)
            memcpy(part->value + solid_grid_index(part, 0, j, k),
                   g->value + solid_grid_index(g, low[0], low[1] + j, low[2] + k),
                   part->nx * sizeof(float));
    return part;
}

// The cells before which the cuts of one axis are: where the guide's are, else evenly.
static void
place_cuts(const SolidGrid *g, const CutOptions *o, int axis, int low, int high, CutRecord *record,
           int cuts[CUT_MOST + 1])
{
    const int size[3] = {g->nx, g->ny, g->nz};
    const double origin[3] = {g->origin.x, g->origin.y, g->origin.z};
    int n = record->counts[axis], from = axis == 2 ? 0 : low;
    gboolean guided = o->guide && o->guide->counts[axis] == n;
    cuts[0] = 0;
    cuts[n] = size[axis];
    for (int i = 1; i < n; i++) {
        cuts[i] = from + (int)((gint64)(high + 1 - from) * i / n);
        if (guided) {
            double at = (o->guide->cuts[axis][i] - origin[axis]) / g->cell + 0.5;
            cuts[i] = (int)CLAMP(lround(at), 1, size[axis] - 1);
        }
        record->cuts[axis][i] = origin[axis] + (cuts[i] - 0.5) * g->cell;
    }
}

// The part between two cuts in each axis; NULL without an error when it holds nothing.
static CutPart *
make_part(const SolidGrid *field, const int low[3], const int high[3], const CutOptions *o,
          guint number, const GArray *joints, Progress *progress, GError **error)
{
    g_autoptr(GArray) holes = g_array_copy((GArray *)joints);
    g_autoptr(SolidGrid) g = copy_box(field, low, high);
    int least[3], most[3];
    if (!find_box(g, least, most))
        return NULL;
    CutPart *part = g_new0(CutPart, 1);
    part->z = low[2] == 0 ? 0 : g->origin.z - g->cell / 2;
    if (low[2] == 0 && o->foot)
        drill_foot(g, o, number, part, holes);
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

// Chooses the cuts and drills across them; how many holes.
static guint
make_cuts(SolidGrid *g, const CutOptions *o, const int low[3], const int high[3], CutRecord *record,
          int cuts[3][CUT_MOST + 1], GArray *holes)
{
    guint joints = 0;
    cut_counts(find_size(g, low, high, o->detail), o->bed, CUT_ROOM, record->counts);
    for (int axis = 0; axis < 3; axis++) {
        record->counts[axis] = MIN(record->counts[axis], CUT_MOST);
        place_cuts(g, o, axis, low[axis], high[axis], record, cuts[axis]);
        for (int i = 1; i < record->counts[axis]; i++) {
            int at = cuts[axis][i];
            joints += drill_joint(g, axis, i, at, o, record, holes);
        }
    }
    return joints;
}

static void
record_foot(CutRecord *record, const CutPart *part)
{
    CutFoot foot = {.n_dowels = part->n_dowels};
    memcpy(foot.dowels, part->dowels, sizeof foot.dowels);
    g_array_append_val(record->feet, foot);
}

GPtrArray *
cut_field(SolidGrid *g, const CutOptions *o, CutRecord *record, Progress *progress, GError **error)
{
    g_autoptr(GPtrArray) parts = g_ptr_array_new_with_free_func((GDestroyNotify)cut_part_free);
    g_autoptr(GArray) holes = g_array_new(FALSE, FALSE, sizeof(BoardHole));
    int low[3], high[3], cuts[3][CUT_MOST + 1];
    if (!find_box(g, low, high))
        return g_steal_pointer(&parts);
    for (guint i = 0; o->bores && i < o->bores->len; i++) {
        const BoardHole *bore = &g_array_index(o->bores, BoardHole, i);
        drill_hole(g, bore->a, bore->b, bore->radius, holes);
    }
    guint joints = make_cuts(g, o, low, high, record, cuts, holes);
    const int *counts = record->counts;
    for (int k = 0; k < counts[2]; k++)
        for (int j = 0; j < counts[1]; j++)
            for (int i = 0; i < counts[0]; i++) {
                const int from[3] = {cuts[0][i], cuts[1][j], cuts[2][k]};
                const int to[3] = {cuts[0][i + 1], cuts[1][j + 1], cuts[2][k + 1]};
                GError *failure = NULL;
                CutPart *part = make_part(g, from, to, o, parts->len, holes, progress, &failure);
                if (failure) {
                    g_propagate_error(error, failure);
                    return NULL;
                }
                if (part) {
                    part->joints = joints;
                    record_foot(record, part);
                    g_ptr_array_add(parts, part);
                }
            }
    return g_steal_pointer(&parts);
}
