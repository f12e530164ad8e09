// SPDX-License-Identifier: GPL-3.0-or-later
// How many to start, against exact sums in rational arithmetic, GSL's own binomial tail, and closed
// forms.
#include "session/batch.h"

#include <gsl/gsl_cdf.h>

#include "check.h"

#define EXACT "sums of exact fractions"

typedef struct {
    double rate;
    int wanted;
    double confidence;
    int castings;
    double chance, before;
} FixedCase;

static const FixedCase fixed_cases[] = {
    {0.9, 1, 0.90, 1, 0.9, 0.0},
    {0.9, 5, 0.95, 7, 0.9743085000, 0.8857350000},
    {0.9, 10, 0.95, 13, 0.9658392791, 0.8891300223},
    {0.9, 20, 0.95, 25, 0.9666000554, 0.9149251141},
    {0.8, 1, 0.95, 2, 0.9600000000, 0.8000000000},
    {0.8, 5, 0.90, 8, 0.9437184000, 0.8519680000},
    {0.8, 10, 0.95, 16, 0.9733426685, 0.9389485704},
    {0.8, 20, 0.99, 32, 0.9939464796, 0.9872822512},
    {0.6, 5, 0.90, 11, 0.9006474240, 0.8337613824},
    {0.5, 10, 0.95, 28, 0.9564207233, 0.9389609396},
};

typedef struct {
    double good, seen;
    int wanted;
    double confidence;
    int castings;
    double chance, before;
} LearnedCase;

static const LearnedCase learned_cases[] = {
    {8, 10, 5, 0.90, 9, 0.9159851074, 0.8608676226},
    {8, 10, 10, 0.95, 20, 0.9583317279, 0.9444400660},
    {3, 3, 10, 0.90, 15, 0.9006195981, 0.8721019514},
    {18, 20, 10, 0.90, 14, 0.9462555436, 0.8974146968},
    {45, 50, 10, 0.95, 14, 0.9746024036, 0.9370849509},
    {0, 0, 1, 0.90, 32, 0.9006532463, 0.8990763137},
    {0, 0, 1, 0.95, 128, 0.9501808901, 0.9499855210},
};

static void
test_fixed_table(void)
{
    for (guint i = 0; i < G_N_ELEMENTS(fixed_cases); i++) {
        const FixedCase *c = &fixed_cases[i];
        g_autoptr(GError) error = NULL;
        SessionBatch batch;
        g_assert_true(session_batch_fixed(c->wanted, c->rate, c->confidence, &batch, NULL, &error));
        g_assert_no_error(error);
        g_assert_true(batch.found);
        g_assert_cmpint(batch.castings, ==, c->castings);
        check_close(batch.chance, c->chance, 1e-10, EXACT);
        check_close(batch.before, c->before, 1e-10, EXACT);
    }
}

static void
test_learned_table(void)
{
    for (guint i = 0; i < G_N_ELEMENTS(learned_cases); i++) {
        const LearnedCase *c = &learned_cases[i];
        g_autoptr(GError) error = NULL;
        SessionBatch batch;
        g_assert_true(session_batch_learned(c->wanted, c->good + 0.5, c->seen - c->good + 0.5,
                                            c->confidence, &batch, NULL, &error));
        g_assert_no_error(error);
        g_assert_true(batch.found);
        g_assert_cmpint(batch.castings, ==, c->castings);
        check_close(batch.chance, c->chance, 1e-10, EXACT);
        check_close(batch.before, c->before, 1e-10, EXACT);
    }
}

// Chances that are met exactly must not cost another casting for the sake of rounding.
static void
test_equality(void)
{
    static const struct {
        double rate, confidence;
        int castings;
    } cases[] = {{0.9, 0.9, 1},   {0.9, 0.99, 2},  {0.9, 0.999, 3}, {0.7, 0.91, 2},
                 {0.7, 0.973, 3}, {0.8, 0.992, 3}, {0.6, 0.84, 2},  {0.6, 0.936, 3}};
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        SessionBatch batch;
        g_assert_true(
            session_batch_fixed(1, cases[i].rate, cases[i].confidence, &batch, NULL, NULL));
        g_assert_cmpint(batch.castings, ==, cases[i].castings); // 1 - (1 - p)^n, closed form
    }
}

static void
test_against_gsl(void)
{
    static const int wanted[] = {3, 17, 240, 4801, 60013};
    static const double rates[] = {0.113, 0.377, 0.618, 0.893, 0.9917};
    for (guint i = 0; i < G_N_ELEMENTS(wanted); i++) {
        for (guint j = 0; j < G_N_ELEMENTS(rates); j++) {
            SessionBatch batch;
            g_assert_true(session_batch_fixed(wanted[i], rates[j], 0.937, &batch, NULL, NULL));
            g_assert_true(batch.found);
            check_close(batch.chance, gsl_cdf_binomial_Q(wanted[i] - 1, rates[j], batch.castings),
                        1e-8, "GSL binomial tail");
            check_close(batch.before,
                        gsl_cdf_binomial_Q(wanted[i] - 1, rates[j], batch.castings - 1), 1e-8,
                        "GSL binomial tail");
            g_assert_cmpfloat(batch.chance, >=, 0.937);
            g_assert_cmpfloat(batch.before, <, 0.937);
        }
    }
}

