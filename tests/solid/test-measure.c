// SPDX-License-Identifier: GPL-3.0-or-later
// Volume, area, centroid and inertia against closed forms, of polyhedra where they are exact and of
// round solids as they converge, turned and moved oddly.
#include "check.h"
#include "solid/measure.h"

static void
test_box(void)
{
    double a = 0.0517, b = 0.0231, c = 0.0173, v = a * b * c;
    g_autoptr(SolidMesh) box = check_mesh_box(a, b, c);
    SolidMeasure m = solid_measure(box);
    check_close(m.volume, v, 1e-13, "a b c");
    check_close(m.area, 2 * (a * b + b * c + c * a), 1e-13, "2 (ab + bc + ca)");
    check_close(m.centroid.x, a / 2, 1e-13, "middle");
    check_close(m.centroid.y, b / 2, 1e-13, "middle");
    check_close(m.centroid.z, c / 2, 1e-13, "middle");
    check_close(m.max.x - m.min.x, a, 1e-13, "side");
    check_close(m.moments[0], v * (b * b + c * c) / 12, 1e-12, "cuboid, m (b2 + c2) / 12");
    check_close(m.moments[1], v * (a * a + c * c) / 12, 1e-12, "cuboid, m (a2 + c2) / 12");
    check_close(m.moments[2], v * (a * a + b * b) / 12, 1e-12, "cuboid, m (a2 + b2) / 12");
    check_close(fabs(m.axes[0].x), 1, 1e-12, "the long side");
    check_close(fabs(m.axes[2].z), 1, 1e-12, "the short side");
}

static double
get_polygon_area(double radius, int sides)
{
    return 0.5 * sides * radius * radius * sin(2 * G_PI / sides);
}

// A pyramid's frustum of regular polygons: exact for the mesh, no convergence needed.
static void
test_frustum(void)
{
    double r = 0.0237, q = 0.0151, h = 0.0419;
    int n = 17;
    g_autoptr(SolidMesh) mesh = check_mesh_frustum(r, q, h, n);
    SolidMeasure m = solid_measure(mesh);
    double a = get_polygon_area(r, n), b = get_polygon_area(q, n);
    check_close(m.volume, h / 3 * (a + b + sqrt(a * b)), 1e-12, "frustum of a pyramid");
    double slant = hypot(h, (r - q) * cos(G_PI / n)), edges = n * (r + q) * sin(G_PI / n);
    check_close(m.area, a + b + edges * slant, 1e-12, "frustum of a pyramid");
    check_close(m.centroid.z, h / 4 * (a + 2 * sqrt(a * b) + 3 * b) / (a + sqrt(a * b) + b), 1e-12,
                "frustum of a pyramid");
    check_close(m.centroid.x, 0, 1e-16, "on the axis");
}

static void
test_cylinder(void)
{
    double r = 0.0173, h = 0.0709;
    int n = 31;
    g_autoptr(SolidMesh) prism = check_mesh_cylinder(r, h, n);
    SolidMeasure m = solid_measure(prism);
    double area = get_polygon_area(r, n), v = area * h;
    // Regular polygon: polar moment A R2 (2 + cos(2 pi / n)) / 6.
    double polar = r * r * (2 + cos(2 * G_PI / n)) / 6;
    check_close(m.volume, v, 1e-12, "prism");
    check_close(m.moments[0], v * polar, 1e-12, "regular prism about its axis");
    check_close(m.moments[1], v * (polar / 2 + h * h / 12), 1e-12, "regular prism across");
    check_close(m.moments[2], v * (polar / 2 + h * h / 12), 1e-12, "regular prism across");
    g_autoptr(SolidMesh) round = check_mesh_cylinder(r, h, 4000);
    m = solid_measure(round);
    v = G_PI * r * r * h;
    check_close(m.moments[0], v * r * r / 2, 5e-6, "cylinder, m r2 / 2");
    check_close(m.moments[2], v * (3 * r * r + h * h) / 12, 5e-6, "cylinder, m (3 r2 + h2) / 12");
}

// The error of round solids falls with the square of the edge.
static void
test_sphere(void)
{
    double r = 0.0271, previous = 0;
    for (int n = 16; n <= 256; n *= 2) {
        g_autoptr(SolidMesh) mesh = check_mesh_sphere(r, n, 2 * n);
        SolidMeasure m = solid_measure(mesh);
        double off = 1 - m.volume / (4.0 / 3 * G_PI * r * r * r);
        g_assert_cmpfloat(off, >, 0);
        if (previous > 0)
            check_close(previous / off, 4, 0.02, "second order");
        previous = off;
    }
    g_autoptr(SolidMesh) mesh = check_mesh_sphere(r, 500, 1000);
    SolidMeasure m = solid_measure(mesh);
    double v = 4.0 / 3 * G_PI * r * r * r;
    check_close(m.volume, v, 2e-5, "4/3 pi r3");
    check_close(m.area, 4 * G_PI * r * r, 2e-5, "4 pi r2");
    for (int i = 0; i < 3; i++)
        check_close(m.moments[i], v * 0.4 * r * r, 4e-5, "sphere, 2/5 m r2");
}

