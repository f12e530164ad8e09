// SPDX-License-Identifier: GPL-3.0-or-later
// Fits on made cycles: exact ones give the truth, noisy ones give it within the errors they state,
// and cycles that cannot tell are refused.
#include "learn/fit.h"

#include <math.h>

#include "check.h"

#define SHARE 0.387 // what the made furnace does
#define LOSS 713.0  // W
#define POWER 4100.0

// Charges of 1 to 6 kg at 1.16 MJ/kg and times not in step with them.
static LearnCycle
make_cycle(GRand *rand, double noise)
{
    LearnCycle c = {.metered = TRUE};
    c.heat = g_rand_double_range(rand, 1, 6) * 1.16e6;
    c.time = (c.heat / SHARE + g_rand_double_range(rand, 0.2e6, 6e6)) / (POWER - LOSS);
    // Noise as a sum of twelve, close enough to a bell.
    double bell = -6;
    for (int i = 0; i < 12; i++)
        bell += g_rand_double(rand);
    c.energy = c.heat / SHARE + LOSS * c.time + noise * bell;
    return c;
}

static void
test_exact(void)
{
    GRand *rand = g_rand_new_with_seed(2385);
    LearnCycle cycles[7];
    LearnFit fit;
    for (guint i = 0; i < G_N_ELEMENTS(cycles); i++)
        cycles[i] = make_cycle(rand, 0);
    g_assert_true(learn_fit_both(cycles, G_N_ELEMENTS(cycles), POWER, &fit));
    check_close(fit.efficiency, SHARE, 1e-9, "as made");
    check_close(fit.standing_loss, LOSS, 1e-9, "as made");
    g_assert_cmpfloat(fit.efficiency_error, <, 1e-6);
    g_assert_cmpuint(fit.used, ==, 7);
    g_assert_true(learn_fit_efficiency(cycles, G_N_ELEMENTS(cycles), LOSS, &fit));
    check_close(fit.efficiency, SHARE, 1e-12, "as made");
    g_assert_true(isnan(fit.standing_loss));
    g_rand_free(rand);
}

// 400 logs of 25 melts each, metered to about 0.04 kWh. The stated errors must be those seen: the
// mean of (answer - truth)^2 / error^2 is 1 for a right error, give or take a few standard
// deviations of a chi square; and there is no bias to speak of.
static void
test_noise(void)
{
    GRand *rand = g_rand_new_with_seed(713);
    double sum[2] = {0}, square[2] = {0}, alone = 0;
    const guint logs = 400, n = 25;
    for (guint k = 0; k < logs; k++) {
        LearnCycle cycles[25];
        LearnFit both, one;
        for (guint i = 0; i < n; i++)
            cycles[i] = make_cycle(rand, 150e3);
        g_assert_true(learn_fit_both(cycles, n, POWER, &both));
        g_assert_true(learn_fit_efficiency(cycles, n, LOSS, &one));
        double off[2] = {both.efficiency - SHARE, both.standing_loss - LOSS};
        sum[0] += off[0] / SHARE;
        sum[1] += off[1] / LOSS;
        square[0] += pow(off[0] / both.efficiency_error, 2);
        square[1] += pow(off[1] / both.standing_loss_error, 2);
        alone += pow((one.efficiency - SHARE) / one.efficiency_error, 2);
        g_assert_cmpfloat(fabs(off[0]), <, 6 * both.efficiency_error);
    }
    for (int i = 0; i < 2; i++) {
        g_test_message("bias %g, scatter over error %g", sum[i] / logs, square[i] / logs);
        g_assert_cmpfloat(fabs(sum[i] / logs), <, 0.01);
        g_assert_cmpfloat(square[i] / logs, >, 0.75);
        g_assert_cmpfloat(square[i] / logs, <, 1.40);
    }
    g_assert_cmpfloat(alone / logs, >, 0.75);
    g_assert_cmpfloat(alone / logs, <, 1.40);
    g_rand_free(rand);
}

