// SPDX-License-Identifier: GPL-3.0-or-later
// Cope lift and core buoyancy against worked examples.
#include "check.h"
#include "mould/lift.h"

static void
test_cast_iron_pipe(void)
{
    // Pipe OD 12.5, ID 10, length 180 cm, head 20 cm; metal 0.0771, sand 0.0165 N/cm3; flask
    // 200 x 25 x 20 cm.
    double metal = 0.0771e6, sand = 0.0165e6; // N/m3, so gravity 1
    double core = G_PI / 4 * 0.1 * 0.1 * 1.8;
    double buoyancy = mould_core_buoyancy(core, metal, sand, 1);
    double lift = mould_lift(metal, 1.8 * 0.125, 0.2, 1);
    check_close(buoyancy, 856.712317, 1e-8, "P. N. Rao, unrounded");
    check_close(buoyancy, 856.7, 1 / 856.7, "P. N. Rao as printed");
    check_close(lift, 3469.5, 1e-9, "P. N. Rao as printed");
    double cope = sand * 2.0 * 0.25 * 0.2;
    check_close(cope, 1650, 1e-9, "P. N. Rao as printed");
    check_close(mould_weight_needed(buoyancy + lift, cope, 1), 2676.212317, 1e-8, "unrounded");
    check_close(mould_weight_needed(buoyancy + lift, cope, 1), 2676.7, 1 / 2676.7, "as printed");
}

static void
test_lead_and_sand_core(void)
{
    double force = mould_core_buoyancy(1840e-6, 11300, 1600, 9.81);
    check_close(force, 175.08888, 1e-8, "Groover, unrounded");
    check_close(force, 175.1, 0.0005, "Groover as printed");
}

// By the moments about an edge, worked by hand. A cope 300 mm long weighs 60 N and is lifted with
// 100 N, 30 mm beside the middle: about the far edge 100 N at 180 mm are 18 N m up, 60 N at 150 mm
// 9 N m down. A weight in the middle has 150 mm too and must be 60 N, where 40 N would hold the
// lift.
static void
test_tipping(void)
{
    MouldTipping t = {.lift = 100, .lift_x = 0.03, .weight = 60, .length = 0.3, .width = 0.2};
    check_close(mould_lift_tipping(&t) - t.weight, 60, 1e-12, "by hand");
    check_close(mould_weight_needed(mould_lift_tipping(&t), 60, 1), 60, 1e-12, "by hand");
    t.lift_x = -0.03;
    check_close(mould_lift_tipping(&t), 120, 1e-12, "the other edge");
    // Across, about the edge at 100 mm: 100 N at 117 mm = (60 N + w) at 100 mm.
    t.lift_y = 0.03 * 0.2 / 0.3 - 0.003;
    check_close(mould_lift_tipping(&t), 120, 1e-12, "along is still the more");
    t.lift_x = 0;
    t.lift_y = 0.017;
    check_close(mould_lift_tipping(&t), 117, 1e-12, "by hand");
    // Straight over one another they only pull.
    t.cope_y = 0.017;
    t.weight = 100;
    check_close(mould_lift_tipping(&t), 100, 1e-12, "no moment");
    // Round: any edge; 3-4-5.
    MouldTipping r = {100, 0.03, 0.04, 10, 0, 0, 0.4, NAN, TRUE};
    check_close(mould_lift_tipping(&r), 100 * (0.2 + 0.05) / 0.2, 1e-12, "by hand");
    r.lift = NAN;
    g_assert_true(isnan(mould_lift_tipping(&r)));
    // Brute force: the cope stands on its rim, which only pushes up. The middle of that push, found
    // from all other forces, must lie inside the flask; with less weight it would not.
    MouldTipping o = {137, 0.041, -0.013, 71, -0.007, 0.002, 0.313, 0.207, FALSE};
    double needed = mould_lift_tipping(&o);
    for (int less = 0; less < 2; less++) {
        double weight = needed - o.weight - less * 0.01, push = o.weight + weight - o.lift;
        double x = (o.weight * o.cope_x - o.lift * o.lift_x) / push;
        double y = (o.weight * o.cope_y - o.lift * o.lift_y) / push;
        gboolean inside = push > 0 && fabs(x) <= o.length / 2 * (1 + 1e-9) &&
                          fabs(y) <= o.width / 2 * (1 + 1e-9);
        g_assert_cmpint(inside, ==, !less);
    }
}

static void
test_aluminium_plate(void)
{
    check_close(mould_lift(2400, 0.2 * 0.15, 0.08, 9.81), 56.5056, 1e-9, "rho g A h");
}

// A ball whose upper half lies in the cope: the head over each spot of the roof, summed.
static void
test_ball_in_the_cope(void)
{
    double rho = 2390, g = 9.80665, r = 0.0427, head = 0.117, sum = 0;
    int rings = 20000;
    for (int i = 0; i < rings; i++) {
        double x = r * (i + 0.5) / rings;
        sum += rho * g * (head - sqrt(r * r - x * x)) * 2 * G_PI * x * r / rings;
    }
    double lift = mould_lift_roofed(rho, G_PI * r * r, head, 2 * G_PI / 3 * r * r * r, g);
    check_close(lift, sum, 1e-7, "pressure summed over rings");
    check_close(mould_lift_roofed(2400, 0.2 * 0.15, 0.08, 0, 9.81), 56.5056, 1e-9,
                "flat at the parting: rho g A h");
    // A block that fills the cope to the metal's level pushes up no more.
    g_assert_cmpfloat(fabs(mould_lift_roofed(rho, 0.013, head, 0.013 * head, g)), <, 1e-9);
}

static void
test_surge(void)
{
    check_close(mould_lift_surging(61.3, 1.5, 2.7), 91.95, 1e-12, "the factor is more");
    check_close(mould_lift_surging(61.3, 1.01, 2.7), 64.0, 1e-12, "the stream is more");
    g_assert_true(isnan(mould_lift_surging(61.3, 1.5, NAN)));
}

static void
test_clamps(void)
{
    check_close(mould_clamps_needed(61.3, 300, 9.80665), 3, 1e-12, "601 N by 300 N");
    g_assert_cmpfloat(mould_clamps_needed(0, 300, 9.80665), ==, 0);
}

static void
test_heavy_cope(void)
{
    g_assert_cmpfloat(mould_weight_needed(56.5056, 7.31, 9.81), ==, 0);
    check_close(mould_weight_needed(98.1, 7.31, 9.81), 2.69, 1e-12, "10 kg less the cope");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/lift/tipping", test_tipping);
    g_test_add_func("/mould/lift/pipe", test_cast_iron_pipe);
    g_test_add_func("/mould/lift/lead", test_lead_and_sand_core);
    g_test_add_func("/mould/lift/aluminium", test_aluminium_plate);
    g_test_add_func("/mould/lift/ball", test_ball_in_the_cope);
    g_test_add_func("/mould/lift/surge", test_surge);
    g_test_add_func("/mould/lift/clamps", test_clamps);
    g_test_add_func("/mould/lift/heavy-cope", test_heavy_cope);
    return g_test_run();
}
