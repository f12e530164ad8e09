// SPDX-License-Identifier: GPL-3.0-or-later
// Sand cover in space: against every point and triangle of random placements, closed forms of
// spheres, and measuring anew after a move.
#include <math.h>

#include "check.h"
#include "mould/build.h"
#include "mould/gap.h"
#include "mould/space.h"
#include "solid/triangle.h"

static MouldBody *
body_of(SolidMesh *mesh, double cell)
{
    MouldBody *body = mould_body_new(mesh, NULL, cell, NULL, NULL);
    g_assert_nonnull(body);
    solid_mesh_unref(mesh);
    return body;
}

// Least distance of a's points (all vertices and many more) to b's triangles.
static double
try_all(const MouldBody *a, const MouldPose *at_a, const MouldBody *b, const MouldPose *at_b)
{
    double least = INFINITY;
    for (guint i = 0; i < a->n_points; i++) {
        Vec3 p = mould_pose_back(at_b, mould_pose_out(at_a, a->points[i]));
        for (guint t = 0; t < b->mesh->n_triangles; t++) {
            const guint32 *c = b->mesh->triangles[t];
            Vec3 v[3] = {b->mesh->vertices[c[0]], b->mesh->vertices[c[1]], b->mesh->vertices[c[2]]};
            least = fmin(least, solid_triangle_distance(p, v, NULL));
        }
    }
    return least;
}

static void
test_bodies_against_all(void)
{
    const double cell = 0.0013;
    g_autoptr(MouldBody) ring = body_of(check_mesh_torus(0.0193, 0.0061, 31, 13), cell);
    g_autoptr(SolidMesh) plate = check_mesh_box(0.0417, 0.0189, 0.0073);
    g_autoptr(MouldBody) box = body_of(check_mesh_turned(plate), cell);
    const MouldBody *bodies[2] = {ring, box};
    g_autoptr(GRand) rand = g_rand_new_with_seed(1931);
    int apart = 0;
    for (int i = 0; i < 60; i++) {
        const MouldBody *a = bodies[i % 2], *b = bodies[(i / 2) % 2];
        double r = g_rand_double_range(rand, 0.02, 0.085), way = g_rand_double_range(rand, 0, 6.3);
        MouldPose at_a = mould_pose(0.013, -0.007, g_rand_double_range(rand, -7, 7));
        MouldPose at_b = mould_pose(0.013 + r * cos(way), -0.007 + r * sin(way),
                                    g_rand_double_range(rand, -7, 7));
        Vec3 on_a, on_b;
        double d = mould_gap_bodies(a, &at_a, b, &at_b, &on_a, &on_b);
        double brute = fmin(try_all(a, &at_a, b, &at_b), try_all(b, &at_b, a, &at_a));
        if (d == 0) // skins cross: points of one come near the other's skin
            continue;
        apart++;
        g_assert_cmpfloat(fabs(d - brute), <, cell / 2);
        g_assert_cmpfloat(d, <=, brute + 1e-5);
        check_close(vec3_length(vec3_sub(on_a, on_b)), d, 1e-6, "distance of the two ends");
    }
    g_assert_cmpint(apart, >, 25);
}

static void
test_spheres(void)
{
    g_autoptr(MouldBody) ball = body_of(check_mesh_sphere(0.0171, 60, 120), 0.001);
    MouldPose a = mould_pose(0, 0, 0.3), b = mould_pose(0.043, 0.0321, 2.1);
    Vec3 p, q;
    double expected = hypot(0.043, 0.0321) - 2 * 0.0171;
    double d = mould_gap_bodies(ball, &a, ball, &b, &p, &q);
    g_assert_cmpfloat(fabs(d - expected), <, 1e-4);
    b = mould_pose(0.9, 0.7, 0); // far beyond the field
    d = mould_gap_bodies(ball, &a, ball, &b, &p, &q);
    g_assert_cmpfloat(fabs(d - (hypot(0.9, 0.7) - 2 * 0.0171)), <, 1e-4);
    b = mould_pose(0.011, 0.002, 0);
    g_assert_cmpfloat(mould_gap_bodies(ball, &a, ball, &b, &p, &q), ==, 0);
}

