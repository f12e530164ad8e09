// SPDX-License-Identifier: GPL-3.0-or-later
// Intervals against values two statistics packages agree on, and closed forms.
#include "session/interval.h"

#include <gsl/gsl_cdf.h>

#include "check.h"

#define PACKAGES "two statistics packages agree"

typedef struct {
    guint good, poured;
    double exact_low, exact_high, jeffreys_low, jeffreys_high;
} Case;

static const Case cases[] = {
    {8, 10, 0.44390454, 0.97478927, 0.49722550, 0.95594059},
    {0, 10, 0.0, 0.30849711, 0.00004789, 0.21719627},
    {10, 10, 0.69150289, 1.0, 0.78280373, 0.99995211},
    {45, 50, 0.78186463, 0.96672491, 0.79464517, 0.96080564},
    {17, 20, 0.62107317, 0.96792906, 0.65142229, 0.95586866},
};

static void
test_table(void)
{
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        const Case *c = &cases[i];
        double low = -1, high = -1;
        g_assert_true(session_interval_exact(c->good, c->poured, 0.95, &low, &high));
        g_assert_cmpfloat_with_epsilon(low, c->exact_low, 6e-9);
        g_assert_cmpfloat_with_epsilon(high, c->exact_high, 6e-9);
        g_assert_true(session_interval_jeffreys(c->good, c->poured, 0.95, &low, &high));
        g_assert_cmpfloat_with_epsilon(low, c->jeffreys_low, 6e-9);
        g_assert_cmpfloat_with_epsilon(high, c->jeffreys_high, 6e-9);
    }
}

static void
test_closed_forms(void)
{
    // I_x(a, 1) = x^a and I_x(1, b) = 1 - (1 - x)^b; Beta(1/2, 1/2) is the arcsine law.
    check_close(session_beta_quantile(0.137, 7.3, 1.0), pow(0.137, 1 / 7.3), 1e-13, "x^a");
    check_close(session_beta_quantile(0.137, 1.0, 4.9), 1 - pow(1 - 0.137, 1 / 4.9), 1e-13,
                "1 - (1 - x)^b");
    check_close(session_beta_quantile(0.0281, 0.5, 0.5), pow(sin(G_PI_2 * 0.0281), 2), 1e-12,
                "arcsine law");
    // Clopper and Pearson with all good: (alpha / 2)^(1 / n).
    double low, high;
    g_assert_true(session_interval_exact(23, 23, 0.9, &low, &high));
    check_close(low, pow(0.05, 1 / 23.0), 1e-13, "(alpha / 2)^(1 / n)");
    check_close(high, 1.0, 0, "all good");
}

static void
test_awkward_shape(void)
{
    // GSL's own inverse gives up on this one.
    double x = session_beta_quantile(0.05, 135.5, 0.5);
    g_assert_cmpfloat(x, >, 0.98);
    g_assert_cmpfloat(x, <, 1.0);
    check_close(gsl_cdf_beta_P(x, 135.5, 0.5), 0.05, 1e-10, "GSL, forwards");
    for (guint good = 0; good <= 400; good++) {
        double low, high, wide_low, wide_high;
        g_assert_true(session_interval_jeffreys(good, 400, 0.9, &low, &high));
        g_assert_true(session_interval_exact(good, 400, 0.9, &wide_low, &wide_high));
        g_assert_cmpfloat(low, <, high);
        // Jeffreys' interval always lies within the exact one (Brown, Cai, DasGupta 2001).
        g_assert_cmpfloat(wide_low, <=, low);
        g_assert_cmpfloat(high, <=, wide_high);
    }
}

static void
test_refused(void)
{
    double low = 5, high = 6;
    g_assert_false(session_interval_exact(0, 0, 0.95, &low, &high));
    g_assert_false(session_interval_exact(4, 3, 0.95, &low, &high));
    g_assert_false(session_interval_jeffreys(2, 3, 1.0, &low, &high));
    g_assert_false(session_interval_jeffreys(2, 3, NAN, &low, &high));
    g_assert_cmpfloat(low, ==, 5);
    g_assert_cmpfloat(high, ==, 6);
    g_assert_true(isnan(session_beta_quantile(0.5, 0.0, 1.0)));
    g_assert_true(isnan(session_beta_quantile(1.5, 2.0, 1.0)));
    // Where GSL's sum fails the answer is "not known", never the end of the program.
    g_assert_true(isnan(session_beta_quantile(0.5, 9e8, 1e8)));
    g_assert_false(session_interval_jeffreys(900000000, 1000000000, 0.5, &low, &high));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/session/interval/table", test_table);
    g_test_add_func("/session/interval/closed-forms", test_closed_forms);
    g_test_add_func("/session/interval/awkward", test_awkward_shape);
    g_test_add_func("/session/interval/refused", test_refused);
    return g_test_run();
}
