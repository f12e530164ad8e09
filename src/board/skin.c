// SPDX-License-Identifier: GPL-3.0-or-later
// A net of one vertex for each cube of eight cell middles the skin runs through, and one
// quadrilateral for each pair of neighbours it parts. Beyond the grid's sides nothing is metal, so
// the net closes by itself; the places of the vertices in the outermost cubes are found as if the
// grid went on as in a mirror, and then laid on the mirror.
#include "board/skin.h"

#include <string.h>

#include "board/thin.h"
#include "solid/quads.h"

#define THIN_SHARE 0.05 // of a cell, that thinning may move the skin by

typedef struct {
    const SolidGrid *g;
    GArray *vertices; // Vec3
    GArray *walls;    // guint8, bit of each axis along which a vertex may not move
    GArray *quads;    // SolidQuad
    guint32 *below, *here;
} Skin;

static gboolean
is_in(const SolidGrid *g, int i, int j, int k)
{
    if (i < 0 || j < 0 || k < 0 || i >= g->nx || j >= g->ny || k >= g->nz)
        return FALSE;
    return g->value[solid_grid_index(g, i, j, k)] <= 0;
}

static double
mirrored(const SolidGrid *g, const int n[3])
{
    return g->value[solid_grid_index(g, CLAMP(n[0], 0, g->nx - 1), CLAMP(n[1], 0, g->ny - 1),
                                     CLAMP(n[2], 0, g->nz - 1))];
}

static gboolean
is_mixed(const SolidGrid *g, const int c[3])
{
    gboolean first = is_in(g, c[0], c[1], c[2]);
    for (int e = 1; e < 8; e++)
        if (is_in(g, c[0] + (e & 1), c[1] + ((e >> 1) & 1), c[2] + (e >> 2)) != first)
            return TRUE;
    return FALSE;
}

// Place of the cube's vertex, in cells from its lower corner.
static void
place_vertex(const SolidGrid *g, const int c[3], guint8 *walls, double at[3])
{
    const int size[3] = {g->nx, g->ny, g->nz};
    double sum[3] = {0, 0, 0};
    int n = 0;
    for (int axis = 0; axis < 3; axis++)
        for (int e = 0; e < 4; e++) {
            int u = (axis + 1) % 3, v = (axis + 2) % 3, a[3] = {c[0], c[1], c[2]}, b[3];
            a[u] += e & 1;
            a[v] += e >> 1;
            memcpy(b, a, sizeof b);
            b[axis]++;
            double va = mirrored(g, a), vb = mirrored(g, b);
            if ((va <= 0) == (vb <= 0))
                continue;
            sum[axis] += va / (va - vb);
            sum[u] += e & 1;
            sum[v] += e >> 1;
            n++;
        }
    *walls = 0;
    for (int axis = 0; axis < 3; axis++) {
        gboolean wall = c[axis] < 0 || c[axis] == size[axis] - 1;
        at[axis] = wall || n == 0 ? 0.5 : sum[axis] / n;
        if (wall)
            *walls |= (guint8)(1 << axis);
    }
}

static void
add_vertices(Skin *skin, int k)
{
    const SolidGrid *g = skin->g;
    for (int j = -1; j < g->ny; j++)
        for (int i = -1; i < g->nx; i++) {
            const int c[3] = {i, j, k};
            guint32 *slot = &skin->here[(gsize)(j + 1) * (g->nx + 1) + i + 1];
            *slot = G_MAXUINT32;
            if (!is_mixed(g, c))
                continue;
            guint8 walls;
            double at[3];
            place_vertex(g, c, &walls, at);
            Vec3 v = vec3(g->origin.x + (i + at[0]) * g->cell, g->origin.y + (j + at[1]) * g->cell,
                          g->origin.z + (k + at[2]) * g->cell);
            *slot = skin->vertices->len;
            g_array_append_val(skin->vertices, v);
            g_array_append_val(skin->walls, walls);
        }
}

// Corners anticlockwise seen from the end of the edge from cell n along axis.
static void
add_quad(Skin *skin, const int n[3], int axis, const guint32 corner[4])
{
    const SolidGrid *g = skin->g;
    const int size[3] = {g->nx, g->ny, g->nz};
    int m[3] = {n[0], n[1], n[2]};
    m[axis]++;
    gboolean in = is_in(g, n[0], n[1], n[2]);
    if (in == is_in(g, m[0], m[1], m[2]))
        return;
    gboolean flat = n[axis] < 0 || m[axis] == size[axis];
    double va = mirrored(g, n), vb = mirrored(g, m), p[3] = {n[0], n[1], n[2]};
    p[axis] += flat ? 0.5 : va / (va - vb);
    SolidQuad quad = {{corner[0], corner[in ? 1 : 3], corner[2], corner[in ? 3 : 1]},
                      vec3(g->origin.x + p[0] * g->cell, g->origin.y + p[1] * g->cell,
                           g->origin.z + p[2] * g->cell),
                      flat};
    g_array_append_val(skin->quads, quad);
}

