// SPDX-License-Identifier: GPL-3.0-or-later
// The flow network against closed forms, a network balanced by hand, and its own laws on random
// networks.
#include <math.h>

#include "check.h"
#include "mould/gating.h"
#include "mould/loss.h"
#include "mould/network.h"

#define G MOULD_GRAVITY

static guint
add(MouldNetwork *n, guint from, guint to, double area, double loss)
{
    MouldLink link = {.from = from, .to = to, .area = area, .loss = loss, .before = -1};
    return mould_network_add_link(n, &link);
}

static guint
add_pipe(MouldNetwork *n, guint from, guint to, double side, double length, double loss)
{
    MouldLink link = {from, to, side * side, side, length, MOULD_ROUGHNESS, loss, FALSE, -1, 0, 0};
    return mould_network_add_link(n, &link);
}

static void
solve(MouldNetwork *n)
{
    g_autoptr(GError) error = NULL;
    g_assert_true(mould_network_solve(n, &error));
    g_assert_no_error(error);
}

static void
test_friction(void)
{
    check_close(mould_friction(1370, 0.02, NULL), 64 / 1370.0, 1e-14, "64/Re");
    double root = -1.8 * log10(pow(0.013 / 3.7, 1.11) + 6.9 / 31700);
    check_close(mould_friction(31700, 0.013, NULL), 1 / (root * root), 1e-14, "Haaland");
    check_close(mould_friction_smooth(1e5), 0.3164 / pow(1e5, 0.25), 1e-14, "Blasius");
    check_close(mould_friction(1e5, 0, NULL), mould_friction_smooth(1e5), 0.02, "smooth walls");
    // Colebrook's root at Re 1e5, k/D 0.01 is 0.0385 (Moody chart).
    check_close(mould_friction(1e5, 0.01, NULL), 0.0385, 0.01, "Moody chart");
    for (double at = 2000; at <= 4000; at += 2000) {
        double below = mould_friction(at * (1 - 1e-9), 0.017, NULL);
        check_close(mould_friction(at * (1 + 1e-9), 0.017, NULL), below, 1e-7, "no jump");
    }
    double before = 0;
    for (double re = 137; re < 9000; re *= 1.013) {
        double slope, f = mould_friction(re, 0.017, &slope), d = 1e-5 * re;
        double difference = mould_friction(re + d, 0.017, NULL) -
                            mould_friction(re - d, 0.017, NULL);
        g_assert_cmpfloat(fabs(slope - difference / (2 * d)), <, 1e-5 * fabs(f / re) * 10);
        g_assert_cmpfloat(f * re * re, >, before);
        before = f * re * re;
    }
}

static void
test_losses(void)
{
    check_close(mould_loss_step(1.7e-4, 5.1e-4), 4 / 9.0, 1e-14, "Borda and Carnot");
    check_close(mould_loss_step(5.1e-4, 1.7e-4), 1 / 3.0, 1e-14, "half of what is narrowed");
    g_assert_cmpfloat(mould_loss_step(2e-4, 2e-4), ==, 0);
    double sum = 0, height = 0.0913, upper = 0.0214, lower = 0.0127;
    for (int i = 0; i < 20000; i++)
        sum += pow(lower / (upper + (lower - upper) * (i + 0.5) / 20000), 5) * height / 20000;
    check_close(mould_loss_cone(height, upper, lower), sum, 1e-7, "slices of the cone");
}

static void
test_series(void)
{
    g_autoptr(MouldNetwork) n = mould_network_new(G, MOULD_VISCOSITY);
    guint a = mould_network_add_head(n, 0.117), m = mould_network_add_junction(n, 0);
    guint b = mould_network_add_head(n, 0.013);
    guint one = add(n, a, m, 1.3e-4, 1.56), two = add(n, m, b, 3.7e-4, 2.1);
    solve(n);
    double sum = 1.56 / (1.3e-4 * 1.3e-4) + 2.1 / (3.7e-4 * 3.7e-4);
    double flow = sqrt(2 * G * 0.104 / sum);
    check_close(mould_network_flow(n, one), flow, 1e-10, "losses in series add");
    check_close(mould_network_flow(n, two), flow, 1e-10, "losses in series add");
    check_close(mould_network_head(n, m), 0.117 - 1.56 * pow(flow / 1.3e-4, 2) / (2 * G), 1e-10,
                "head between");
    check_close(mould_network_lost(n, one) + mould_network_lost(n, two), 0.104, 1e-10, "energy");
}

