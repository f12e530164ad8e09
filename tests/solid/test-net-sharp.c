// SPDX-License-Identifier: GPL-3.0-or-later
// A sharp net: edges and corners stand where the walls meet, smooth surfaces stay as they are, and
// the net stays closed.
#include "check.h"
#include "solid/check.h"
#include "solid/measure.h"
#include "solid/net.h"
#include "solid/share.h"

#define MM 1e-3

// Distances along a line to bodies with two walls, by hand.
static void
test_share(void)
{
    ShareSide side;
    // One wall at 0.37: all lines agree.
    ShareLine wall = {{-2.37, -1.37, -0.37, 0.63, 1.63, 2.63}, 1};
    check_close(solid_share(&wall, &side), 0.37, 1e-12, "closed form");
    g_assert_cmpint(side, ==, SHARE_EVEN);
    // An edge of metal: the cell within is only 0.11 from a wall along the line; that across it is
    // at 0.83. A straight line would end at 0.11 / 0.28.
    ShareLine edge = {{-0.11, -0.11, -0.11, 0.17, 1.17, 2.17}, 1};
    check_close(solid_share(&edge, &side), 0.83, 1e-12, "closed form");
    g_assert_cmpint(side, ==, SHARE_OUT);
    // The same corner with metal and sand changed about, seen from the other end.
    ShareLine corner = {{-2.17, -1.17, -0.17, 0.11, 0.11, 0.11}, 1};
    check_close(solid_share(&corner, &side), 0.17, 1e-12, "closed form");
    g_assert_cmpint(side, ==, SHARE_IN);
    // Where the grid ends on one side nothing is known of a bend.
    ShareLine end = {{NAN, NAN, -0.2, 0.6, 1.6, 2.6}, 1};
    check_close(solid_share(&end, &side), 0.25, 1e-12, "closed form");
    g_assert_cmpint(side, ==, SHARE_EVEN);
    // Beside a flat end, 0.05 away, a line passes a round wall of radius 40 at 17 from its middle;
    // the wall is where the line, carried back with its bend, says.
    ShareLine round = {{-0.05, -0.05, -0.05, 0, 0, 0}, 1};
    double across = sqrt(1600 - 289);
    for (int i = 3; i < 6; i++)
        round.d[i] = hypot(across - 0.41 + (i - 2), 17) - 40;
    check_close(solid_share(&round, &side), 0.41, 1e-3, "closed form");
    g_assert_cmpint(side, ==, SHARE_OUT);
}

static SolidGrid *
measure_mesh(const SolidMesh *mesh, double cell)
{
    g_autoptr(GError) error = NULL;
    SolidGrid *g = solid_grid_distance(mesh, cell, 4 * cell, 4 * cell, NULL, &error);
    g_assert_no_error(error);
    return g;
}

static double
find_nearest(const SolidMesh *mesh, Vec3 p)
{
    double best = INFINITY;
    for (guint32 v = 0; v < mesh->n_vertices; v++)
        best = fmin(best, vec3_length(vec3_sub(mesh->vertices[v], p)));
    return best;
}

// A box turned anyhow: each of its corners has a vertex of the net, and the volume is the box's.
static void
test_box(void)
{
    double x = 31.7 * MM, y = 23.3 * MM, z = 17.9 * MM, cell = 1.03 * MM;
    g_autoptr(SolidMesh) straight = check_mesh_box(x, y, z);
    g_autoptr(SolidMesh) box = check_mesh_turned(straight);
    g_autoptr(SolidGrid) g = measure_mesh(box, cell);
    SolidNetForm form = {.sharp = TRUE};
    g_autoptr(SolidMesh) sharp = solid_net(g, &form, NULL, NULL);
    g_autoptr(SolidMesh) plain = solid_net(g, NULL, NULL, NULL);
    g_assert_true(solid_check(sharp).closed);
    g_assert_cmpuint(sharp->n_triangles, ==, plain->n_triangles);
    double volume = x * y * z, bevelled = solid_measure(plain).volume;
    check_close(solid_measure(sharp).volume, volume, 5e-4, "closed form");
    g_assert_cmpfloat(fabs(solid_measure(sharp).volume - volume), <, fabs(bevelled - volume) / 3);
    double worst = 0, worst_plain = 0;
    for (guint32 v = 0; v < box->n_vertices; v++) {
        worst = fmax(worst, find_nearest(sharp, box->vertices[v]));
        worst_plain = fmax(worst_plain, find_nearest(plain, box->vertices[v]));
    }
    g_test_message("corners off by %.3f cells, %.3f in a plain net", worst / cell,
                   worst_plain / cell);
    g_assert_cmpfloat(worst, <, 0.3 * cell);
    g_assert_cmpfloat(worst_plain, >, 0.4 * cell);
}

// Nothing on a ball is an edge.
static void
test_ball(void)
{
    g_autoptr(SolidMesh) ball = check_mesh_sphere(23.1 * MM, 60, 120);
    g_autoptr(SolidGrid) g = measure_mesh(ball, 1.3 * MM);
    SolidNetForm form = {.sharp = TRUE};
    g_autoptr(SolidMesh) sharp = solid_net(g, &form, NULL, NULL);
    g_autoptr(SolidMesh) plain = solid_net(g, NULL, NULL, NULL);
    for (guint32 v = 0; v < sharp->n_vertices; v++)
        g_assert_cmpfloat(vec3_length(vec3_sub(sharp->vertices[v], plain->vertices[v])), <,
                          0.02 * g->cell);
}

// The normal of a plane is found at each of its crossings, and beside an edge too.
static void
test_normal(void)
{
    Vec3 n = vec3_unit(vec3(0.37, -0.61, 0.83));
    g_autoptr(SolidGrid) g = solid_grid_new(9, 11, 10, 1.7 * MM, vec3(0, 0, 0));
    for (int k = 0; k < g->nz; k++)
        for (int j = 0; j < g->ny; j++)
            for (int i = 0; i < g->nx; i++) {
                Vec3 p = vec3((i - 4.3) * g->cell, (j - 5.2) * g->cell, (k - 4.6) * g->cell);
                double wall = p.x - 1.2 * g->cell; // the other wall of an edge
                g->value[solid_grid_index(g, i, j, k)] = (float)fmax(vec3_dot(n, p), wall);
            }
    guint looked = 0;
    for (int k = 1; k + 2 < g->nz; k++)
        for (int j = 1; j + 2 < g->ny; j++)
            for (int i = 1; i < 5; i++) {
                const float *p = g->value + solid_grid_index(g, i, j, k);
                if ((p[0] <= 0) == (p[(gsize)g->nx * g->ny] <= 0))
                    continue;
                Vec3 found = solid_net_normal(g, i, j, k, 2);
                g_assert_cmpfloat(vec3_dot(found, n), >, 0.9999);
                looked++;
            }
    g_assert_cmpuint(looked, >, 20);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/net-sharp/share", test_share);
    g_test_add_func("/net-sharp/box", test_box);
    g_test_add_func("/net-sharp/ball", test_ball);
    g_test_add_func("/net-sharp/normal", test_normal);
    return g_test_run();
}
