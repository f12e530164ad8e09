// SPDX-License-Identifier: GPL-3.0-or-later
// Closed, open, overfull, flipped, degenerate, doubled, shells: on solids spoiled on purpose, and
// against a slow count that shares nothing with the sort.
#include <string.h>

#include "check.h"
#include "solid/check.h"

// Another mesh with some triangles left out (to < 0) or more, given as corners.
static SolidMesh *
with_triangles(const SolidMesh *mesh, guint32 keep, const guint32 (*more)[3], guint32 n_more)
{
    SolidMesh *out = solid_mesh_new(mesh->n_vertices, keep + n_more);
    memcpy(out->vertices, mesh->vertices, mesh->n_vertices * sizeof(Vec3));
    memcpy(out->triangles, mesh->triangles, (gsize)keep * sizeof *out->triangles);
    if (n_more > 0)
        memcpy(out->triangles + keep, more, (gsize)n_more * sizeof *out->triangles);
    return out;
}

static SolidMesh *
join_meshes(const SolidMesh *a, const SolidMesh *b)
{
    SolidMesh *out = solid_mesh_new(a->n_vertices + b->n_vertices, a->n_triangles + b->n_triangles);
    memcpy(out->vertices, a->vertices, a->n_vertices * sizeof(Vec3));
    memcpy(out->vertices + a->n_vertices, b->vertices, b->n_vertices * sizeof(Vec3));
    memcpy(out->triangles, a->triangles, (gsize)a->n_triangles * sizeof *out->triangles);
    for (guint32 t = 0; t < b->n_triangles; t++)
        for (int c = 0; c < 3; c++)
            out->triangles[a->n_triangles + t][c] = b->triangles[t][c] + a->n_vertices;
    return out;
}

static void
check_words(const SolidCheck *check, const char *expected)
{
    g_autofree char *words = solid_check_words(check);
    g_assert_cmpstr(words, ==, expected);
}

static void
test_closed(void)
{
    g_autoptr(SolidMesh) box = check_mesh_box(0.031, 0.017, 0.0113);
    g_autoptr(SolidMesh) torus = check_mesh_torus(0.05, 0.013, 37, 23);
    g_autoptr(SolidMesh) sphere = check_mesh_sphere(0.021, 300, 301); // poles with 301 triangles
    g_autoptr(SolidMesh) plate = check_mesh_blind_plate(0.05, 0.03, 0.01, 0.004, 0.006, 24);
    const SolidMesh *meshes[] = {box, torus, sphere, plate};
    for (gsize i = 0; i < G_N_ELEMENTS(meshes); i++) {
        g_autoptr(SolidMesh) turned = check_mesh_turned(meshes[i]);
        SolidCheck c = solid_check(turned);
        g_assert_true(c.closed);
        g_assert_cmpuint(c.shells, ==, 1);
        g_assert_cmpuint(c.inside_out + c.degenerate + c.duplicates, ==, 0);
        g_assert_false(c.has_where);
        check_words(&c, "closed");
    }
}

static void
test_open(void)
{
    g_autoptr(SolidMesh) box = check_mesh_box(0.020, 0.0084, 0.03);
    // Without its last quad (x = max): four open edges, the first from vertex 1 to 3.
    g_autoptr(SolidMesh) open = with_triangles(box, 10, NULL, 0);
    SolidCheck c = solid_check(open);
    g_assert_false(c.closed);
    g_assert_cmpuint(c.open_edges, ==, 4);
    g_assert_cmpuint(c.overfull_edges + c.flipped_edges, ==, 0);
    g_assert_true(c.has_where);
    check_close(c.where.y, 0.0042, 1e-12, "middle of the edge");
    check_words(&c, "4 open edges, the first near 20.0, 4.2, 0.0 mm");
}