// Much data make the learned rate a fixed one.
static void
test_learned_tends_to_fixed(void)
{
    SessionBatch fixed, learned;
    g_assert_true(session_batch_fixed(37, 0.83, 0.95, &fixed, NULL, NULL));
    g_assert_true(session_batch_learned(37, 0.83e9, 0.17e9, 0.95, &learned, NULL, NULL));
    g_assert_cmpint(learned.castings, ==, fixed.castings);
    check_close(learned.chance, fixed.chance, 1e-7, "binomial as the limit");
}

static void
test_never_fewer(void)
{
    int last = 0;
    for (int wanted = 1; wanted < 300; wanted++) {
        SessionBatch batch;
        g_assert_true(session_batch_learned(wanted, 17.5, 2.5, 0.93, &batch, NULL, NULL));
        g_assert_cmpint(batch.castings, >, last);
        last = batch.castings;
    }
}

static void
test_large(void)
{
    SessionBatch batch;
    g_assert_true(session_batch_fixed(1000000, 0.9, 0.95, &batch, NULL, NULL));
    g_assert_true(batch.found);
    check_close(batch.chance, gsl_cdf_binomial_Q(999999, 0.9, batch.castings), 1e-7,
                "GSL binomial tail");
    g_assert_cmpfloat(batch.before, <, 0.95);
    g_assert_true(session_batch_fixed(1000000, 1.0, 0.9999, &batch, NULL, NULL));
    g_assert_cmpint(batch.castings, ==, 1000000);
}

static void
test_useless(void)
{
    SessionBatch batch;
    // Nothing seen, Jeffreys' prior: five good with 95 % need over 400; said, not hidden.
    g_assert_true(session_batch_learned(5, 0.5, 0.5, 0.95, &batch, NULL, NULL));
    g_assert_cmpint(batch.castings, >, 400);
    g_assert_true(session_batch_fixed(1000000, 0.01, 0.95, &batch, NULL, NULL));
    g_assert_false(batch.found);
    g_assert_cmpint(batch.castings, ==, 0);
    g_assert_true(session_batch_learned(1000000, 0.5, 0.5, 0.9999, &batch, NULL, NULL));
    g_assert_false(batch.found);
}

static void
test_prior(void)
{
    SessionBatch batch;
    // By hand: Beta(9, 1): P(all N good) = 9 / (9 + N); N = 1 gives 0.9.
    g_assert_true(
        session_batch_learned(1, SESSION_PRIOR_GOOD, SESSION_PRIOR_BAD, 0.9, &batch, NULL, NULL));
    g_assert_cmpint(batch.castings, ==, 1);
    check_close(batch.chance, 0.9, 1e-14, "9 / 10");
    g_assert_true(
        session_batch_learned(10, SESSION_PRIOR_GOOD, SESSION_PRIOR_BAD, 0.9, &batch, NULL, NULL));
    g_assert_cmpint(batch.castings, <, 20);
}

static void
test_errors(void)
{
    SessionBatch batch = {.castings = 77};
    g_autoptr(GError) error = NULL;
    g_assert_false(session_batch_fixed(0, 0.9, 0.9, &batch, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, "good parts wanted");
    g_assert_false(session_batch_fixed(G_MAXINT, 0.9, 0.9, &batch, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, "good parts wanted");
    g_assert_false(session_batch_fixed(3, 0.9, 1.0, &batch, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, "wanted confidence");
    g_assert_false(session_batch_fixed(3, 0.9, NAN, &batch, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, "wanted confidence");
    g_assert_false(session_batch_fixed(3, 0.0, 0.9, &batch, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, "good-casting rate");
    g_assert_false(session_batch_fixed(3, NAN, 0.9, &batch, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, "good-casting rate");
    g_assert_false(session_batch_learned(3, 0.0, 1.0, 0.9, &batch, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, "counts of the log");
    g_assert_false(session_batch_learned(3, 1.0, INFINITY, 0.9, &batch, NULL, &error));
    check_error(error, BASE_ERROR_VALUE, "counts of the log");
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    g_assert_false(session_batch_fixed(3, 0.9, 0.9, &batch, progress, &error));
    g_assert_error(error, BASE_ERROR, BASE_ERROR_CANCELLED);
    g_assert_cmpint(batch.castings, ==, 77);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/session/batch/fixed", test_fixed_table);
    g_test_add_func("/session/batch/learned", test_learned_table);
    g_test_add_func("/session/batch/equality", test_equality);
    g_test_add_func("/session/batch/gsl", test_against_gsl);
    g_test_add_func("/session/batch/limit", test_learned_tends_to_fixed);
    g_test_add_func("/session/batch/never-fewer", test_never_fewer);
    g_test_add_func("/session/batch/large", test_large);
    g_test_add_func("/session/batch/useless", test_useless);
    g_test_add_func("/session/batch/prior", test_prior);
    g_test_add_func("/session/batch/errors", test_errors);
    return g_test_run();
}
