// SPDX-License-Identifier: GPL-3.0-or-later
// How fast the drawable envelope's volume nears closed forms as the cells shrink, and how near it
// is at the resolution of a new job. Round things are prisms of many sides, whose closed forms are
// exact: a regular n-gon of radius r has the area n/2 r² sin(2 pi/n) and the perimeter 2 n r
// sin(pi/n); grown by w it gains perimeter * w + pi w² (Steiner), shrunk by w it is the n-gon whose
// apothem is less by w.
#include "check.h"
#include "part/pattern.h"
#include "part/pull.h"
#include "shapes.h"

#define MM 1e-3
#define DEG (G_PI / 180)
#define SIDES 180

static double
measure_gon(double r)
{
    return 0.5 * SIDES * r * r * sin(2 * G_PI / SIDES);
}

// Volume of an n-gon of radius r grown by 0 .. h t over its height h: the integral over z of
// area + perimeter z t + pi z² t².
static double
measure_grown(double area, double perimeter, double h, double t)
{
    return area * h + perimeter * t * h * h / 2 + G_PI * t * t * h * h * h / 3;
}

// A prism whose section shrinks alike from r1 to r2.
static double
measure_frustum(double r1, double r2, double h)
{
    return measure_gon(1) * h * (r1 * r1 + r1 * r2 + r2 * r2) / 3;
}

static double
measure_perimeter(double r)
{
    return 2 * SIDES * r * sin(G_PI / SIDES);
}

typedef struct {
    const char *name;
    SolidMesh *mesh;
    EnvelopeOptions options;
    double parting, expected; // m, m3
} Case;

// A round block with a round hole sunk into its upper end.
static SolidMesh *
make_sunk(double r, double h, double hole, double deep)
{
    const double profile[4][2] = {{r, 0}, {r, h}, {hole, h}, {hole, h - deep}};
    return shape_turned(profile, 4, SIDES);
}

static Case
sunk_cylinder(double draft)
{
    double r = 21.37 * MM, h = 26.71 * MM, hole = 9.43 * MM, deep = 14.09 * MM, t = tan(draft);
    double narrow = hole - deep * t / cos(G_PI / SIDES); // radius of the hole at its bottom
    Case c = {draft > 0 ? "sunk cylinder with draft" : "sunk cylinder",
              make_sunk(r, h, hole, deep),
              {.draft = draft},
              0,
              0};
    c.expected = measure_grown(measure_gon(r), measure_perimeter(r), h, t) -
                 measure_frustum(hole, narrow, deep);
    return c;
}

// Scaled to the ball's own volume, so that what its facets cut off does not count.
static Case
ball(void)
{
    double r = 20.3 * MM;
    Case c = {"ball", check_mesh_sphere(r, 96, 192), {0}, 0, 4 * G_PI * r * r * r / 3};
    double scale = cbrt(c.expected / solid_measure(c.mesh).volume);
    for (guint32 i = 0; i < c.mesh->n_vertices; i++)
        c.mesh->vertices[i] = vec3_scale(c.mesh->vertices[i], scale);
    return c;
}

// A cube tilted by a about x, and turned about z, parted through its middle. The outermost edges
// lie h0 = s/sqrt2 sin(45° - a) below and above the parting; beside each the mould fills a wedge
// of h0 by h0 tan a.
static Case
tilted_cube(void)
{
    double s = 31.9 * MM, a = 17 * DEG, rotation[9], h0 = s * G_SQRT2 / 2 * sin(45 * DEG - a);
    g_autoptr(SolidMesh) box = check_mesh_box(s, s, s);
    g_autoptr(SolidMesh) middle = shape_rotated(box, vec3(1, 0, 0), 0, vec3(-s / 2, -s / 2, -s / 2),
                                                rotation);
    g_autoptr(SolidMesh) tilted = shape_rotated(middle, vec3(1, 0, 0), a, vec3(0, 0, 0), rotation);
    SolidMesh *turned = shape_rotated(tilted, vec3(0, 0, 1), 23 * DEG, vec3(0, 0, 0), rotation);
    return (Case){"tilted cube", turned, {0}, 0, s * (s * s + h0 * h0 * tan(a))};
}