static void
test_flipped(void)
{
    g_autoptr(SolidMesh) box = check_mesh_box(0.02, 0.03, 0.04);
    guint32 turned[1][3] = {{box->triangles[11][0], box->triangles[11][2], box->triangles[11][1]}};
    g_autoptr(SolidMesh) mesh = with_triangles(box, 11, turned, 1);
    SolidCheck c = solid_check(mesh);
    g_assert_false(c.closed);
    g_assert_cmpuint(c.flipped_edges, ==, 3);
    g_assert_cmpuint(c.open_edges + c.overfull_edges, ==, 0);
    g_autoptr(SolidMesh) inverse = solid_mesh_flipped(box);
    c = solid_check(inverse);
    g_assert_true(c.closed);
    g_assert_cmpuint(c.inside_out, ==, 1);
    check_words(&c, "closed, inside out");
}

static void
test_doubled(void)
{
    g_autoptr(SolidMesh) box = check_mesh_box(0.02, 0.03, 0.04);
    const guint32 *t = box->triangles[4];
    const guint32 more[3][3] = {{t[1], t[2], t[0]}, {t[0], t[2], t[1]}, {t[0], t[1], t[2]}};
    for (guint32 n = 1; n <= 3; n++) {
        g_autoptr(SolidMesh) mesh = with_triangles(box, 12, more, n);
        SolidCheck c = solid_check(mesh);
        g_assert_false(c.closed);
        g_assert_cmpuint(c.duplicates, ==, n);
        g_assert_cmpuint(c.overfull_edges, ==, 3);
    }
    // Two triangles back to back: every edge is right, but there is nothing inside.
    const guint32 leaf[2][3] = {{0, 1, 2}, {0, 2, 1}};
    g_autoptr(SolidMesh) pillow = with_triangles(box, 0, leaf, 2);
    SolidCheck c = solid_check(pillow);
    g_assert_cmpuint(c.duplicates, ==, 1);
    check_words(&c, "closed, 1 doubled triangle");
}

static void
test_degenerate(void)
{
    g_autoptr(SolidMesh) box = check_mesh_box(0.02, 0.03, 0.04);
    const guint32 more[2][3] = {{3, 3, 5}, {1, 1, 1}};
    g_autoptr(SolidMesh) mesh = with_triangles(box, 12, more, 2);
    SolidCheck c = solid_check(mesh);
    g_assert_true(c.closed); // what repeats a vertex is nothing
    g_assert_cmpuint(c.degenerate, ==, 2);
    g_assert_cmpuint(c.shells, ==, 1);
    check_words(&c, "closed, 2 triangles without area");
    // Three different vertices on one odd line.
    g_autoptr(SolidMesh) flat = solid_mesh_new(3, 1);
    for (guint32 i = 0; i < 3; i++) {
        flat->vertices[i] = vec3(0.0137 * i, 0.0021 * i, 0.3 + 0.0071 * i);
        flat->triangles[0][i] = i;
    }
    g_assert_cmpuint(solid_check(flat).degenerate, ==, 1);
}

