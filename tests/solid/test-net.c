// SPDX-License-Identifier: GPL-3.0-or-later
// The net over a region: closed and manifold on any field, in the right place on a smooth one.
#include "check.h"
#include "solid/check.h"
#include "solid/measure.h"
#include "solid/net.h"

#define MM 1e-3

static int
compare_edges(const void *a, const void *b)
{
    const guint64 *x = a, *y = b;
    return *x < *y ? -1 : *x > *y;
}

// Each edge once in each direction; returns their number.
static guint
check_edges(const SolidMesh *mesh)
{
    gsize n = 3 * (gsize)mesh->n_triangles;
    g_autofree guint64 *edges = g_new(guint64, n);
    g_autofree guint64 *back = g_new(guint64, n);
    for (gsize e = 0; e < n; e++) {
        guint64 a = mesh->triangles[e / 3][e % 3], b = mesh->triangles[e / 3][(e + 1) % 3];
        edges[e] = a << 32 | b;
        back[e] = b << 32 | a;
    }
    qsort(edges, n, sizeof *edges, compare_edges);
    qsort(back, n, sizeof *back, compare_edges);
    for (gsize e = 0; e < n; e++) {
        if (e > 0)
            g_assert_cmpuint(edges[e], !=, edges[e - 1]);
        g_assert_cmpuint(edges[e], ==, back[e]);
    }
    return (guint)(n / 2);
}

// Going round a vertex from triangle to triangle comes past all of its triangles.
static void
check_fans(const SolidMesh *mesh)
{
    g_autofree guint *around = g_new0(guint, mesh->n_vertices);
    g_autofree guint32 *some = g_new0(guint32, mesh->n_vertices);
    g_autoptr(GHashTable) owner = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, NULL);
    for (guint32 t = 0; t < mesh->n_triangles; t++)
        for (int c = 0; c < 3; c++) {
            guint64 key = (guint64)mesh->triangles[t][c] << 32 | mesh->triangles[t][(c + 1) % 3];
            g_hash_table_insert(owner, g_memdup2(&key, sizeof key),
                                GUINT_TO_POINTER(3 * t + (guint)c));
            around[mesh->triangles[t][c]]++;
            some[mesh->triangles[t][c]] = 3 * t + (guint)c;
        }
    for (guint32 v = 0; v < mesh->n_vertices; v++) {
        guint n = 0;
        guint32 at = some[v];
        do {
            guint64 key = (guint64)v << 32 | mesh->triangles[at / 3][(at % 3 + 2) % 3];
            at = GPOINTER_TO_UINT(g_hash_table_lookup(owner, &key));
            n++;
        } while (at != some[v] && n <= around[v]);
        g_assert_cmpuint(n, ==, around[v]);
    }
}

static SolidGrid *
make_grid(int nx, int ny, int nz)
{
    SolidGrid *g = solid_grid_new(nx, ny, nz, 1.3 * MM, vec3(3.1 * MM, -7.7 * MM, 0.9 * MM));
    for (gsize at = 0; at < (gsize)nx * ny * nz; at++)
        g->value[at] = 1;
    return g;
}

// Random values reach every case of a cube beside every other. Rows longer than 64 cells.
static void
test_noise(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(4711);
    for (int share = 1; share < 8; share++) {
        g_autoptr(SolidGrid) g = make_grid(71, 23, 19);
        for (int k = 1; k < g->nz - 1; k++)
            for (int j = 1; j < g->ny - 1; j++)
                for (int i = 1; i < g->nx - 1; i++)
                    g->value[solid_grid_index(g, i, j, k)] = (float)(g_rand_double(rand) -
                                                                     share / 8.0);
        g_autoptr(SolidMesh) mesh = solid_net(g, NULL, NULL, NULL);
        check_edges(mesh);
        check_fans(mesh);
        g_assert_true(solid_check(mesh).closed);
    }
}

