// SPDX-License-Identifier: GPL-3.0-or-later
// The formula grammar: values against the C library, places of errors, ids in order.
#include "check.h"

#include "figure/formula.h"

static double
look_up(const char *id, gpointer data)
{
    if (g_str_equal(id, "mould.head"))
        return 0.1873;
    if (g_str_equal(id, "job.ratio_2"))
        return 2.385;
    return NAN;
}

static void
test_values(void)
{
    const double h = 0.1873, r = 2.385;
    const struct {
        const char *text;
        double value;
    } rows[] = {
        {"1 + 2 * 3", 7},
        {"2 ^ 3 ^ 2", 512}, // right to left
        {"-2 ^ 2", -4},
        {"(1 + 2) * 3 - 4 / 8", 8.5},
        {"7 - 2 - 1", 4},
        {"8 / 4 / 2", 1},
        {"1.5e-3 * 2", 0.003},
        {"sqrt(2 * g * mould.head)", sqrt(2 * 9.80665 * h)},
        {"max(mould.head, job.ratio_2, 1)", r},
        {"min(mould.head, job.ratio_2)", h},
        {"ceil(job.ratio_2) + floor(job.ratio_2)", 5},
        {"pi / 4 * job.ratio_2^2", G_PI / 4 * r * r},
        {"exp(log(job.ratio_2)) + sin(1) + cos(1) + tan(1) + abs(-3)",
         r + sin(1) + cos(1) + tan(1) + 3},
    };
    for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
        g_autoptr(GError) error = NULL;
        double value = NAN;
        g_assert_true(formula_evaluate(rows[i].text, look_up, NULL, &value, &error));
        g_assert_no_error(error);
        check_close(value, rows[i].value, 1e-14, "the C library's own arithmetic");
    }
}

static void
test_errors(void)
{
    const struct {
        const char *text;
        BaseError code;
        const char *words;
    } rows[] = {
        {"1 +", BASE_ERROR_FORMAT, "character 4"},
        {"(1 + 2", BASE_ERROR_FORMAT, "closing bracket"},
        {"1 2", BASE_ERROR_FORMAT, "left over"},
        {"mould.tail", BASE_ERROR_NOT_FOUND, "mould.tail"},
        {"root(2)", BASE_ERROR_FORMAT, "no such function"},
        {"sqrt(1, 2)", BASE_ERROR_FORMAT, "no such function"},
        {"", BASE_ERROR_FORMAT, "missing"},
        {"min(1,2,3,4,5,6,7,8,9)", BASE_ERROR_FORMAT, "too many"},
    };
    for (guint i = 0; i < G_N_ELEMENTS(rows); i++) {
        GError *error = NULL;
        double value = 2.385;
        g_assert_false(formula_evaluate(rows[i].text, look_up, NULL, &value, &error));
        check_error(error, rows[i].code, rows[i].words);
        g_assert_cmpfloat(value, ==, 2.385);
    }
}

static void
test_depth(void)
{
    g_autofree char *open = g_strnfill(100000, '(');
    GError *error = NULL;
    double value;
    g_assert_false(formula_evaluate(open, look_up, NULL, &value, &error));
    check_error(error, BASE_ERROR_FORMAT, "deeply");
}

static void
test_ids(void)
{
    g_autoptr(GError) error = NULL;
    g_auto(GStrv) ids = formula_ids("b.x / a.y + b.x * sqrt(2 * g * c) - pi", &error);
    g_assert_no_error(error);
    const char *expected[] = {"b.x", "a.y", "c", NULL};
    g_assert_cmpstrv(ids, expected);
    g_assert_null(formula_ids("a +", NULL));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/figure/formula/values", test_values);
    g_test_add_func("/figure/formula/errors", test_errors);
    g_test_add_func("/figure/formula/depth", test_depth);
    g_test_add_func("/figure/formula/ids", test_ids);
    return g_test_run();
}