// Five melts by the normal equations, another way than the solver's.
static void
test_normal_equations(void)
{
    const LearnCycle cycles[] = {{2e6, 8.1e6, 4000, TRUE},
                                 {3e6, 11.2e6, 5000, TRUE},
                                 {5e6, 15.9e6, 4500, TRUE},
                                 {4e6, 15.3e6, 7000, TRUE},
                                 {6e6, 19.8e6, 6500, TRUE}};
    LearnFit fit;
    g_assert_true(learn_fit_both(cycles, 5, 4000, &fit));
    // Sums in MJ and ks.
    double hh = 0, ht = 0, tt = 0, he = 0, te = 0, rest = 0;
    for (guint i = 0; i < 5; i++) {
        double h = cycles[i].heat / 1e6, t = cycles[i].time / 1e3, e = cycles[i].energy / 1e6;
        hh += h * h;
        ht += h * t;
        tt += t * t;
        he += h * e;
        te += t * e;
    }
    double det = hh * tt - ht * ht;
    double slope = (he * tt - te * ht) / det, loss = (te * hh - he * ht) / det;
    for (guint i = 0; i < 5; i++)
        rest += pow(
            cycles[i].energy / 1e6 - slope * cycles[i].heat / 1e6 - loss * cycles[i].time / 1e3, 2);
    check_close(fit.efficiency, 1 / slope, 1e-10, "normal equations");
    check_close(fit.standing_loss, loss * 1e3, 1e-10, "normal equations");
    check_close(fit.standing_loss_error, sqrt(rest / 3 * hh / det) * 1e3, 1e-9,
                "covariance of the normal equations");
    check_close(fit.efficiency_error, sqrt(rest / 3 * tt / det) / slope / slope, 1e-9,
                "covariance of the normal equations");
}

static void
test_cannot_tell(void)
{
    LearnCycle cycles[8];
    LearnFit fit = {.used = 77};
    GRand *rand = g_rand_new_with_seed(41);
    for (guint i = 0; i < G_N_ELEMENTS(cycles); i++)
        cycles[i] = make_cycle(rand, 0);
    g_assert_false(learn_fit_both(cycles, 3, POWER, &fit)); // too few
    g_assert_false(learn_fit_both(NULL, 0, POWER, &fit));
    g_assert_false(learn_fit_both(cycles, 8, 600, &fit)); // a loss above the power
    for (guint i = 0; i < 8; i++)                         // flat out: energy is power times time
        cycles[i].energy = POWER * cycles[i].time;
    g_assert_false(learn_fit_both(cycles, 8, POWER, &fit));
    for (guint i = 0; i < 8; i++) { // time in step with heat
        cycles[i].time = cycles[i].heat / 900;
        cycles[i].energy = cycles[i].heat / SHARE + LOSS * cycles[i].time;
    }
    g_assert_false(learn_fit_both(cycles, 8, POWER, &fit));
    for (guint i = 0; i < 8; i++) // all the same
        cycles[i] = cycles[0];
    g_assert_false(learn_fit_both(cycles, 8, POWER, &fit));
    for (guint i = 0; i < 8; i++) { // no meter
        cycles[i] = make_cycle(rand, 0);
        cycles[i].metered = FALSE;
    }
    g_assert_false(learn_fit_both(cycles, 8, POWER, &fit));
    for (guint i = 0; i < 8; i++) // a reading as uncertain as this tells nothing
        cycles[i] = make_cycle(rand, 40e6);
    g_assert_false(learn_fit_both(cycles, 8, POWER, &fit));
    g_assert_cmpuint(fit.used, ==, 77);
    g_rand_free(rand);
}

static void
test_one(void)
{
    LearnFit fit;
    const LearnCycle good = {1.365e6, 7.38e6, 2460, FALSE};
    // 3000 - 700 W over 2460 s: 5.658 MJ.
    g_assert_true(learn_fit_efficiency(&good, 1, 700, &fit));
    check_close(fit.efficiency, 0.24125133, 1e-7, "by hand");
    g_assert_true(isnan(fit.efficiency_error));
    const LearnCycle odd[] = {{9e6, 7.38e6, 2460, FALSE}, // more heat than was given
                              {NAN, 7e6, 2000, TRUE},
                              {1e6, 7e6, 0, TRUE}};
    g_assert_false(learn_fit_efficiency(odd, 3, 700, &fit));
    g_assert_cmpuint(fit.left_out, ==, 1);
    g_assert_true(isnan(fit.efficiency));
    g_assert_false(learn_fit_efficiency(&good, 1, NAN, &fit));
    g_assert_false(learn_fit_efficiency(NULL, 0, 700, &fit));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/learn/fit/exact", test_exact);
    g_test_add_func("/learn/fit/noise", test_noise);
    g_test_add_func("/learn/fit/normal-equations", test_normal_equations);
    g_test_add_func("/learn/fit/cannot-tell", test_cannot_tell);
    g_test_add_func("/learn/fit/one", test_one);
    return g_test_run();
}
