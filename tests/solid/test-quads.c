// SPDX-License-Identifier: GPL-3.0-or-later
// A net drawn onto a surface: a cube of quadrilaterals, whose corners are pulled to where the
// crossings say, but not along a wall; and the triangles of it.
#include "solid/quads.h"

#include "check.h"
#include "solid/check.h"
#include "solid/measure.h"

static const guint32 faces[6][4] = {{0, 2, 3, 1}, {4, 5, 7, 6}, {0, 1, 5, 4},
                                    {2, 6, 7, 3}, {0, 4, 6, 2}, {1, 3, 7, 5}};
static const double normals[6][3] = {{0, 0, -1}, {0, 0, 1},  {0, -1, 0},
                                     {0, 1, 0},  {-1, 0, 0}, {1, 0, 0}};

// Crossings `out` beyond the middles of a cube of sides 2 about the origin.
static void
make_cube(Vec3 v[8], SolidQuad quads[6], double out)
{
    for (int i = 0; i < 8; i++)
        v[i] = vec3(i & 1 ? 1 : -1, i & 2 ? 1 : -1, i & 4 ? 1 : -1);
    for (int q = 0; q < 6; q++) {
        quads[q] = (SolidQuad){.crossing = vec3((1 + out) * normals[q][0],
                                                (1 + out) * normals[q][1],
                                                (1 + out) * normals[q][2])};
        for (int c = 0; c < 4; c++)
            quads[q].corner[c] = faces[q][c];
    }
}

// Each corner is told of by three faces, along x, y and z: it goes a third of the way in each, and
// what is left a third again, three times.
static void
test_fit(void)
{
    Vec3 v[8];
    SolidQuad quads[6];
    const double out = 0.137;
    make_cube(v, quads, out);
    solid_quads_fit(v, NULL, 8, quads, 6);
    double reached = 1 + out * (1 - pow(2.0 / 3, 3));
    for (int i = 0; i < 8; i++) {
        check_close(fabs(v[i].x), reached, 1e-12, "three rounds by a third");
        check_close(fabs(v[i].y), reached, 1e-12, "three rounds by a third");
        check_close(fabs(v[i].z), reached, 1e-12, "three rounds by a third");
    }
}

static void
test_walls(void)
{
    Vec3 v[8];
    SolidQuad quads[6];
    guint8 walls[8] = {4, 4, 4, 4, 0, 0, 0, 0};
    make_cube(v, quads, 0.137);
    quads[0].flat = TRUE;
    solid_quads_fit(v, walls, 8, quads, 6);
    for (int i = 0; i < 4; i++) {
        g_assert_cmpfloat(v[i].z, ==, -1);
        g_assert_cmpfloat(fabs(v[i].x), >, 1.05);
    }
    g_assert_cmpfloat(v[7].z, >, 1.05);
}

static void
test_mesh(void)
{
    Vec3 v[8];
    SolidQuad quads[6];
    make_cube(v, quads, 0);
    v[7] = vec3(0.73, 0.81, 0.69); // the shorter diagonal of its faces goes through it
    g_autoptr(SolidMesh) mesh = solid_quads_mesh(v, 8, quads, 6);
    g_assert_cmpuint(mesh->n_triangles, ==, 12);
    SolidCheck check = solid_check(mesh);
    g_assert_true(check.closed);
    g_assert_cmpuint(check.inside_out, ==, 0);
    guint at[8] = {0};
    for (int t = 0; t < 12; t++)
        for (int c = 0; c < 3; c++)
            at[mesh->triangles[t][c]]++;
    g_assert_cmpuint(at[7], ==, 6);
    g_autoptr(SolidMesh) none = solid_quads_mesh(NULL, 0, NULL, 0);
    g_assert_cmpuint(none->n_triangles, ==, 0);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/solid/quads/fit", test_fit);
    g_test_add_func("/solid/quads/walls", test_walls);
    g_test_add_func("/solid/quads/mesh", test_mesh);
    return g_test_run();
}