static void
test_parallel(void)
{
    // Two pipes with one K each beside one another: Q = sum of A sqrt(2 g h/K).
    g_autoptr(MouldNetwork) n = mould_network_new(G, MOULD_VISCOSITY);
    guint a = mould_network_add_head(n, 0.31), j = mould_network_add_junction(n, 0);
    guint k = mould_network_add_junction(n, 0), b = mould_network_add_head(n, 0);
    guint in = add(n, a, j, 2e-4, 0.7);
    guint p = add(n, j, k, 1.1e-4, 1.9), q = add(n, j, k, 2.3e-4, 3.3);
    add(n, k, b, 4e-4, 1.2);
    solve(n);
    double open = 1.1e-4 / sqrt(1.9) + 2.3e-4 / sqrt(3.3); // together like one of 1/open^2
    double sum = 0.7 / (2e-4 * 2e-4) + 1 / (open * open) + 1.2 / (4e-4 * 4e-4);
    double flow = sqrt(2 * G * 0.31 / sum);
    check_close(mould_network_flow(n, in), flow, 1e-10, "closed form");
    check_close(mould_network_flow(n, p), flow * 1.1e-4 / sqrt(1.9) / open, 1e-10, "share");
    check_close(mould_network_flow(n, q), flow * 2.3e-4 / sqrt(3.3) / open, 1e-10, "share");
}

static void
test_two_gates(void)
{
    // Sprue, then gates at different heights: (h - y)/(x) with y the head at the fork. With
    // S = 1/A^2 K/(2 g) of each: sqrt((h-y)/S0) = sqrt((y-z1)/S1) + sqrt((y-z2)/S2).
    g_autoptr(MouldNetwork) n = mould_network_new(G, MOULD_VISCOSITY);
    guint a = mould_network_add_head(n, 0.11), j = mould_network_add_junction(n, 0);
    guint low = mould_network_add_head(n, -0.004), high = mould_network_add_head(n, 0.021);
    add(n, a, j, 1.13e-4, 1.6);
    guint one = add(n, j, low, 1.9e-4, 2), two = add(n, j, high, 2.2e-4, 2);
    solve(n);
    double y = mould_network_head(n, j);
    double in = 1.13e-4 * sqrt(2 * G * (0.11 - y) / 1.6);
    double q1 = 1.9e-4 * sqrt(2 * G * (y + 0.004) / 2), q2 = 2.2e-4 * sqrt(2 * G * (y - 0.021) / 2);
    check_close(q1 + q2, in, 1e-9, "closed form at the fork");
    check_close(mould_network_flow(n, one), q1, 1e-9, "low gate");
    check_close(mould_network_flow(n, two), q2, 1e-9, "high gate");
    // A fork with equal gates under one level has a closed form for the head.
    mould_network_set_head(n, low, 0);
    mould_network_set_head(n, high, 0);
    solve(n);
    double s0 = 1.6 / (1.13e-4 * 1.13e-4), s1 = 2 / (4.1e-4 * 4.1e-4);
    check_close(mould_network_head(n, j), 0.11 * s1 / (s0 + s1), 1e-10, "gates as one");
}

static void
test_balanced_by_hand(void)
{
    // A square with a diagonal: 20 l/s in at A, 7, 5 and 8 out at B, C and D, h = r Q^2. Balanced
    // by H. Cross, Analysis of flow in networks of conduits or conductors, 1936: his method of loop
    // corrections carried on until nothing changes.
    const double r[5] = {1.5e4, 4e4, 5e4, 3e4, 2.5e4};
    const guint ends[5][2] = {{0, 1}, {1, 2}, {0, 2}, {0, 3}, {3, 2}};
    const double expected[5] = {0.00859074129818, 0.00159074129818, 0.0049157519382,
                                0.00649350676362, -0.00150649323638};
    g_autoptr(MouldNetwork) n = mould_network_new(G, MOULD_VISCOSITY);
    mould_network_add_head(n, 50);
    mould_network_add_junction(n, -0.007);
    mould_network_add_junction(n, -0.005);
    mould_network_add_junction(n, -0.008);
    for (int i = 0; i < 5; i++)
        add(n, ends[i][0], ends[i][1], sqrt(1 / (2 * G * r[i])), 1);
    solve(n);
    for (guint i = 0; i < 5; i++)
        check_close(mould_network_flow(n, i), expected[i], 1e-9, "Hardy Cross");
}

// Runner with `each` gates at both arms.
static MouldNetwork *
make_runner(guint each, double side, guint *gates)
{
    MouldNetwork *n = mould_network_new(G, MOULD_VISCOSITY);
    guint basin = mould_network_add_head(n, 0.11), well = mould_network_add_junction(n, 0);
    guint out = mould_network_add_head(n, 0.003);
    add(n, basin, well, 1.2e-4, 1.6);
    for (int arm = 0; arm < 2; arm++) {
        guint from = well;
        int before = -1;
        for (guint i = 0; i < each; i++) {
            guint to = mould_network_add_junction(n, 0);
            before = (int)add_pipe(n, from, to, 0.0151, 0.047, i == 0 ? 0.5 : 0);
            MouldLink gate = {to, out,  9.3e-5, 0.008, 0.03, MOULD_ROUGHNESS,
                              2,  TRUE, before, side,  0};
            gates[arm * (int)each + (int)i] = mould_network_add_link(n, &gate);
            from = to;
        }
    }
    return n;
}

