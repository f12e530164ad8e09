// SPDX-License-Identifier: GPL-3.0-or-later
// What commands do to the spots, and what a moved one snaps to, on a flask written by hand.
#include <math.h>

#include "check.h"
#include "mould/build.h"
#include "mould/fixed.h"
#include "window/placing-model.h"

#define REACH 0.002

static MouldLayout *
make_layout(void)
{
    MouldLayout *l = mould_layout_new();
    l->length = 0.4;
    l->width = 0.3;
    l->n_cavities = l->n_gates = 3;
    l->cavities = g_new0(MouldCavity, 3);
    l->gates = g_new0(MouldChannel, 3);
    l->cavities[0] = (MouldCavity){-0.0923, 0.0617, 0.3, NAN, NAN, 0, 0};
    l->cavities[1] = (MouldCavity){0.0811, 0.0639, -0.1, NAN, NAN, 0, 0};
    l->cavities[2] = (MouldCavity){0.0134, -0.0871, G_PI, NAN, NAN, 0, 0};
    for (guint i = 0; i < 3; i++)
        l->gates[i] = (MouldChannel){l->cavities[i].x + 0.011, 0.0052, 0, 0, 0.01, 0.01};
    return l;
}

static PlacementSpot *
at(GArray *spots, guint i)
{
    return &g_array_index(spots, PlacementSpot, i);
}

static void
test_spots(void)
{
    g_autoptr(MouldLayout) l = make_layout();
    UnitSet units = {0};
    const char *typed = "1.25 mm, 2 mm, 3 deg locked; 4 mm, 5 mm, 6 deg; 7 mm, 8 mm, 9 deg";
    g_autoptr(GArray) by_program = placing_spots(l, NULL, &units);
    g_assert_cmpuint(by_program->len, ==, 3);
    check_close(at(by_program, 1)->x, 0.0811, 1e-12, "the layout's");
    l->by_hand = TRUE;
    g_autoptr(GArray) by_hand = placing_spots(l, typed, &units);
    check_close(at(by_hand, 0)->x, 0.00125, 1e-12, "as typed");
    g_assert_true(at(by_hand, 0)->locked);
    g_assert_false(at(by_hand, 1)->locked);
    g_autoptr(GArray) odd = placing_spots(l, "1 mm, 2 mm", &units); // of another number
    g_assert_cmpuint(odd->len, ==, 3);
    check_close(at(odd, 0)->x, -0.0923, 1e-12, "the layout's");
}

static void
test_turn_and_mirror(void)
{
    g_autoptr(MouldLayout) l = make_layout();
    UnitSet units = {0};
    g_autoptr(GArray) spots = placing_spots(l, NULL, &units);
    placing_turn(at(spots, 0), 1); // 17.2 degrees
    check_close(at(spots, 0)->turn, G_PI / 6, 1e-9, "the next multiple of 15 degrees");
    placing_turn(at(spots, 0), 1);
    check_close(at(spots, 0)->turn, G_PI / 4, 1e-9, "and the next");
    placing_turn(at(spots, 1), -1); // -5.7 degrees
    check_close(at(spots, 1)->turn, -G_PI / 12, 1e-9, "back");
    g_assert_true(placing_mirror(l, spots, 2));
    // Half a turn about the gate's start at (0.0244, 0.0052).
    check_close(at(spots, 2)->x, 0.0354, 1e-9, "2 * 0.0244 - 0.0134");
    check_close(at(spots, 2)->y, 0.0975, 1e-9, "2 * 0.0052 + 0.0871");
    g_assert_cmpfloat(fabs(remainder(at(spots, 2)->turn, 2 * G_PI)), <, 1e-9);
    g_assert_false(placing_mirror(l, spots, 3));
}

static void
test_align(void)
{
    g_autoptr(MouldLayout) l = make_layout();
    MouldWish wish = {.box_x = 0.06, .box_y = 0.04};
    SolidPoint corners[] = {{0, 0}, {0.06, 0}, {0, 0.04}};
    guint starts[] = {0, 3};
    SolidOutline outline = {0};
    outline.points = corners;
    outline.n_points = 3;
    outline.starts = starts;
    outline.n_loops = 1;
    g_autoptr(SolidOutline) own = solid_outline_simplified(&outline, 0);
    l->fixed = mould_fixed_new(&wish, own, own);
    UnitSet units = {0};
    g_autoptr(GArray) spots = placing_spots(l, NULL, &units);
    g_assert_cmpuint(placing_align(l, spots, 0, FALSE), ==, 1);
    check_close(at(spots, 1)->y, 0.0617, 1e-12, "onto the first's line");
    check_close(at(spots, 2)->y, -0.0871, 1e-12, "another row stays");
    at(spots, 1)->y = 0.07;
    at(spots, 1)->locked = TRUE;
    g_assert_cmpuint(placing_align(l, spots, 0, FALSE), ==, 0);
    g_assert_cmpuint(placing_align(l, spots, 0, TRUE), ==, 0);
}

static void
test_snap(void)
{
    g_autoptr(MouldLayout) l = make_layout();
    UnitSet units = {0};
    g_autoptr(GArray) spots = placing_spots(l, NULL, &units);
    PlacingSnap snap = placing_snap(l, spots, 0, -0.05, 0.03, REACH);
    g_assert_cmpuint(snap.n_guides, ==, 0);
    check_close(snap.at.x, -0.05, 0, "nothing near");
    snap = placing_snap(l, spots, 0, 0.0019, 0.0625, REACH);
    g_assert_cmpuint(snap.n_guides, ==, 2);
    check_close(snap.at.x, 0, 0, "the flask's centre line");
    check_close(snap.at.y, 0.0639, 1e-12, "the middle of the second");
    // Across the runner at 0.0052 from -0.0871.
    snap = placing_snap(l, spots, 0, 0.05, 0.0969, REACH);
    check_close(snap.at.y, 0.0975, 1e-9, "2 * 0.0052 + 0.0871");
    g_assert_cmpuint(snap.n_guides, ==, 1);
    // Not to itself, and the sprue not to images.
    snap = placing_snap(l, spots, 0, -0.0923, 0.0617, 0.001);
    g_assert_cmpuint(snap.n_guides, ==, 0);
    snap = placing_snap(l, spots, 3, 0.05, 0.0969, REACH);
    g_assert_cmpuint(snap.n_guides, ==, 0);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/window/placing-model/spots", test_spots);
    g_test_add_func("/window/placing-model/turn-and-mirror", test_turn_and_mirror);
    g_test_add_func("/window/placing-model/align", test_align);
    g_test_add_func("/window/placing-model/snap", test_snap);
    return g_test_run();
}