static void
test_shells(void)
{
    g_autoptr(SolidMesh) box = check_mesh_box(0.02, 0.03, 0.04);
    g_autoptr(SolidMesh) ball = check_mesh_sphere(0.005, 8, 12);
    g_autoptr(SolidMesh) hole = solid_mesh_flipped(ball);
    g_autoptr(SolidMesh) two = join_meshes(hole, box);
    g_autoptr(SolidMesh) three = join_meshes(two, ball);
    SolidCheck c = solid_check(two);
    g_assert_cmpuint(c.hollows, ==, 1);
    check_words(&c, "closed, 2 separate shells, 1 enclosed hollow");
    c = solid_check(three);
    g_assert_cmpuint(c.shells, ==, 3);
    g_assert_true(c.closed);
    check_words(&c, "closed, 3 separate shells, 1 enclosed hollow");
    // Two boxes that share an edge after welding: overfull, and one piece.
    const double same[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    g_autoptr(SolidMesh) beside = solid_mesh_transformed(box, same, vec3(0.02, 0.03, 0));
    g_autoptr(SolidMesh) both = join_meshes(box, beside);
    g_autoptr(SolidMesh) welded = solid_mesh_weld(both);
    g_assert_cmpuint(welded->n_vertices, ==, 14);
    c = solid_check(welded);
    g_assert_cmpuint(c.overfull_edges, ==, 1);
    g_assert_cmpuint(c.shells, ==, 1);
    check_close(c.where.z, 0.02, 1e-12, "half way up the shared edge");
}

static void
test_empty(void)
{
    g_autoptr(SolidMesh) nothing = solid_mesh_new(0, 0);
    SolidCheck c = solid_check(nothing);
    g_assert_false(c.closed);
    check_words(&c, "no triangles");
}

// Counts the edges of a small mesh by comparing every half edge with every other.
static void
count_slowly(const SolidMesh *mesh, SolidCheck *out)
{
    guint32 n = 3 * mesh->n_triangles;
    for (guint32 i = 0; i < n; i++) {
        const guint32 *t = mesh->triangles[i / 3];
        guint32 a = t[i % 3], b = t[(i + 1) % 3], same = 0, other = 0, earlier = 0;
        if (t[0] == t[1] || t[1] == t[2] || t[2] == t[0])
            continue;
        for (guint32 j = 0; j < n; j++) {
            const guint32 *u = mesh->triangles[j / 3];
            guint32 c = u[j % 3], d = u[(j + 1) % 3];
            if (u[0] == u[1] || u[1] == u[2] || u[2] == u[0])
                continue;
            same += c == a && d == b;
            other += c == b && d == a;
            earlier += j < i && ((c == a && d == b) || (c == b && d == a));
        }
        if (earlier)
            continue;
        out->open_edges += same + other == 1;
        out->overfull_edges += same + other > 2;
        out->flipped_edges += same == 2 && other == 0;
    }
    for (guint32 i = 0; i < mesh->n_triangles; i++)
        for (guint32 j = 0, found = 0; j < i && !found; j++) {
            const guint32 *t = mesh->triangles[i], *u = mesh->triangles[j];
            guint32 shared = 0;
            for (int c = 0; c < 9; c++)
                shared += t[c / 3] == u[c % 3];
            gboolean repeats = t[0] == t[1] || t[1] == t[2] || t[2] == t[0] || u[0] == u[1] ||
                               u[1] == u[2] || u[2] == u[0];
            found = shared == 3 && !repeats;
            out->duplicates += found;
        }
}

static void
test_against_slow(void)
{
    g_autoptr(GRand) rand = g_rand_new_with_seed(99);
    for (int round = 0; round < 300; round++) {
        guint32 vertices = (guint32)g_rand_int_range(rand, 3, 20);
        SolidCheck slow = {0};
        g_autoptr(SolidMesh)
                      mesh = solid_mesh_new(vertices, (guint32)g_rand_int_range(rand, 1, 80));
        for (guint32 i = 0; i < vertices; i++)
            mesh->vertices[i] = vec3(g_rand_double(rand), g_rand_double(rand), g_rand_double(rand));
        for (guint32 i = 0; i < 3 * mesh->n_triangles; i++)
            mesh->triangles[i / 3][i % 3] = (guint32)g_rand_int_range(rand, 0, (gint32)vertices);
        SolidCheck fast = solid_check(mesh);
        count_slowly(mesh, &slow);
        g_assert_cmpuint(fast.open_edges, ==, slow.open_edges);
        g_assert_cmpuint(fast.overfull_edges, ==, slow.overfull_edges);
        g_assert_cmpuint(fast.flipped_edges, ==, slow.flipped_edges);
        g_assert_cmpuint(fast.duplicates, ==, slow.duplicates);
    }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/solid/check/closed", test_closed);
    g_test_add_func("/solid/check/open", test_open);
    g_test_add_func("/solid/check/flipped", test_flipped);
    g_test_add_func("/solid/check/doubled", test_doubled);
    g_test_add_func("/solid/check/degenerate", test_degenerate);
    g_test_add_func("/solid/check/shells", test_shells);
    g_test_add_func("/solid/check/empty", test_empty);
    g_test_add_func("/solid/check/against-slow", test_against_slow);
    return g_test_run();
}
