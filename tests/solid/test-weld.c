// SPDX-License-Identifier: GPL-3.0-or-later
// Welding: exact bits, both zeros, order, stray vertices, growth, and the count of different points
// against a hash table of another make.
#include <string.h>

#include "check.h"
#include "solid/check.h"
#include "solid/weld-table.h"

static SolidMesh *
make_loose(const SolidMesh *mesh)
{
    SolidMesh *loose = solid_mesh_new(3 * mesh->n_triangles, mesh->n_triangles);
    for (guint32 i = 0; i < loose->n_vertices; i++) {
        loose->vertices[i] = mesh->vertices[mesh->triangles[i / 3][i % 3]];
        loose->triangles[i / 3][i % 3] = i;
    }
    return loose;
}

static void
check_same_corners(const SolidMesh *a, const SolidMesh *b)
{
    g_assert_cmpuint(a->n_triangles, ==, b->n_triangles);
    for (guint32 i = 0; i < 3 * a->n_triangles; i++)
        g_assert_cmpmem(&a->vertices[a->triangles[i / 3][i % 3]], sizeof(Vec3),
                        &b->vertices[b->triangles[i / 3][i % 3]], sizeof(Vec3));
}

static void
test_loose(void)
{
    g_autoptr(SolidMesh) sphere = check_mesh_sphere(0.0271, 150, 211);
    g_autoptr(SolidMesh) turned = check_mesh_turned(sphere);
    g_autoptr(SolidMesh) loose = make_loose(turned);
    g_autoptr(SolidMesh) welded = solid_mesh_weld(loose);
    g_assert_cmpuint(welded->n_vertices, ==, sphere->n_vertices);
    g_assert_true(solid_check(welded).closed);
    check_same_corners(loose, welded);
    g_autoptr(SolidMesh) again = solid_mesh_weld(welded);
    g_assert_cmpmem(again->vertices, again->n_vertices * sizeof(Vec3), welded->vertices,
                    welded->n_vertices * sizeof(Vec3));
    g_assert_cmpmem(again->triangles, again->n_triangles * sizeof *again->triangles,
                    welded->triangles, welded->n_triangles * sizeof *welded->triangles);
}

static void
test_zeros(void)
{
    g_autoptr(SolidMesh) mesh = solid_mesh_new(6, 2);
    const Vec3 points[6] = {{0.0, 1, -0.0}, {2, 0, 0},       {0, 3, 1},
                            {-0.0, 1, 0.0}, {2, -0.0, -0.0}, {0, 3, nextafter(1, 2)}};
    memcpy(mesh->vertices, points, sizeof points);
    for (guint32 i = 0; i < 6; i++)
        mesh->triangles[i / 3][i % 3] = i;
    g_autoptr(SolidMesh) welded = solid_mesh_weld(mesh);
    g_assert_cmpuint(welded->n_vertices, ==, 4); // one bit is a difference, a sign of zero is none
    for (guint32 i = 0; i < welded->n_vertices; i++) {
        g_assert_false(signbit(welded->vertices[i].x));
        g_assert_false(signbit(welded->vertices[i].y));
        g_assert_false(signbit(welded->vertices[i].z));
    }
}

static void
test_stray(void)
{
    g_autoptr(SolidMesh) mesh = solid_mesh_new(2000, 1);
    for (guint32 i = 0; i < 2000; i++)
        mesh->vertices[i] = vec3(i, 0, 0);
    mesh->triangles[0][0] = 1999;
    mesh->triangles[0][1] = 7;
    mesh->triangles[0][2] = 1000;
    g_autoptr(SolidMesh) welded = solid_mesh_weld(mesh);
    g_assert_cmpuint(welded->n_vertices, ==, 3);
    check_same_corners(mesh, welded);
    g_autoptr(SolidMesh) nothing = solid_mesh_new(0, 0);
    g_autoptr(SolidMesh) still = solid_mesh_weld(nothing);
    g_assert_cmpuint(still->n_vertices + still->n_triangles, ==, 0);
}

static guint
hash_vec(gconstpointer p)
{
    g_autoptr(GBytes) bytes = g_bytes_new_static(p, sizeof(Vec3));
    return g_bytes_hash(bytes);
}

static gboolean
equal_vec(gconstpointer a, gconstpointer b)
{
    return memcmp(a, b, sizeof(Vec3)) == 0;
}

// Many points that fall together, from a table expecting one.
static void
test_against_hash_table(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(31);
    guint32 n = 200000;
    g_autofree Vec3 *points = g_new(Vec3, n);
    g_autofree guint32 *numbers = g_new(guint32, n);
    g_autoptr(GHashTable) seen = g_hash_table_new(hash_vec, equal_vec);
    SolidWeldTable table;
    for (guint32 i = 0; i < n; i++) {
        points[i] = vec3(g_rand_int_range(rand, 0, 50) * 0.1, g_rand_int_range(rand, 0, 50) / 3.0,
                         g_rand_int_range(rand, 0, 50) * 1e-9);
        g_hash_table_add(seen, &points[i]);
    }
    solid_weld_table_init(&table, 1);
    solid_weld_table_add(&table, points, n, numbers);
    g_assert_cmpuint(table.n_vertices, ==, g_hash_table_size(seen));
    guint32 highest = 0;
    for (guint32 i = 0; i < n; i++) {
        g_assert_cmpmem(&table.vertices[numbers[i]], sizeof(Vec3), &points[i], sizeof(Vec3));
        g_assert_cmpuint(numbers[i], <=, highest); // in order of first appearance
        highest = MAX(highest, numbers[i] + 1);
    }
    solid_weld_table_clear(&table);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/solid/weld/loose", test_loose);
    g_test_add_func("/solid/weld/zeros", test_zeros);
    g_test_add_func("/solid/weld/stray", test_stray);
    g_test_add_func("/solid/weld/against-hash-table", test_against_hash_table);
    return g_test_run();
}
