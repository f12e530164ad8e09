// SPDX-License-Identifier: GPL-3.0-or-later
// Outlines pushed out to hold a skin, against every vertex of it by brute force.
#include <math.h>

#include "check.h"
#include "rays.h"
#include "solid/grid.h"
#include "solid/section.h"

static double
worst(const SolidOutline *o, const SolidMesh *mesh)
{
    double most = 0;
    for (guint32 i = 0; i < mesh->n_vertices; i++)
        most = fmax(most, rays_outside(o, mesh->vertices[i].x, mesh->vertices[i].y));
    return most;
}

static SolidOutline *
hold(const SolidMesh *mesh, double cell, double *before)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidGrid) g = solid_grid_distance(mesh, cell, 2 * cell, 2 * cell, NULL, &error);
    g_assert_no_error(error);
    g_autoptr(SolidOutline) cut = solid_section_shadow(g, 0);
    *before = worst(cut, mesh);
    return solid_outline_holding(cut, mesh, cell);
}

// A box turned by an odd angle: the raster cuts its corners, the held outline has them, and its
// area is the box's.
static void
test_corners(void)
{
    const double angles[] = {0, 0.117, G_PI / 4, 1.3};
    for (guint i = 0; i < G_N_ELEMENTS(angles); i++) {
        double c = cos(angles[i]), s = sin(angles[i]), before;
        const double turn[9] = {c, -s, 0, s, c, 0, 0, 0, 1};
        g_autoptr(SolidMesh) box = check_mesh_box(0.0417, 0.0233, 0.0119);
        g_autoptr(SolidMesh) mesh = solid_mesh_transformed(box, turn, vec3(0.0031, 0.0007, 0));
        g_autoptr(SolidOutline) held = hold(mesh, 0.9e-3, &before);
        g_assert_cmpfloat(before, >, 1e-5);
        g_assert_cmpfloat(worst(held, mesh), <, 1e-6);
        // Beside a corner, where there are no vertices, the sides are still as the cells have them.
        check_close(solid_outline_area(held), 0.0417 * 0.0233, 5e-4, "length by width");
        g_assert_cmpuint(held->n_loops, ==, 1);
    }
}

// A hole: vertices round it stand out of the metal into the hole.
static void
test_hole(void)
{
    double before;
    g_autoptr(SolidMesh) ring = check_mesh_torus(0.020, 0.006, 61, 37);
    g_autoptr(SolidOutline) held = hold(ring, 1e-3, &before);
    g_assert_cmpuint(held->n_loops, ==, 2);
    g_assert_cmpfloat(before, >, 1e-6);
    g_assert_cmpfloat(worst(held, ring), <, 1e-6);
    check_close(solid_outline_area(held), 4 * G_PI * 20 * 6 * 1e-6, 0.005, "ring 14 to 26 mm");
}

// Of one side: by hand. A square with two points before it, one of them in the shade of the other,
// and one off a corner.
static void
test_chain(void)
{
    g_autoptr(SolidMesh) square = check_mesh_box(0.01, 0.01, 0.01);
    g_autoptr(SolidOutline) section = solid_section_mesh(square, 2, 0.005);
    g_autoptr(SolidOutline) cut = solid_outline_simplified(section, 1e-9); // four sides
    const double same_axes[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    g_autoptr(SolidMesh) points = solid_mesh_transformed(square, same_axes, vec3(0, 0, 0));
    points->vertices[0] = vec3(0.004, -0.0009, 0);
    points->vertices[1] = vec3(0.007, -0.0004, 0); // the chain from the first to the end passes it
    points->vertices[2] = vec3(-0.0003, 0.0104, 0);
    for (guint32 i = 3; i < points->n_vertices; i++)
        points->vertices[i] = vec3(0.005, 0.005, 0);
    g_autoptr(SolidOutline) held = solid_outline_holding(cut, points, 0.002);
    // Two triangles under the lower side's chord, and one at the corner.
    double under = 0.01 * 0.0009 / 2, corner = solid_outline_area(held) - 1e-4 - under;
    g_assert_cmpfloat(worst(held, points), <, 1e-9);
    g_assert_cmpfloat(corner, >, 0);
    g_assert_cmpfloat(corner, <, 0.01 * 0.0004);
    // All inside: as it was.
    g_autoptr(SolidOutline) same = solid_outline_holding(cut, square, 0.002);
    g_assert_cmpuint(same->n_points, ==, cut->n_points);
    g_autoptr(SolidOutline) again = solid_outline_holding(held, points, 0.002);
    check_close(solid_outline_area(again), solid_outline_area(held), 1e-12, "nothing left to do");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/solid/outline-hold/corners", test_corners);
    g_test_add_func("/solid/outline-hold/hole", test_hole);
    g_test_add_func("/solid/outline-hold/chain", test_chain);
    return g_test_run();
}
