// SPDX-License-Identifier: GPL-3.0-or-later
// Outlines of meshes and grids: area, direction, holes, shadow, and leaving points out.
#include "check.h"
#include "solid/section.h"

#define MM 1e-3

// A regular polygon's area over its circle's radius squared.
static double
measure_polygon(int sides)
{
    return 0.5 * sides * sin(2 * G_PI / sides);
}

static void
test_mesh_axes(void)
{
    g_autoptr(SolidMesh) box = check_mesh_box(13.7 * MM, 7.1 * MM, 5.3 * MM);
    double area[3] = {7.1 * 5.3e-6, 13.7 * 5.3e-6, 13.7 * 7.1e-6};
    for (int axis = 0; axis < 3; axis++) {
        g_autoptr(SolidOutline) o = solid_section_mesh(box, axis, 2.9 * MM);
        g_assert_cmpuint(o->n_loops, ==, 1);
        check_close(solid_outline_area(o), area[axis], 1e-12, "two sides' product");
    }
    g_autoptr(SolidOutline) none = solid_section_mesh(box, 2, 5.4 * MM);
    g_assert_cmpuint(none->n_loops, ==, 0);
    check_close(solid_outline_area(none), 0, 1e-20, "beside the box");
    SolidPoint min, max;
    g_autoptr(SolidOutline) x = solid_section_mesh(box, 0, 1.234 * MM);
    solid_outline_box(x, &min, &max);
    check_close(max.x, 7.1 * MM, 1e-12, "y first");
    check_close(max.y, 5.3 * MM, 1e-12, "then z");
    // In the plane of the base, where every vertex counts as above.
    g_autoptr(SolidOutline) base = solid_section_mesh(box, 2, 0);
    g_assert_cmpuint(base->n_loops, ==, 0);
    g_autoptr(SolidOutline) top = solid_section_mesh(box, 2, 5.3 * MM);
    check_close(solid_outline_area(top), area[2], 1e-12, "just below the top");
}

static void
test_mesh_hole(void)
{
    g_autoptr(SolidMesh)
                  plate = check_mesh_blind_plate(40 * MM, 30 * MM, 8 * MM, 9 * MM, 5 * MM, 64);
    g_autoptr(SolidOutline) o = solid_section_mesh(plate, 2, 6.1 * MM);
    g_assert_cmpuint(o->n_loops, ==, 2);
    double hole = measure_polygon(64) * 81e-6;
    check_close(solid_outline_area(o), 1200e-6 - hole, 1e-9, "rectangle less polygon");
    g_autoptr(SolidMesh) torus = check_mesh_torus(20 * MM, 6 * MM, 128, 64);
    g_autoptr(SolidOutline) cut = solid_section_mesh(torus, 1, 0.1 * MM);
    g_assert_cmpuint(cut->n_loops, ==, 2);
    check_close(solid_outline_area(cut), 2 * G_PI * 36e-6, 0.005, "two circles");
    // An open mesh leaves no closed loop where its wall is missing.
    g_autoptr(SolidMesh) box = check_mesh_box(MM, MM, MM);
    box->n_triangles -= 2;
    g_autoptr(SolidOutline) open = solid_section_mesh(box, 2, 0.4 * MM);
    g_assert_cmpuint(open->n_loops, ==, 0);
}

static void
test_grid(void)
{
    g_autoptr(SolidMesh) torus = check_mesh_torus(20 * MM, 6 * MM, 200, 100);
    g_autoptr(SolidGrid) g = solid_grid_distance(torus, 0.6 * MM, 3 * MM, 3 * MM, NULL, NULL);
    g_autoptr(SolidOutline) flat = solid_section_grid(g, 2, 1.7 * MM, 0);
    double half = sqrt(36 - 1.7 * 1.7);
    g_assert_cmpuint(flat->n_loops, ==, 2);
    check_close(solid_outline_area(flat), 4 * G_PI * 20 * half * 1e-6, 0.005, "pi (R+h)2 - (R-h)2");
    for (int axis = 0; axis < 2; axis++) {
        g_autoptr(SolidOutline) cut = solid_section_grid(g, axis, 0.0, 0);
        g_assert_cmpuint(cut->n_loops, ==, 2);
        check_close(solid_outline_area(cut), 2 * G_PI * 36e-6, 0.01, "two circles");
    }
    g_autoptr(SolidOutline) wide = solid_section_grid(g, 0, 0.0, 1.5 * MM);
    check_close(solid_outline_area(wide), 2 * G_PI * 7.5 * 7.5e-6, 0.01, "grown by the level");
    g_autoptr(SolidOutline) shadow = solid_section_shadow(g, 0);
    g_assert_cmpuint(shadow->n_loops, ==, 2);
    check_close(solid_outline_area(shadow), 4 * G_PI * 20 * 6 * 1e-6, 0.005, "ring 14 to 26 mm");
    g_autoptr(SolidOutline) out = solid_section_grid(g, 2, 1.0, 0);
    g_assert_cmpuint(out->n_loops, ==, 0);
    // Metal up to the grid's edge is still bounded.
    g_autoptr(SolidOutline) all = solid_section_grid(g, 2, 0, 1.0);
    g_assert_cmpuint(all->n_loops, ==, 1);
    g_assert_cmpfloat(solid_outline_area(all), >, (g->nx - 1) * (g->ny - 1) * g->cell * g->cell);
}

static void
test_saddle(void)
{
    float joined[4] = {-3, 1, 1, -3}, apart[4] = {-1, 3, 3, -1};
    g_autoptr(SolidGrid) g = solid_grid_new(2, 2, 1, 1, vec3(0, 0, 0));
    for (int n = 0; n < 4; n++)
        g->value[n] = joined[n];
    g_autoptr(SolidOutline) one = solid_section_grid(g, 2, 0, 0);
    g_assert_cmpuint(one->n_loops, ==, 1);
    for (int n = 0; n < 4; n++)
        g->value[n] = apart[n];
    g_autoptr(SolidOutline) two = solid_section_grid(g, 2, 0, 0);
    g_assert_cmpuint(two->n_loops, ==, 2);
    g_assert_cmpfloat(solid_outline_area(two), >, 0);
    g_assert_cmpfloat(solid_outline_area(one), >, solid_outline_area(two));
}

static void
test_simplified(void)
{
    g_autoptr(SolidMesh) round = check_mesh_cylinder(20 * MM, 10 * MM, 720);
    g_autoptr(SolidOutline) full = solid_section_mesh(round, 2, 5 * MM);
    g_autoptr(SolidOutline) less = solid_outline_simplified(full, 0.05 * MM);
    // A chord that strays by t spans 2 acos(1 - t/r): about 44 of them go round.
    g_assert_cmpuint(less->n_points, <, 100);
    g_assert_cmpuint(less->n_points, >=, 44);
    check_close(solid_outline_area(less), solid_outline_area(full), 0.005, "stays within 0.05 mm");
    g_autoptr(SolidOutline) gone = solid_outline_simplified(full, 1.0);
    g_assert_cmpuint(gone->n_loops, ==, 0);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/solid/section/mesh-axes", test_mesh_axes);
    g_test_add_func("/solid/section/mesh-hole", test_mesh_hole);
    g_test_add_func("/solid/section/grid", test_grid);
    g_test_add_func("/solid/section/saddle", test_saddle);
    g_test_add_func("/solid/section/simplified", test_simplified);
    return g_test_run();
}