static void
test_volume(void)
{
    g_autoptr(MouldBody) cone = body_of(check_mesh_frustum(0.021, 0.013, 0.0373, 400), 0.002);
    double z = 0.0217, r = 0.021 - 0.008 * z / 0.0373;
    double below = G_PI / 3 * z * (0.021 * 0.021 + 0.021 * r + r * r);
    check_close(mould_body_volume_below(cone, z), below, 2e-4, "frustum");
    double all = G_PI / 3 * 0.0373 * (0.021 * 0.021 + 0.021 * 0.013 + 0.013 * 0.013);
    check_close(mould_body_volume_below(cone, 1), all, 1e-4, "frustum");
    g_assert_cmpfloat(mould_body_volume_below(cone, -1), ==, 0);
}

static void
test_props(void)
{
    MouldProp disc = mould_prop_disc(0.1, 0.02, 0.03, 0, 0.05);
    MouldChannel line = {-0.06, -0.08, 0.06, 0.08, 0.01, 0.012};
    MouldProp bar = mould_prop_bar(&line, -0.012, 0);
    Vec3 p, q;
    // Distance of a point from the line y = 4x/3, less half width and radius; in one plane z = 0.
    double aside = fabs(0.8 * 0.1 - 0.6 * 0.02) - 0.005 - 0.015;
    check_close(mould_prop_distance(&disc, &bar, &p, &q), aside, 1e-5, "point to line");
    MouldProp cone = {
        .x = -0.03, .low = 0, .high = 0.09, .low_radius = 0.004, .high_radius = 0.011};
    // The slanting side's line in the plane through both axes.
    double lean = atan2(0.007, 0.09), apart = 0.1 + 0.03 - 0.015;
    MouldProp other = mould_prop_disc(0.1, 0, 0.03, 0, 0.05);
    double at = 0.05; // the other's upper edge
    double expected = (apart - (0.004 + 0.007 * at / 0.09)) * cos(lean);
    check_close(mould_prop_distance(&cone, &other, &p, &q), expected, 1e-5, "point to line");
    Vec3 inside = mould_prop_nearest(&cone, vec3(-0.031, 0.001, 0.04));
    check_close(inside.x, -0.031, 1e-15, "stays");
    Vec3 over = mould_prop_nearest(&cone, vec3(-0.031, 0.001, 0.4));
    check_close(over.z, 0.09, 1e-15, "lid");
    Vec3 on_axis = mould_prop_nearest(&cone, vec3(-0.03, 0, -0.4));
    check_close(on_axis.z, 0, 1e-15, "floor");
}

static void
test_walls(void)
{
    MouldWalls walls = {.length = 0.3, .width = 0.2, .cope = 0.1, .drag = 0.1, .draft = 0.087};
    Vec3 wall, p = vec3(0.09, 0.071, 0.04);
    double lean = tan(0.087) * 0.04;
    double expected = (0.1 - lean - 0.071) * cos(0.087);
    check_close(mould_walls_distance(&walls, p, &wall), expected, 1e-12, "point to plane");
    check_close(wall.y, 0.1 - tan(0.087) * wall.z, 1e-12, "on the wall");
    walls.round = TRUE;
    expected = (0.15 - lean - hypot(0.09, 0.071)) * cos(0.087);
    check_close(mould_walls_distance(&walls, p, &wall), expected, 1e-12, "point to cone");
    check_close(hypot(wall.x, wall.y), 0.15 - tan(0.087) * wall.z, 1e-12, "on the wall");
    g_assert_cmpfloat(mould_walls_distance(&walls, vec3(0.2, 0, 0), NULL), <, 0);
}

static MouldLayout *
make_layout(guint n, double riser)
{
    MouldLayout *l = mould_layout_new();
    l->length = 0.5;
    l->width = 0.31;
    l->cope = l->drag = 0.09;
    l->n_cavities = n;
    l->cavities = g_new0(MouldCavity, n);
    for (guint i = 0; i < n; i++) {
        double x = -0.18 + 0.072 * (i / 2), y = i % 2 ? 0.09 : -0.09;
        l->cavities[i] = (MouldCavity){x, y, i % 2 ? 0 : G_PI, NAN, NAN, x, y};
        if (riser > 0) {
            l->cavities[i].riser_x = x;
            l->cavities[i].riser_y = y / 2.3;
        }
    }
    l->riser.diameter = riser;
    l->riser.height = 1.2 * riser;
    l->runners = g_new0(MouldChannel, 1);
    l->n_runners = 1;
    l->runners[0] = (MouldChannel){-0.2, 0, 0.2, 0, 0.014, 0.014};
    l->sprue_x = 0.036;
    l->sprue_bottom_diameter = 0.009;
    l->sprue_top_diameter = 0.019;
    l->sprue_height = 0.09;
    l->well_diameter = 0.02;
    l->well_depth = 0.02;
    return l;
}

