// SPDX-License-Identifier: GPL-3.0-or-later
// Which cell middles lie in the metal. Each column of cells along z is a line; where it pierces a
// triangle the count of skins around it steps by one, up or down by the way the triangle faces.
// Whether the line pierces a triangle is put together from one yes or no per edge, computed from
// the edge's ends in a fixed order, so neighbours always agree on the edge they share and a closed
// mesh always comes back to none. The same lines tell how much lies within more than one skin.
#include "solid/grid.h"
#include "solid/overlap.h"

#include <stdlib.h>

#define COLUMNS 65536.0 // looked along for overlaps, each way
#define NOISE 1e-6      // of the metal: faces that touch, to within the digits of their vertices

typedef struct {
    int i;     // column
    int step;  // +1 or -1 going up
    double z;  // m
    guint32 t; // triangle, to order equal heights
} Pierce;

static int
compare_pierces(const void *a, const void *b)
{
    const Pierce *p = a, *q = b;
    if (p->i != q->i)
        return p->i < q->i ? -1 : 1;
    if (p->z != q->z)
        return p->z < q->z ? -1 : 1;
    return p->t < q->t ? -1 : p->t > q->t;
}

// Does a ray from (x,y) towards +x cross the edge a-b? +1 when the edge climbs in y there, -1 when
// it falls, 0 when they do not meet. The half-open rule in y gives each shared end to one edge.
static int
cross_edge(Vec3 a, Vec3 b, double x, double y)
{
    gboolean climbs = a.y <= y && y < b.y, falls = b.y <= y && y < a.y;
    if (!climbs && !falls)
        return 0;
    Vec3 low = climbs ? a : b, high = climbs ? b : a;
    double at = low.x + (y - low.y) / (high.y - low.y) * (high.x - low.x);
    if (!(x < at))
        return 0;
    return climbs ? 1 : -1;
}

static double
find_height(const Vec3 v[3], double x, double y)
{
    Vec3 n = vec3_cross(vec3_sub(v[1], v[0]), vec3_sub(v[2], v[0]));
    double low = fmin(v[0].z, fmin(v[1].z, v[2].z)), high = fmax(v[0].z, fmax(v[1].z, v[2].z));
    if (n.z == 0)
        return low;
    double z = v[0].z - (n.x * (x - v[0].x) + n.y * (y - v[0].y)) / n.z;
    return CLAMP(z, low, high);
}

static void
get_corners(const SolidMesh *mesh, guint32 t, Vec3 v[3])
{
    for (int c = 0; c < 3; c++)
        v[c] = mesh->vertices[mesh->triangles[t][c]];
}

// Indices first .. last of cell middles (clipped to 0 .. n-1) that a span may touch.
static void
find_span(double low, double high, double origin, double cell, int n, int *first, int *last)
{
    double a = floor((low - origin) / cell), b = ceil((high - origin) / cell);
    *first = (int)CLAMP(a, 0.0, (double)n);
    *last = (int)CLAMP(b, -1.0, (double)(n - 1));
}

static void
find_rows(const SolidMesh *mesh, guint32 t, const SolidGrid *g, int *first, int *last)
{
    Vec3 v[3];
    get_corners(mesh, t, v);
    find_span(fmin(v[0].y, fmin(v[1].y, v[2].y)), fmax(v[0].y, fmax(v[1].y, v[2].y)), g->origin.y,
              g->cell, g->ny, first, last);
}

// Triangles of each row j: entries starts[j] .. starts[j+1]-1 of the returned list.
static guint32 *
sort_by_row(const SolidMesh *mesh, const SolidGrid *g, gsize *starts)
{
    int first, last;
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        find_rows(mesh, t, g, &first, &last);
        for (int j = first; j <= last; j++)
            starts[j + 1]++;
    }
    for (int j = 0; j < g->ny; j++)
        starts[j + 1] += starts[j];
    guint32 *list = g_new(guint32, starts[g->ny] + 1);
    g_autofree gsize *next = g_memdup2(starts, ((gsize)g->ny + 1) * sizeof *starts);
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        find_rows(mesh, t, g, &first, &last);
        for (int j = first; j <= last; j++)
            list[next[j]++] = t;
    }
    return list;
}

static void
pierce_triangle(const SolidMesh *mesh, guint32 t, const SolidGrid *g, double y, GArray *pierces)
{
    Vec3 v[3];
    get_corners(mesh, t, v);
    int first, last;
    find_span(fmin(v[0].x, fmin(v[1].x, v[2].x)), fmax(v[0].x, fmax(v[1].x, v[2].x)), g->origin.x,
              g->cell, g->nx, &first, &last);
    for (int i = first; i <= last; i++) {
        double x = g->origin.x + i * g->cell;
        int turns = cross_edge(v[0], v[1], x, y) + cross_edge(v[1], v[2], x, y) +
                    cross_edge(v[2], v[0], x, y);
        if (turns == 0)
            continue;
        // Anticlockwise from above faces up: going up one leaves the metal.
        Pierce p = {.i = i, .step = -turns, .z = find_height(v, x, y), .t = t};
        g_array_append_val(pierces, p);
    }
}

static void
fill_row(const SolidGrid *g, int j, const GArray *pierces, guint8 *inside)
{
    const Pierce *p = (const Pierce *)(gpointer)pierces->data;
    for (guint a = 0; a < pierces->len;) {
        guint b = a;
        while (b < pierces->len && p[b].i == p[a].i)
            b++;
        int count = 0;
        guint next = a;
        for (int k = 0; k < g->nz; k++) {
            double z = g->origin.z + k * g->cell;
            while (next < b && p[next].z <= z)
                count += p[next++].step;
            inside[solid_grid_index(g, p[a].i, j, k)] = count != 0;
        }
        a = b;
    }
}