static void
test_symmetric(void)
{
    guint gates[12];
    g_autoptr(MouldNetwork) n = make_runner(6, 1, gates);
    solve(n);
    for (int i = 0; i < 6; i++)
        check_close(mould_network_flow(n, gates[i]), mould_network_flow(n, gates[6 + i]), 1e-9,
                    "both arms alike");
    // What passes by holds back the first gate: the last one takes most.
    g_assert_cmpfloat(mould_network_flow(n, gates[5]), >, mould_network_flow(n, gates[0]));
    guint plain[12];
    g_autoptr(MouldNetwork) without = make_runner(6, 0, plain);
    solve(without);
    g_assert_cmpfloat(mould_network_flow(without, plain[5]), <,
                      mould_network_flow(without, plain[0]));
}

static void
test_branching(void)
{
    // One gate off a runner that goes on to another: both laws written out.
    g_autoptr(MouldNetwork) n = mould_network_new(G, MOULD_VISCOSITY);
    guint a = mould_network_add_head(n, 0.11), j = mould_network_add_junction(n, 0);
    guint b = mould_network_add_head(n, 0);
    guint in = add(n, a, j, 2e-4, 1.6);
    MouldLink off = {j, b, 1.3e-4, 0, 0, 0, 2, TRUE, (int)in, 0.9, 0};
    MouldLink on = {j, b, 1.7e-4, 0, 0, 0, 3, FALSE, (int)in, 0, 0.4};
    guint one = mould_network_add_link(n, &off), two = mould_network_add_link(n, &on);
    solve(n);
    double w = mould_network_velocity(n, in), v = mould_network_velocity(n, one);
    double u = mould_network_velocity(n, two), head = mould_network_head(n, j);
    check_close((2 * v * v + 0.9 * w * w) / (2 * G), head, 1e-9, "turns off");
    check_close((3 * u * u + 0.4 * (w - u) * (w - u)) / (2 * G), head, 1e-9, "goes on");
    check_close(w * 2e-4, v * 1.3e-4 + u * 1.7e-4, 1e-12, "balance");
}

static void
test_one_way(void)
{
    // A gate that lies higher than the metal can rise stays dry; open, metal would flow back.
    g_autoptr(MouldNetwork) n = mould_network_new(G, MOULD_VISCOSITY);
    guint a = mould_network_add_head(n, 0.11), j = mould_network_add_junction(n, 0);
    guint b = mould_network_add_head(n, 0), high = mould_network_add_head(n, 0.09);
    add(n, a, j, 1.2e-4, 1.6);
    guint low = add(n, j, b, 3e-4, 2);
    MouldLink link = {j, high, 2e-4, 0, 0, 0, 2, TRUE, -1, 0, 0};
    guint valve = mould_network_add_link(n, &link);
    solve(n);
    g_assert_cmpfloat(mould_network_flow(n, valve), ==, 0);
    double sum = 1.6 / (1.2e-4 * 1.2e-4) + 2 / (3e-4 * 3e-4);
    check_close(mould_network_flow(n, low), sqrt(2 * G * 0.11 / sum), 1e-10, "as if alone");
    mould_network_set_head(n, high, 0.001);
    solve(n);
    g_assert_cmpfloat(mould_network_flow(n, valve), >, 1e-6);
    mould_network_set_shut(n, low, TRUE);
    solve(n);
    g_assert_cmpfloat(mould_network_flow(n, low), ==, 0);
    sum = 1.6 / (1.2e-4 * 1.2e-4) + 2 / (2e-4 * 2e-4);
    check_close(mould_network_flow(n, valve), sqrt(2 * G * 0.109 / sum), 1e-10, "the other alone");
}