static void
compare(const MouldSpace *a, const MouldSpace *b)
{
    for (int kind = 0; kind < MOULD_COVERS; kind++)
        check_close(mould_space_least(a, kind).distance, mould_space_least(b, kind).distance, 0,
                    "measured from nothing");
}

static void
test_moves(void)
{
    g_autoptr(MouldBody) body = body_of(check_mesh_torus(0.0193, 0.0061, 31, 13), 0.0013);
    for (int riser = 0; riser < 2; riser++) {
        g_autoptr(MouldLayout) l = make_layout(10, riser * 0.0213);
        g_autoptr(MouldSpace) space = mould_space_measure(l, body, NULL);
        g_autoptr(GRand) rand = g_rand_new_with_seed(7);
        for (int i = 0; i < 12; i++) {
            MouldCavity *c = &l->cavities[g_rand_int_range(rand, 0, 10)];
            c->x += g_rand_double_range(rand, -0.009, 0.009);
            c->turn += g_rand_double_range(rand, -1, 1);
            g_autoptr(MouldSpace) moved = mould_space_measure(l, body, space);
            g_autoptr(MouldSpace) anew = mould_space_measure(l, body, NULL);
            compare(moved, anew);
            g_assert_cmpuint(mould_space_measured(moved), <, mould_space_measured(anew));
            mould_space_unref(space);
            space = g_steal_pointer(&moved);
        }
    }
}

static void
test_covers(void)
{
    // A ball: everything in closed form.
    const double r = 0.0171;
    g_autoptr(MouldBody) ball = body_of(check_mesh_sphere(r, 80, 160), 0.001);
    g_autoptr(MouldLayout) l = make_layout(10, 0);
    g_autoptr(MouldSpace) s = mould_space_measure(l, ball, NULL);
    const double near = 1.5e-4;
    g_assert_cmpfloat(fabs(mould_space_least(s, MOULD_COVER_BETWEEN).distance - (0.072 - 2 * r)), <,
                      near);
    g_assert_cmpfloat(fabs(mould_space_least(s, MOULD_COVER_WALL).distance - (0.155 - 0.09 - r)), <,
                      near);
    g_assert_cmpfloat(fabs(mould_space_least(s, MOULD_COVER_TOP).distance - (0.09 - r)), <, near);
    g_assert_cmpfloat(fabs(mould_space_least(s, MOULD_COVER_BOTTOM).distance - (0.09 - r)), <,
                      near);
    // The runner hangs below the parting, so its upper edge is nearest, level with the middle.
    g_assert_cmpfloat(fabs(mould_space_least(s, MOULD_COVER_RUNNER).distance - (0.09 - 0.007 - r)),
                      <, near);
    gboolean exact;
    MouldGap gap = mould_space_of(s, MOULD_COVER_WALL, 3, &exact);
    g_assert_true(exact);
    g_assert_cmpuint(gap.cavity, ==, 3);
    // Nothing to measure to.
    g_autoptr(MouldLayout) one = make_layout(1, 0);
    one->n_runners = 0;
    g_autoptr(MouldSpace) alone = mould_space_measure(one, ball, NULL);
    g_assert_true(isnan(mould_space_least(alone, MOULD_COVER_BETWEEN).distance));
    g_assert_true(isnan(mould_space_least(alone, MOULD_COVER_RUNNER).distance));
    // Out of the flask; over the runner.
    l->cavities[2].x = 0.27;
    l->cavities[5].y = 0.004;
    g_autoptr(MouldSpace) out = mould_space_measure(l, ball, s);
    g_assert_cmpfloat(fabs(mould_space_least(out, MOULD_COVER_WALL).distance - (0.25 - 0.27 - r)),
                      <, near);
    g_assert_cmpfloat(mould_space_least(out, MOULD_COVER_RUNNER).distance, ==, 0);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/space/all-points", test_bodies_against_all);
    g_test_add_func("/mould/space/spheres", test_spheres);
    g_test_add_func("/mould/space/volume", test_volume);
    g_test_add_func("/mould/space/props", test_props);
    g_test_add_func("/mould/space/walls", test_walls);
    g_test_add_func("/mould/space/moves", test_moves);
    g_test_add_func("/mould/space/covers", test_covers);
    return g_test_run();
}
