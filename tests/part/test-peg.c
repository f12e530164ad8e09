// SPDX-License-Identifier: GPL-3.0-or-later
// Sand pegs against closed forms: a drafted blind hole, the hole of a ring, and none.
#include "check.h"
#include "part/envelope.h"
#include "shapes.h"

#define MM 1e-3
#define DEG (G_PI / 180)

static Peg
find_peg(const SolidMesh *mesh, EnvelopeOptions o, double cell)
{
    EnvelopeResult r;
    double reach = envelope_reach(&o, cell);
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidGrid) part = solid_grid_distance(mesh, cell, reach, reach, NULL, &error);
    g_assert_no_error(error);
    g_assert_true(envelope_make(part, &o, 0.0, &r, NULL, &error));
    g_assert_no_error(error);
    Peg peg = r.peg;
    envelope_result_clear(&r);
    return peg;
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
    g_test_add_func("/part/peg/ring", test_ring);
    g_test_add_func("/part/peg/none", test_none);
    return g_test_run();
}