// Cells in or out that touch along an edge or at a corner only are bodies or hollows of their own.
static void
test_touching(void)
{
    static const int other[2][3] = {{4, 4, 3}, {4, 4, 4}};
    for (int way = 0; way < 2; way++)
        for (int hollow = 0; hollow < 2; hollow++) {
            g_autoptr(SolidGrid) g = make_grid(8, 8, 8);
            const int *o = other[way];
            for (int k = 1; k < 7; k++)
                for (int j = 1; j < 7; j++)
                    for (int i = 1; i < 7; i++)
                        g->value[solid_grid_index(g, i, j, k)] = hollow ? -0.7F : 0.7F;
            g->value[solid_grid_index(g, 3, 3, 3)] = hollow ? 0.4F : -0.4F;
            g->value[solid_grid_index(g, o[0], o[1], o[2])] = hollow ? 0.4F : -0.4F;
            g_autoptr(SolidMesh) mesh = solid_net(g, NULL, NULL, NULL);
            // A cell: a vertex in each of 8 cubes, 6 quadrilaterals. The block: 7^3 - 5^3 cubes.
            guint vertices = 16 + (hollow ? 343 - 125 : 0);
            guint triangles = 24 + (hollow ? 2 * 6 * 36 : 0);
            g_assert_cmpuint(mesh->n_vertices, ==, vertices);
            g_assert_cmpuint(mesh->n_triangles, ==, triangles);
            check_edges(mesh);
            check_fans(mesh);
        }
}

static void
test_ball(void)
{
    g_autoptr(SolidGrid) g = make_grid(67, 70, 66);
    Vec3 middle = vec3_add(g->origin, vec3(42.3 * MM, 45.1 * MM, 41.9 * MM));
    double radius = 33.7 * MM;
    for (int k = 0; k < g->nz; k++)
        for (int j = 0; j < g->ny; j++)
            for (int i = 0; i < g->nx; i++) {
                Vec3 p = vec3_add(g->origin, vec3(i * g->cell, j * g->cell, k * g->cell));
                double d = vec3_length(vec3_sub(p, middle)) - radius;
                g->value[solid_grid_index(g, i, j, k)] = (float)d;
            }
    g_autoptr(SolidMesh) mesh = solid_net(g, NULL, NULL, NULL);
    guint edges = check_edges(mesh);
    check_fans(mesh);
    g_assert_cmpint((int)mesh->n_vertices - (int)edges + (int)mesh->n_triangles, ==, 2);
    SolidMeasure m = solid_measure(mesh);
    check_close(m.volume, 4 * G_PI / 3 * pow(radius, 3), 1e-3, "ball");
    check_close(m.area, 4 * G_PI * pow(radius, 2), 1e-3, "ball");
    for (guint32 v = 0; v < mesh->n_vertices; v++)
        check_close(vec3_length(vec3_sub(mesh->vertices[v], middle)), radius, 1e-3, "ball");
}

// A region that reaches the grid's edge is left open there, and nothing is read beyond.
static void
test_open(void)
{
    g_autoptr(SolidGrid) g = make_grid(65, 5, 4);
    for (gsize at = 0; at < (gsize)65 * 5 * 4; at++)
        g->value[at] = at % 65 < 31 ? -0.3F : 0.6F;
    g_autoptr(SolidMesh) mesh = solid_net(g, NULL, NULL, NULL);
    g_assert_cmpuint(mesh->n_triangles, ==, 2 * 3 * 2);
    for (guint32 v = 0; v < mesh->n_vertices; v++)
        check_close(mesh->vertices[v].x, g->origin.x + (30 + 1.0 / 3) * g->cell, 1e-6,
                    "0.3 of 0.9");
    g_autoptr(SolidGrid) thin = make_grid(1, 1, 1);
    g_autoptr(SolidMesh) none = solid_net(thin, NULL, NULL, NULL);
    g_assert_cmpuint(none->n_triangles, ==, 0);
}

static void
test_stop(void)
{
    g_autoptr(SolidGrid) g = make_grid(9, 9, 9);
    g_autoptr(Progress) progress = progress_new();
    g_autoptr(GError) error = NULL;
    progress_stop(progress);
    g_assert_null(solid_net(g, NULL, progress, &error));
    g_assert_error(error, BASE_ERROR, BASE_ERROR_CANCELLED);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/net/noise", test_noise);
    g_test_add_func("/net/touching", test_touching);
    g_test_add_func("/net/ball", test_ball);
    g_test_add_func("/net/open", test_open);
    g_test_add_func("/net/stop", test_stop);
    return g_test_run();
}