guint8 *
solid_grid_inside(const SolidMesh *mesh, const SolidGrid *g, Progress *progress, GError **error)
{
    g_autofree guint8 *inside = g_new0(guint8, (gsize)g->nx * g->ny * g->nz);
    g_autofree gsize *starts = g_new0(gsize, (gsize)g->ny + 1);
    g_autofree guint32 *list = sort_by_row(mesh, g, starts);
#pragma omp parallel for schedule(dynamic)
    for (int j = 0; j < g->ny; j++) {
        if (progress_stopped(progress))
            continue;
        g_autoptr(GArray) pierces = g_array_new(FALSE, FALSE, sizeof(Pierce));
        double y = g->origin.y + j * g->cell;
        for (gsize n = starts[j]; n < starts[j + 1]; n++)
            pierce_triangle(mesh, list[n], g, y, pierces);
        if (pierces->len > 0)
            qsort(pierces->data, pierces->len, sizeof(Pierce), compare_pierces);
        fill_row(g, j, pierces, inside);
    }
    if (!progress_check(progress, error))
        return NULL;
    return g_steal_pointer(&inside);
}

// What the columns of one row hold, m: lengths, times nothing yet.
static void
sum_row(const GArray *pierces, SolidOverlap *sum)
{
    const Pierce *p = (const Pierce *)(gpointer)pierces->data;
    int count = 0;
    for (guint a = 0; a < pierces->len; a++) {
        count += p[a].step;
        if (a + 1 == pierces->len || p[a + 1].i != p[a].i)
            continue; // an open mesh may not come back to none
        double length = p[a + 1].z - p[a].z;
        if (count != 0)
            sum->metal += length;
        if (count > 1)
            sum->doubled += (count - 1) * length;
        if (count < 0)
            sum->inward += length;
        sum->excess += (count - (count != 0)) * length;
    }
}

// The box seen along z, cut into about COLUMNS squares.
static SolidGrid
lay_columns(const SolidMesh *mesh)
{
    Vec3 low = vec3(INFINITY, INFINITY, INFINITY), high = vec3_scale(low, -1);
    for (guint32 i = 0; i < mesh->n_vertices; i++) {
        Vec3 v = mesh->vertices[i];
        low = vec3(fmin(low.x, v.x), fmin(low.y, v.y), fmin(low.z, v.z));
        high = vec3(fmax(high.x, v.x), fmax(high.y, v.y), fmax(high.z, v.z));
    }
    double x = high.x - low.x, y = high.y - low.y;
    SolidGrid g = {.nx = 1, .ny = 1, .nz = 1, .cell = 1};
    g.cell = fmax(sqrt(x * y / COLUMNS), fmax(x, y) / COLUMNS);
    if (!(g.cell > 0) || !isfinite(g.cell))
        return (SolidGrid){0};
    g.nx = (int)ceil(x / g.cell);
    g.ny = (int)ceil(y / g.cell);
    g.nx = MAX(g.nx, 1);
    g.ny = MAX(g.ny, 1);
    g.origin = vec3(0.5 * (low.x + high.x) - 0.5 * (g.nx - 1) * g.cell,
                    0.5 * (low.y + high.y) - 0.5 * (g.ny - 1) * g.cell, 0);
    return g;
}

static gboolean
sum_along_z(const SolidMesh *mesh, SolidOverlap *overlap, Progress *progress, GError **error)
{
    SolidGrid g = lay_columns(mesh);
    if (g.ny == 0)
        return TRUE;
    g_autofree gsize *starts = g_new0(gsize, (gsize)g.ny + 1);
    g_autofree guint32 *list = sort_by_row(mesh, &g, starts);
    g_autofree SolidOverlap *rows = g_new0(SolidOverlap, g.ny);
#pragma omp parallel for schedule(dynamic)
    for (int j = 0; j < g.ny; j++) {
        if (progress_stopped(progress))
            continue;
        g_autoptr(GArray) pierces = g_array_new(FALSE, FALSE, sizeof(Pierce));
        for (gsize n = starts[j]; n < starts[j + 1]; n++)
            pierce_triangle(mesh, list[n], &g, g.origin.y + j * g.cell, pierces);
        if (pierces->len > 0) {
            qsort(pierces->data, pierces->len, sizeof(Pierce), compare_pierces);
            sum_row(pierces, &rows[j]);
        }
    }
    double share = g.cell * g.cell / 3; // of three ways of looking
    for (int j = 0; j < g.ny; j++) {
        overlap->metal += share * rows[j].metal;
        overlap->doubled += share * rows[j].doubled;
        overlap->inward += share * rows[j].inward;
        overlap->excess += share * rows[j].excess;
    }
    return progress_check(progress, error);
}

gboolean
solid_overlap(const SolidMesh *mesh, SolidOverlap *overlap, Progress *progress, GError **error)
{
    SolidOverlap sum = {0};
    const double turns[3][9] = {
        {1, 0, 0, 0, 1, 0, 0, 0, 1}, {0, 1, 0, 0, 0, 1, 1, 0, 0}, {0, 0, 1, 1, 0, 0, 0, 1, 0}};
    for (int way = 0; way < 3; way++) {
        g_autoptr(SolidMesh) turned = solid_mesh_transformed(mesh, turns[way], vec3(0, 0, 0));
        if (!sum_along_z(turned, &sum, progress, error))
            return FALSE;
    }
    double *parts[] = {&sum.doubled, &sum.inward, &sum.excess};
    for (guint i = 0; i < G_N_ELEMENTS(parts); i++)
        if (fabs(*parts[i]) < NOISE * sum.metal)
            *parts[i] = 0;
    *overlap = sum;
    return TRUE;
}
