// SPDX-License-Identifier: GPL-3.0-or-later
// Signed distance on a grid. Cells the surface runs through are marked; the distance transform of
// the marks tells which cells may lie within the band, and those ask the tree of boxes for the
// exact distance. Cells further off measure to the triangle nearest to their nearest marked cell.
#include "base/error.h"
#include "solid/bvh.h"
#include "solid/edt.h"
#include "solid/grid.h"
#include "solid/triangle.h"

#define NEAR 2 // beside 1 for marked, in the byte of a cell
// A marked cell may be this many cells from the surface in it: half the diagonal of a cell.
#define HALF_DIAGONAL 0.8661

static int
find_cell(double at, double origin, double cell, int n)
{
    return (int)CLAMP(floor((at - origin) / cell + 0.5), 0.0, (double)(n - 1));
}

// Marks every cell a triangle may touch: those of its box when that is small, else by halves.
static void
mark_triangle(const SolidGrid *g, Vec3 a, Vec3 b, Vec3 c, int depth, guint8 *mark)
{
    int i0 = find_cell(fmin(a.x, fmin(b.x, c.x)), g->origin.x, g->cell, g->nx);
    int i1 = find_cell(fmax(a.x, fmax(b.x, c.x)), g->origin.x, g->cell, g->nx);
    int j0 = find_cell(fmin(a.y, fmin(b.y, c.y)), g->origin.y, g->cell, g->ny);
    int j1 = find_cell(fmax(a.y, fmax(b.y, c.y)), g->origin.y, g->cell, g->ny);
    int k0 = find_cell(fmin(a.z, fmin(b.z, c.z)), g->origin.z, g->cell, g->nz);
    int k1 = find_cell(fmax(a.z, fmax(b.z, c.z)), g->origin.z, g->cell, g->nz);
    int thin = MIN(i1 - i0, MIN(j1 - j0, k1 - k0));
    int most = MAX(i1 - i0, MAX(j1 - j0, k1 - k0));
    gboolean flat = thin == 0 && (i1 - i0) + (j1 - j0) + (k1 - k0) == most;
    if (most <= 1 || flat || depth == 0) {
        for (int k = k0; k <= k1; k++)
            for (int j = j0; j <= j1; j++)
                for (int i = i0; i <= i1; i++)
                    mark[solid_grid_index(g, i, j, k)] = 1;
        return;
    }
    double ab = vec3_length(vec3_sub(a, b)), bc = vec3_length(vec3_sub(b, c));
    double ca = vec3_length(vec3_sub(c, a));
    if (bc >= ab && bc >= ca) {
        Vec3 t = a;
        a = b, b = c, c = t;
    } else if (ca >= ab) {
        Vec3 t = b;
        b = a, a = c, c = t;
    }
    Vec3 m = vec3_scale(vec3_add(a, b), 0.5); // of the longest side
    mark_triangle(g, a, m, c, depth - 1, mark);
    mark_triangle(g, m, b, c, depth - 1, mark);
}

static gboolean
mark_surface(const SolidMesh *mesh, const SolidGrid *g, guint8 *mark, Progress *progress,
             GError **error)
{
    for (guint32 t = 0; t < mesh->n_triangles; t++) {
        const guint32 *c = mesh->triangles[t];
        if (t % 4096 == 0 && !progress_check(progress, error))
            return FALSE;
        mark_triangle(g, mesh->vertices[c[0]], mesh->vertices[c[1]], mesh->vertices[c[2]], 40,
                      mark);
    }
    return TRUE;
}

static double
measure_way(const SolidGrid *g, gsize from, guint32 to)
{
    gsize nx = (gsize)g->nx, ny = (gsize)g->ny;
    double x = (double)(from % nx) - (double)(to % nx);
    double y = (double)(from / nx % ny) - (double)(to / nx % ny);
    double z = (double)(from / (nx * ny)) - (double)(to / (nx * ny));
    return g->cell * sqrt(x * x + y * y + z * z);
}

static Vec3
find_middle(const SolidGrid *g, int i, int j, int k)
{
    return vec3(g->origin.x + i * g->cell, g->origin.y + j * g->cell, g->origin.z + k * g->cell);
}

// Exact distances in the band; near[] of those cells becomes the index of their triangle.
static void
fill_band(const SolidBvh *bvh, SolidGrid *g, double band, guint8 *mark, guint32 *near,
          Progress *progress)
{
    double reach = band + HALF_DIAGONAL * g->cell;
#pragma omp parallel for schedule(dynamic) collapse(2)
    for (int k = 0; k < g->nz; k++)
        for (int j = 0; j < g->ny; j++) {
            guint32 hint = SOLID_NO_TRIANGLE;
            if (progress_stopped(progress))
                continue;
            for (int i = 0; i < g->nx; i++) {
                gsize at = solid_grid_index(g, i, j, k);
                if (near[at] == SOLID_NO_CELL || measure_way(g, at, near[at]) > reach)
                    continue;
                SolidNearest n = solid_bvh_nearest(bvh, find_middle(g, i, j, k), hint);
                hint = n.triangle;
                g->value[at] = (float)n.distance;
                near[at] = n.triangle;
                mark[at] |= NEAR;
            }
        }
}