static void
test_torus(void)
{
    double major = 0.0413, minor = 0.0119;
    g_autoptr(SolidMesh) mesh = check_mesh_torus(major, minor, 1000, 600);
    SolidMeasure m = solid_measure(mesh);
    double v = 2 * G_PI * G_PI * major * minor * minor;
    check_close(m.volume, v, 5e-5, "2 pi2 R r2");
    check_close(m.area, 4 * G_PI * G_PI * major * minor, 5e-5, "4 pi2 R r");
    check_close(m.moments[2], v * (major * major + 0.75 * minor * minor), 1e-4,
                "torus, m (R2 + 3/4 r2)");
    check_close(m.moments[0], v * (0.5 * major * major + 0.625 * minor * minor), 1e-4,
                "torus, m (R2 / 2 + 5/8 r2)");
    check_close(fabs(m.axes[2].z), 1, 1e-9, "the axis");
}

static void
test_turned(void)
{
    g_autoptr(SolidMesh) plate = check_mesh_blind_plate(0.0517, 0.0311, 0.0127, 0.0047, 0.0083, 24);
    g_autoptr(SolidMesh) turned = check_mesh_turned(plate);
    SolidMeasure a = solid_measure(plate), b = solid_measure(turned);
    double hole = get_polygon_area(0.0047, 24) * 0.0083;
    check_close(a.volume, 0.0517 * 0.0311 * 0.0127 - hole, 1e-12, "plate less hole");
    check_close(b.volume, a.volume, 1e-12, "turning changes nothing");
    check_close(b.area, a.area, 1e-12, "turning changes nothing");
    for (int i = 0; i < 3; i++)
        check_close(b.moments[i], a.moments[i], 1e-11, "turning changes nothing");
    // The axes turn along: they are unit, square to one another, right-handed.
    check_close(vec3_dot(b.axes[0], b.axes[1]), 0, 1e-12, "square");
    check_close(vec3_dot(vec3_cross(b.axes[0], b.axes[1]), b.axes[2]), 1, 1e-12, "right-handed");
    g_autoptr(SolidMesh) point = solid_mesh_new(1, 0);
    point->vertices[0] = a.centroid;
    g_autoptr(SolidMesh) moved = check_mesh_turned(point);
    check_close(vec3_length(vec3_sub(moved->vertices[0], b.centroid)), 0, 1e-14, "moves along");
}

// A part modelled far from the origin loses no figures but those its vertices lost.
static void
test_far_away(void)
{
    const double same[9] = {1, 0, 0, 0, 1, 0, 0, 0, 1};
    g_autoptr(SolidMesh) ball = check_mesh_sphere(0.0213, 24, 48);
    g_autoptr(SolidMesh) far = solid_mesh_transformed(ball, same, vec3(1000.3, -2000.7, 512.9));
    SolidMeasure a = solid_measure(ball), b = solid_measure(far);
    check_close(b.volume, a.volume, 1e-10, "moving changes nothing");
    check_close(b.moments[0], a.moments[0], 1e-9, "moving changes nothing");
}

static void
test_inside_out_and_nothing(void)
{
    g_autoptr(SolidMesh) box = check_mesh_box(0.01, 0.02, 0.03);
    g_autoptr(SolidMesh) flipped = solid_mesh_flipped(box);
    SolidMeasure a = solid_measure(box), b = solid_measure(flipped);
    check_close(b.volume, -6e-6, 1e-12, "negative");
    check_close(b.centroid.z, 0.015, 1e-12, "the same");
    for (int i = 0; i < 3; i++)
        check_close(b.moments[i], a.moments[i], 1e-12, "the same");
    g_autoptr(SolidMesh) nothing = solid_mesh_new(0, 0);
    SolidMeasure m = solid_measure(nothing);
    check_close(m.volume, 0, 1e-300, "nothing");
    check_close(m.area, 0, 1e-300, "nothing");
    check_close(m.moments[2], 0, 1e-300, "nothing");
    g_autoptr(SolidMesh) leaf = solid_mesh_new(3, 1);
    for (guint32 i = 0; i < 3; i++)
        leaf->triangles[0][i] = i;
    leaf->vertices[1].x = 0.01;
    leaf->vertices[2].y = 0.03;
    m = solid_measure(leaf);
    check_close(m.area, 1.5e-4, 1e-12, "half of base times height");
    check_close(m.centroid.y, 0.015, 1e-12, "middle of the box where there is no inside");
}

// The same bytes every time.
static void
test_repeats(void)
{
    g_autoptr(SolidMesh) mesh = check_mesh_sphere(0.0213, 90, 130);
    SolidMeasure a = solid_measure(mesh), b = solid_measure(mesh);
    g_assert_cmpmem(&a, sizeof a, &b, sizeof b);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/solid/measure/box", test_box);
    g_test_add_func("/solid/measure/frustum", test_frustum);
    g_test_add_func("/solid/measure/cylinder", test_cylinder);
    g_test_add_func("/solid/measure/sphere", test_sphere);
    g_test_add_func("/solid/measure/torus", test_torus);
    g_test_add_func("/solid/measure/turned", test_turned);
    g_test_add_func("/solid/measure/far-away", test_far_away);
    g_test_add_func("/solid/measure/inside-out-and-nothing", test_inside_out_and_nothing);
    g_test_add_func("/solid/measure/repeats", test_repeats);
    return g_test_run();
}