static Case
frustum(void)
{
    double r1 = 21.7 * MM, r2 = 12.1 * MM, h = 26.3 * MM;
    return (Case){"frustum with more than the draft",
                  check_mesh_frustum(r1, r2, h, SIDES),
                  {.draft = 5 * DEG},
                  0,
                  measure_frustum(r1, r2, h)};
}

static Case
drafted_cylinder(void)
{
    double r = 17.3 * MM, h = 38.9 * MM;
    return (Case){"drafted cylinder",
                  check_mesh_cylinder(r, h, SIDES),
                  {.draft = 3 * DEG},
                  0,
                  measure_grown(measure_gon(r), measure_perimeter(r), h, tan(3 * DEG))};
}

// Askew in plan, both halves drafted, parted off its middle.
static Case
drafted_block(void)
{
    double x = 47.3 * MM, y = 29.9 * MM, z = 21.7 * MM, at = 8.3 * MM, t = tan(4 * DEG), r[9];
    g_autoptr(SolidMesh) box = check_mesh_box(x, y, z);
    double p = 2 * (x + y);
    return (Case){"drafted block",
                  shape_rotated(box, vec3(0, 0, 1), 31 * DEG, vec3(0, 0, 0), r),
                  {.draft = 4 * DEG},
                  at,
                  measure_grown(x * y, p, at, t) + measure_grown(x * y, p, z - at, t)};
}

static double
measure_error(const Case *c, int cells)
{
    EnvelopeOptions o = c->options;
    EnvelopeResult r;
    o.cells = cells;
    o.quick = TRUE;
    double cell = pull_cell(c->mesh, &o, 24e6), reach = envelope_reach(&o, cell);
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidGrid) part = solid_grid_distance(c->mesh, cell, reach, reach, NULL, &error);
    g_assert_no_error(error);
    g_assert_true(envelope_make(part, &o, c->parting, &r, NULL, &error));
    g_assert_no_error(error);
    envelope_result_clear(&r);
    return (r.volume - c->expected) / c->expected;
}

// Slope of log error over log cell by least squares. Where a face falls among the cells is luck, so
// each resolution is the root mean square of several next to each other.
static double
measure_order(const Case *c)
{
    static const int counts[] = {24, 34, 48, 68, 96};
    enum {
        N = G_N_ELEMENTS(counts),
        LUCK = 5
    };
    double sx = 0, sy = 0, sxx = 0, sxy = 0;
    for (int n = 0; n < N; n++) {
        double sum = 0;
        for (int l = 0; l < LUCK; l++)
            sum += pow(measure_error(c, counts[n] + l * MAX(1, counts[n] / 24)), 2);
        double x = -log(counts[n] + (LUCK - 1) / 2.0 * MAX(1, counts[n] / 24)),
               y = 0.5 * log(sum / LUCK);
        g_test_message("%s: %d cells: error %.5f %%", c->name, counts[n], 100 * exp(y));
        sx += x;
        sy += y;
        sxx += x * x;
        sxy += x * y;
    }
    return (N * sxy - sx * sy) / (N * sxx - sx * sx);
}

static void
check_case(Case c)
{
    double order = measure_order(&c), error = measure_error(&c, 96);
    g_test_message("%s: order %.2f, error at 96 cells %.4f %%", c.name, order, 100 * error);
    solid_mesh_unref(c.mesh);
    g_assert_cmpfloat(order, >=, 1.5);
    g_assert_cmpfloat(fabs(error), <=, 0.002);
}

static void
test_sunk(void)
{
    check_case(sunk_cylinder(0));
}
static void
test_sunk_drafted(void)
{
    check_case(sunk_cylinder(4 * DEG));
}
static void
test_ball(void)
{
    check_case(ball());
}
static void
test_cube(void)
{
    check_case(tilted_cube());
}
static void
test_frustum(void)
{
    check_case(frustum());
}
static void
test_drafted(void)
{
    check_case(drafted_cylinder());
}
static void
test_block(void)
{
    check_case(drafted_block());
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/part/envelope-order/sunk", test_sunk);
    g_test_add_func("/part/envelope-order/sunk-drafted", test_sunk_drafted);
    g_test_add_func("/part/envelope-order/ball", test_ball);
    g_test_add_func("/part/envelope-order/cube", test_cube);
    g_test_add_func("/part/envelope-order/frustum", test_frustum);
    g_test_add_func("/part/envelope-order/drafted", test_drafted);
    g_test_add_func("/part/envelope-order/block", test_block);
    return g_test_run();
}