// The quadrilaterals round the edges that start at the cell middles of layer k. Slot (i, j) of a
// layer is the cube whose lower corner is cell (i - 1, j - 1).
static void
add_quads(Skin *skin, int k)
{
    const SolidGrid *g = skin->g;
    gsize w = (gsize)g->nx + 1;
    const guint32 *h = skin->here, *b = skin->below;
    for (int j = -1; j < g->ny; j++)
        for (int i = -1; i < g->nx; i++) {
            const int n[3] = {i, j, k};
            gsize c = (gsize)(j + 1) * w + i + 1;
            if (k >= 0 && j >= 0)
                add_quad(skin, n, 0, (guint32[4]){b[c - w], b[c], h[c], h[c - w]});
            if (k >= 0 && i >= 0)
                add_quad(skin, n, 1, (guint32[4]){b[c - 1], h[c - 1], h[c], b[c]});
            if (i >= 0 && j >= 0)
                add_quad(skin, n, 2, (guint32[4]){h[c - w - 1], h[c - w], h[c], h[c - 1]});
        }
}

SolidMesh *
board_skin(const SolidGrid *field, gboolean draws, const BoardHole *holes, guint n_holes,
           Progress *progress, GError **error)
{
    gsize layer = ((gsize)field->nx + 1) * (field->ny + 1);
    g_autofree guint32 *one = g_new(guint32, layer), *two = g_new(guint32, layer);
    g_autoptr(GArray) vertices = g_array_new(FALSE, FALSE, sizeof(Vec3));
    g_autoptr(GArray) walls = g_array_new(FALSE, FALSE, 1);
    g_autoptr(GArray) quads = g_array_new(FALSE, FALSE, sizeof(SolidQuad));
    Skin skin = {field, vertices, walls, quads, one, two};
    for (int k = -1; k < field->nz; k++) {
        if (!progress_check(progress, error))
            return NULL;
        guint32 *swap = skin.below;
        skin.below = skin.here;
        skin.here = swap;
        add_vertices(&skin, k);
        add_quads(&skin, k);
    }
    Vec3 *places = (Vec3 *)(gpointer)vertices->data;
    const SolidQuad *pieces = (const SolidQuad *)(gpointer)quads->data;
    solid_quads_fit(places, (const guint8 *)walls->data, vertices->len, pieces, quads->len);
    SolidMesh *mesh = solid_quads_mesh(places, vertices->len, pieces, quads->len);
    if (!draws)
        return mesh;
    g_autofree guint8 *marks = g_new(guint8, mesh->n_triangles + 1);
    for (guint32 t = 0; t < mesh->n_triangles; t++)
        marks[t] = pieces[t / 2].flat != FALSE;
    board_draw(mesh, (const guint8 *)walls->data, marks, holes, n_holes, field->cell);
    for (guint32 t = 0; t < mesh->n_triangles; t++)
        marks[t] = !marks[t]; // from what may look down to what may not
    g_autoptr(SolidMesh) fine = mesh;
    return board_thin(fine, marks, THIN_SHARE * field->cell, progress, error);
}

// Four cells in a square that are metal at two opposite corners only: fills the emptier pair's
// cell nearest to metal. TRUE if it did.
static gboolean
mend_square(SolidGrid *field, const gsize at[4])
{
    float *v = field->value;
    gboolean in[4];
    for (int e = 0; e < 4; e++)
        in[e] = v[at[e]] <= 0;
    if (in[0] != in[3] || in[1] != in[2] || in[0] == in[1])
        return FALSE;
    gsize a = in[0] ? at[1] : at[0], b = in[0] ? at[2] : at[3];
    v[v[a] <= v[b] ? a : b] = (float)(-0.1 * field->cell);
    return TRUE;
}

static gboolean
mend_once(SolidGrid *field)
{
    const int size[3] = {field->nx, field->ny, field->nz};
    const gsize step[3] = {1, (gsize)field->nx, (gsize)field->nx * field->ny};
    gboolean any = FALSE;
    for (int axis = 0; axis < 3; axis++) {
        int u = (axis + 1) % 3, v = (axis + 2) % 3;
        int least[3] = {size[0], size[1], size[2]};
        least[u]--;
        least[v]--;
        for (int k = 0; k < least[2]; k++)
            for (int j = 0; j < least[1]; j++)
                for (int i = 0; i < least[0]; i++) {
                    gsize c = solid_grid_index(field, i, j, k);
                    any |= mend_square(
                        field, (gsize[4]){c, c + step[u], c + step[v], c + step[u] + step[v]});
                }
    }
    return any;
}

void
board_skin_mend(SolidGrid *field, gboolean drawn)
{
    gsize layer = (gsize)field->nx * field->ny;
    gboolean again = TRUE;
    while (again) {
        for (int k = field->nz - 2; drawn && k >= 0; k--)
            for (gsize p = k * layer; p < (k + 1) * layer; p++)
                field->value[p] = MIN(field->value[p], field->value[p + layer]);
        again = mend_once(field);
    }
}
