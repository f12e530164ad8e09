// SPDX-License-Identifier: GPL-3.0-or-later
// Sand pegs against closed forms: a drafted blind hole, the hole of a ring, and none.
#include "check.h"
#include "part/envelope.h"
#include "shapes.h"

#define MM 1e-3
#define DEG (G_PI / 180)

// `cure` (may be NULL) takes the width of holes to close.
static Peg
find_cure(const SolidMesh *mesh, EnvelopeOptions o, double cell, double *cure)
{
    EnvelopeResult r;
    double reach = envelope_reach(&o, cell);
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidGrid) part = solid_grid_distance(mesh, cell, reach, reach, NULL, &error);
    g_assert_no_error(error);
    g_assert_true(envelope_make(part, &o, 0.0, &r, NULL, &error));
    g_assert_no_error(error);
    Peg peg = r.peg;
    if (cure)
        *cure = r.close_holes;
    envelope_result_clear(&r);
    return peg;
}

static Peg
find_peg(const SolidMesh *mesh, EnvelopeOptions o, double cell)
{
    return find_cure(mesh, o, cell, NULL);
}

// The peg grows from its tip at the hole's bottom; h / (w + 2 h tan) is greatest at its root.
static void
test_blind(void)
{
    double r = 6.1 * MM, deep = 17.9 * MM, cell = 0.6 * MM;
    g_autoptr(SolidMesh) mesh = check_mesh_blind_plate(42 * MM, 38 * MM, 23.3 * MM, r, deep, 96);
    EnvelopeOptions o = {.draft = 2 * DEG};
    Peg peg = find_peg(mesh, o, cell);
    check_close(peg.height, deep, 1.1 * cell / deep, "as deep as the hole");
    check_close(peg.width, 2 * r, 1.1 * cell / r, "as wide as the hole at its mouth");
    check_close(hypot(peg.at.x, peg.at.y), 0, 1.5 * cell, "in the middle");
    o.close_holes = 14 * MM;
    check_close(find_peg(mesh, o, cell).height, 0, 0, "cast solid");
    o.close_holes = 8 * MM;
    check_close(find_peg(mesh, o, cell).height, deep, 1.1 * cell / deep, "wider than that");
}

// What cures a slender peg is the width of the finished hole, whatever stock and draft take of it.
static void
test_cure(void)
{
    double r = 6.1 * MM, cell = 1 * MM, cure;
    g_autoptr(SolidMesh)
                  mesh = check_mesh_blind_plate(42 * MM, 38 * MM, 23.3 * MM, r, 17.9 * MM, 96);
    EnvelopeOptions o = {.draft = 2 * DEG, .allowance = 0.9 * MM, .peg_slenderness = 1.5};
    Peg peg = find_cure(mesh, o, cell, &cure);
    g_assert_cmpfloat(peg.height, >, 1.5 * peg.width);
    check_close(cure, 2 * r, cell / r, "the hole's own width");
    o.close_holes = cure;
    peg = find_cure(mesh, o, cell, &cure);
    g_assert_cmpfloat(peg.height, <=, 1.5 * peg.width);
    g_assert_cmpfloat(cure, ==, 0);
}

// In a hole 9.8 mm wide for 16 mm and then 20.6 mm wide for 7 mm the peg is 23 / 20.6 slender at
// its root, which is too much for 1. Without the narrow part it is 7 / 20.6, so that alone is to be
// cast solid.
static void
test_stepped(void)
{
    static const double profile[][2] = {{0.0203, 0},     {0.0203, 0.026}, {0.0103, 0.026},
                                        {0.0103, 0.019}, {0.0049, 0.019}, {0.0049, 0.003}};
    double cell = 0.9 * MM, cure;
    g_autoptr(SolidMesh) mesh = shape_turned(profile, G_N_ELEMENTS(profile), 96);
    EnvelopeOptions o = {.peg_slenderness = 1};
    find_cure(mesh, o, cell, &cure);
    check_close(cure, 9.8 * MM, cell / (9.8 * MM), "the narrow part's width");
    o.close_holes = cure;
    Peg peg = find_cure(mesh, o, cell, &cure);
    check_close(peg.height, 7 * MM, 1.1 * cell / (7 * MM), "the wide part is left");
    g_assert_cmpfloat(cure, ==, 0);
}

// In a ring of radii R and r the peg on either side of the parting has at height r sin a the width
// 2 (R - r cos a); their ratio is greatest, r / (2 sqrt(R² - r²)), where cos a = r / R.
static void
test_ring(void)
{
    double major = 20.3 * MM, minor = 9.1 * MM;
    g_autoptr(SolidMesh) mesh = check_mesh_torus(major, minor, 96, 48);
    Peg peg = find_peg(mesh, (EnvelopeOptions){0}, 0.5 * MM);
    check_close(peg.height / peg.width, minor / (2 * sqrt(major * major - minor * minor)), 0.08,
                "closed form");
}

static void
test_none(void)
{
    g_autoptr(SolidMesh) mesh = shape_bracket(40 * MM, 30 * MM, 8 * MM, 20 * MM);
    Peg peg = find_peg(mesh, (EnvelopeOptions){.draft = 2 * DEG}, 0.8 * MM);
    check_close(peg.width, 0, 0, "no hole");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/part/peg/blind", test_blind);
    g_test_add_func("/part/peg/cure", test_cure);
    g_test_add_func("/part/peg/stepped", test_stepped);
    g_test_add_func("/part/peg/ring", test_ring);
    g_test_add_func("/part/peg/none", test_none);
    return g_test_run();
}