// Beyond the band: to the triangle of the nearest marked cell, all of which lie in the band.
static void
fill_far(const SolidMesh *mesh, SolidGrid *g, double band, const guint8 *mark, const guint32 *near)
{
#pragma omp parallel for schedule(dynamic)
    for (int k = 0; k < g->nz; k++)
        for (int j = 0; j < g->ny; j++)
            for (int i = 0; i < g->nx; i++) {
                gsize at = solid_grid_index(g, i, j, k);
                if (mark[at] & NEAR)
                    continue;
                if (near[at] == SOLID_NO_CELL) {
                    g->value[at] = (float)(g->cell * (g->nx + g->ny + g->nz));
                    continue;
                }
                const guint32 *c = mesh->triangles[near[near[at]]];
                Vec3 v[3] = {mesh->vertices[c[0]], mesh->vertices[c[1]], mesh->vertices[c[2]]};
                double far = solid_triangle_distance(find_middle(g, i, j, k), v, NULL);
                g->value[at] = (float)fmax(band, far);
            }
}

static void
apply_sign(SolidGrid *g, const guint8 *inside)
{
    gsize n = (gsize)g->nx * g->ny * g->nz;
    for (gsize i = 0; i < n; i++)
        if (inside[i])
            g->value[i] = -g->value[i];
}

SolidGrid *
solid_grid_distance_as(const SolidMesh *mesh, const guint8 *inside, const SolidGrid *shape,
                       double band, Progress *progress, GError **error)
{
    gsize n = (gsize)shape->nx * shape->ny * shape->nz;
    g_autoptr(SolidGrid)
                  g = solid_grid_new(shape->nx, shape->ny, shape->nz, shape->cell, shape->origin);
    g_autofree guint8 *mark = g_try_malloc0(n);
    if (!g || !mark) {
        base_error_set(error, BASE_ERROR_LIMIT, NULL, NULL, "the grid has too many cells",
                       "choose a coarser resolution");
        return NULL;
    }
    if (!mark_surface(mesh, g, mark, progress, error))
        return NULL;
    g_autofree guint32 *near = solid_edt_nearest(mark, g, progress, error);
    if (!near)
        return NULL;
    g_autoptr(SolidBvh) bvh = solid_bvh_new(mesh);
    fill_band(bvh, g, band, mark, near, progress);
    if (!progress_check(progress, error))
        return NULL;
    fill_far(mesh, g, band, mark, near);
    apply_sign(g, inside);
    return g_steal_pointer(&g);
}

// Cells so that the middles reach `margin` beyond the box on both sides, evenly. A box a whole
// number of cells long gets its faces half-way between middles, where nothing is left to chance.
static int
count_cells(double low, double high, double margin, double cell, double *origin)
{
    double n = floor((high - low) / cell + 1e-9) + 2 + 2 * ceil(margin / cell - 1e-9);
    if (!(n >= 2 && n < 1e6))
        return 0;
    *origin = 0.5 * (low + high) - 0.5 * (n - 1) * cell;
    return (int)n;
}

// The empty grid round a mesh; NULL with BASE_ERROR_LIMIT over the limit.
static SolidGrid *
make_shape(const SolidMesh *mesh, double cell, double margin, GError **error)
{
    Vec3 low = vec3(INFINITY, INFINITY, INFINITY), high = vec3_scale(low, -1), origin;
    for (guint32 v = 0; v < mesh->n_vertices; v++) {
        Vec3 p = mesh->vertices[v];
        low = vec3(fmin(low.x, p.x), fmin(low.y, p.y), fmin(low.z, p.z));
        high = vec3(fmax(high.x, p.x), fmax(high.y, p.y), fmax(high.z, p.z));
    }
    int nx = count_cells(low.x, high.x, margin, cell, &origin.x);
    int ny = count_cells(low.y, high.y, margin, cell, &origin.y);
    int nz = count_cells(low.z, high.z, margin, cell, &origin.z);
    SolidGrid *shape = nx && ny && nz ? solid_grid_new(nx, ny, nz, cell, origin) : NULL;
    if (!shape)
        base_error_set(error, BASE_ERROR_LIMIT, NULL, NULL,
                       "the mesh has no size or its grid has too many cells",
                       "choose a coarser resolution");
    return shape;
}

SolidGrid *
solid_grid_distance(const SolidMesh *mesh, double cell, double margin, double band,
                    Progress *progress, GError **error)
{
    g_return_val_if_fail(cell > 0 && margin >= 0 && band >= 0, NULL);
    g_autoptr(SolidGrid) shape = make_shape(mesh, cell, margin, error);
    if (!shape)
        return NULL;
    g_autofree guint8 *inside = solid_grid_inside(mesh, shape, progress, error);
    if (!inside)
        return NULL;
    return solid_grid_distance_as(mesh, inside, shape, band, progress, error);
}