static void
test_random(void)
{
    for (guint seed = 1; seed <= 60; seed++) {
        g_autoptr(GRand) rand = g_rand_new_with_seed(seed);
        g_autoptr(MouldNetwork) n = mould_network_new(G, MOULD_VISCOSITY);
        guint nodes = 3 + (guint)g_rand_int_range(rand, 0, 25), links = 0;
        guint from[120], to[120];
        mould_network_add_head(n, g_rand_double_range(rand, 0.05, 0.4));
        mould_network_add_head(n, g_rand_double_range(rand, 0, 0.05));
        for (guint i = 2; i < nodes; i++)
            mould_network_add_junction(n, i % 5 == 0 ? g_rand_double_range(rand, -1e-5, 1e-5) : 0);
        for (guint i = 1; i < nodes + nodes / 2; i++) {
            guint a = i < nodes ? i : (guint)g_rand_int_range(rand, 0, (int)nodes);
            guint b = (guint)g_rand_int_range(rand, 0, i < nodes ? (int)i : (int)nodes);
            if (a == b)
                continue;
            from[links] = a;
            to[links++] = b;
            add_pipe(n, a, b, g_rand_double_range(rand, 0.004, 0.03),
                     g_rand_double_range(rand, 0.01, 0.4), g_rand_double_range(rand, 0, 3));
        }
        solve(n);
        double most = 0;
        for (guint i = 0; i < links; i++)
            most = MAX(most, fabs(mould_network_flow(n, i)));
        // Every link's loss is the difference of heads of its ends, so it sums to nothing round
        // every loop.
        for (guint i = 0; i < links; i++)
            g_assert_cmpfloat(fabs(mould_network_lost(n, i) - mould_network_head(n, from[i]) +
                                   mould_network_head(n, to[i])),
                              <, 1e-10 * 0.4);
        for (guint i = 2; i < nodes; i++)
            g_assert_cmpfloat(fabs(mould_network_imbalance(n, i)), <, 1e-10 * most);
    }
}

static void
test_still(void)
{
    g_autoptr(MouldNetwork) n = mould_network_new(G, MOULD_VISCOSITY);
    guint a = mould_network_add_head(n, 0.1), j = mould_network_add_junction(n, 0);
    guint b = mould_network_add_head(n, 0.1);
    guint one = add_pipe(n, a, j, 0.013, 0.05, 0.5);
    add_pipe(n, j, b, 0.01, 0.03, 2);
    solve(n);
    g_assert_cmpfloat(fabs(mould_network_flow(n, one)), <, 1e-12);
    check_close(mould_network_head(n, j), 0.1, 1e-10, "nothing flows");
}

static void
test_errors(void)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(MouldNetwork) n = mould_network_new(G, MOULD_VISCOSITY);
    guint a = mould_network_add_head(n, 0.1), j = mould_network_add_junction(n, 0);
    guint alone = mould_network_add_junction(n, 0);
    guint link = add(n, a, j, 1e-4, 1);
    g_assert_false(mould_network_solve(n, &error));
    check_error(error, BASE_ERROR_VALUE, "no way to a known head");
    add(n, j, alone, 1e-4, 1);
    solve(n);
    mould_network_set_shut(n, link, TRUE);
    g_assert_false(mould_network_solve(n, &error));
    check_error(error, BASE_ERROR_VALUE, "2 places");
    const MouldLink bad[] = {{a, j, 0, 0, 0, 0, 1, FALSE, -1, 0, 0},
                             {a, j, NAN, 0, 0, 0, 1, FALSE, -1, 0, 0},
                             {a, j, 1e-4, 0, 0.1, 0, 1, FALSE, -1, 0, 0},
                             {a, j, 1e-4, 0, 0, 0, 0, FALSE, -1, 0, 0},
                             {a, j, 1e-4, 0, 0, 0, -1, FALSE, -1, 0, 0},
                             {a, a, 1e-4, 0, 0, 0, 1, FALSE, -1, 0, 0},
                             {a, j, 1e-4, 0.01, INFINITY, 0, 1, FALSE, -1, 0, 0}};
    for (gsize i = 0; i < G_N_ELEMENTS(bad); i++) {
        g_autoptr(MouldNetwork) other = mould_network_new(G, MOULD_VISCOSITY);
        mould_network_add_head(other, 0.1);
        mould_network_add_junction(other, 0);
        mould_network_add_link(other, &bad[i]);
        g_assert_false(mould_network_solve(other, &error));
        check_error(error, BASE_ERROR_VALUE, "no usable size");
    }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/mould/network/friction", test_friction);
    g_test_add_func("/mould/network/losses", test_losses);
    g_test_add_func("/mould/network/series", test_series);
    g_test_add_func("/mould/network/parallel", test_parallel);
    g_test_add_func("/mould/network/two-gates", test_two_gates);
    g_test_add_func("/mould/network/balanced-by-hand", test_balanced_by_hand);
    g_test_add_func("/mould/network/symmetric", test_symmetric);
    g_test_add_func("/mould/network/branching", test_branching);
    g_test_add_func("/mould/network/one-way", test_one_way);
    g_test_add_func("/mould/network/random", test_random);
    g_test_add_func("/mould/network/still", test_still);
    g_test_add_func("/mould/network/errors", test_errors);
    return g_test_run();
}
