// SPDX-License-Identifier: GPL-3.0-or-later
// Holes closed, corners filleted, walls thickened: volumes against closed forms.
#include "check.h"
#include "part/envelope.h"
#include "shapes.h"

#define MM 1e-3
#define DEG (G_PI / 180)

static EnvelopeResult
make_envelope(const SolidMesh *mesh, EnvelopeOptions o, double cell, double parting)
{
    EnvelopeResult r;
    double reach = envelope_reach(&o, cell);
    g_autoptr(GError) error = NULL;
    g_autoptr(SolidGrid) part = solid_grid_distance(mesh, cell, reach, reach, NULL, &error);
    g_assert_no_error(error);
    gboolean made = envelope_make(part, &o, parting, &r, NULL, &error);
    g_assert_no_error(error);
    g_assert_true(made);
    check_close(r.part_volume + r.allowance_volume + r.wall_volume + r.fillet_volume +
                    r.closed_volume + r.stub_volume + r.undercut_volume + r.draft_volume,
                r.volume, 1e-9, "the causes add up");
    return r;
}

// A blind hole that draws is closed when it is narrow enough, flush with its face, and not else.
static void
test_hole(void)
{
    double r = 5.3 * MM, deep = 9.1 * MM, hole = G_PI * r * r * deep;
    g_autoptr(SolidMesh) mesh = check_mesh_blind_plate(50 * MM, 44 * MM, 17.7 * MM, r, deep, 128);
    EnvelopeOptions o = {.quick = TRUE, .draft = 0, .close_holes = 10 * MM};
    EnvelopeResult open = make_envelope(mesh, o, 0.55 * MM, 0.0);
    check_close(open.closed_volume, 0, 1e-12, "wider than that");
    o.close_holes = 11.5 * MM;
    EnvelopeResult shut = make_envelope(mesh, o, 0.55 * MM, 0.0);
    check_close(shut.closed_volume, hole, 0.03, "cylinder");
    check_close(shut.undercut_volume, 0, 0.002 * shut.volume, "it would have drawn");
    check_close(shut.volume, 50 * 44 * 17.7e-9, 0.002, "a plain plate");
    // The allowance makes the hole narrower; what counts is the hole of the part.
    o.allowance = 1.3 * MM;
    EnvelopeResult grown = make_envelope(mesh, o, 0.55 * MM, 0.0);
    double left = G_PI * (r - o.allowance) * (r - o.allowance) * deep;
    check_close(grown.closed_volume, left, 0.06, "cylinder less the allowance");
    o.close_holes = 10 * MM;
    EnvelopeResult kept = make_envelope(mesh, o, 0.55 * MM, 0.0);
    check_close(kept.closed_volume, 0, 1e-12, "wider than that");
}

// The inner corner of an L gains what a square has more than its quarter disc.
static void
test_fillet(void)
{
    double y = 30.3 * MM, radius = 6.1 * MM;
    g_autoptr(SolidMesh) mesh = shape_bracket(46.7 * MM, 41.3 * MM, 9.9 * MM, y);
    EnvelopeOptions o = {.quick = TRUE, .fillet = radius};
    EnvelopeResult e = make_envelope(mesh, o, 0.6 * MM, NAN);
    check_close(e.fillet_volume, (1 - G_PI / 4) * radius * radius * y, 0.06, "square less disc");
    o.fillet = 0;
    EnvelopeResult plain = make_envelope(mesh, o, 0.6 * MM, NAN);
    check_close(plain.fillet_volume, 0, 1e-15, "none asked");
}

// A thin plate grows on both sides; a thick one stays.
static void
test_wall(void)
{
    double x = 61.3 * MM, y = 47.9 * MM, z = 3.7 * MM, wall = 6.3 * MM, cell = 0.6 * MM;
    g_autoptr(SolidMesh) plate = check_mesh_box(x, y, z);
    EnvelopeOptions o = {.quick = TRUE, .min_wall = wall};
    EnvelopeResult e = make_envelope(plate, o, cell, NAN);
    double expected = (wall - z) * x * y; // and a rounded rim of at most half the lack
    g_assert_cmpfloat(e.wall_volume, >, 0.85 * expected);
    g_assert_cmpfloat(e.wall_volume, <, 1.25 * expected);
    check_close(e.depth_cope + e.depth_drag, wall, 0.6 * cell / wall, "as thick as asked");
    g_autoptr(SolidMesh) block = check_mesh_box(x, y, 9.1 * MM);
    EnvelopeResult kept = make_envelope(block, o, cell, NAN);
    check_close(kept.wall_volume, 0, 1e-12, "thick enough");
}

static void
test_stopped(void)
{
    g_autoptr(SolidMesh) mesh = shape_bracket(40 * MM, 30 * MM, 8 * MM, 20 * MM);
    EnvelopeOptions o = {.fillet = 3 * MM, .min_wall = 12 * MM, .close_holes = 5 * MM};
    double reach = envelope_reach(&o, MM);
    g_autoptr(GError) error = NULL;
    g_autoptr(Progress) progress = progress_new();
    g_autoptr(SolidGrid) part = solid_grid_distance(mesh, MM, reach, reach, NULL, &error);
    EnvelopeResult r = {.volume = 7.3};
    progress_stop(progress);
    g_assert_false(envelope_make(part, &o, NAN, &r, progress, &error));
    check_error(error, BASE_ERROR_CANCELLED, "");
    g_assert_cmpfloat(r.volume, ==, 7.3);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/part/shape/hole", test_hole);
    g_test_add_func("/part/shape/fillet", test_fillet);
    g_test_add_func("/part/shape/wall", test_wall);
    g_test_add_func("/part/shape/stopped", test_stopped);
    return g_test_run();
}
