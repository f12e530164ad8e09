// SPDX-License-Identifier: GPL-3.0-or-later
// Warm-up steps: times by hand, prompts in the shop's units, holds that do not apply left out.
#include "melt/warmup.h"

#include <string.h>

#include "check.h"

static const MeltWarmup usual = {
    .ambient = 17.5, .hold_at = {300, 500}, .hold = 2700, .setpoint = 723.5, .rate = 7.0 / 60};

static void
free_steps(MeltStep *steps, guint n)
{
    for (guint i = 0; i < n; i++)
        g_free(steps[i].prompt);
    g_free(steps);
}

static void
test_usual(void)
{
    UnitSet units = unit_set_default();
    guint n = 7;
    MeltStep *steps = melt_warmup_steps(&usual, &units, &n);
    g_assert_cmpuint(n, ==, 3);
    check_close(steps[0].setpoint, 300, 0, "first hold");
    check_close(steps[0].ramp, 282.5 / 7 * 60, 1e-12, "by hand");
    check_close(steps[0].hold, 2700, 0, "45 min");
    check_close(steps[1].ramp, 200.0 / 7 * 60, 1e-12, "by hand");
    check_close(steps[2].setpoint, 723.5, 0, "pouring temperature");
    check_close(steps[2].ramp, 223.5 / 7 * 60, 1e-12, "by hand");
    check_close(steps[2].hold, 0, 0, "no hold at the end");
    // 706 K at 7 K/min and twice 45 min.
    check_close(melt_warmup_time(&usual), 706.0 / 7 * 60 + 5400, 1e-12, "by hand");
    double sum = 0;
    for (guint i = 0; i < n; i++)
        sum += steps[i].ramp + steps[i].hold;
    check_close(melt_warmup_time(&usual), sum, 1e-12, "the sum of the steps");
    g_assert_cmpstr(steps[0].prompt, ==, "Set 300 °C and hold 45 min");
    g_assert_nonnull(strstr(steps[2].prompt, "charge when it is reached"));
    free_steps(steps, n);
}

static void
test_fahrenheit(void)
{
    UnitSet units = unit_set_default();
    units.fahrenheit = TRUE;
    guint n;
    MeltStep *steps = melt_warmup_steps(&usual, &units, &n);
    g_assert_cmpstr(steps[0].prompt, ==, "Set 572 °F and hold 45 min");
    check_close(steps[0].setpoint, 300, 0, "inside it stays in deg C");
    free_steps(steps, n);
}

static void
test_holds_that_do_not_apply(void)
{
    UnitSet units = unit_set_default();
    MeltWarmup w = usual;
    guint n;
    w.setpoint = 487.25; // a zinc alloy, below the second hold
    g_assert_cmpuint(melt_warmup_holds(&w), ==, 1);
    check_close(melt_warmup_time(&w), 469.75 / 7 * 60 + 2700, 1e-12, "by hand");
    MeltStep *steps = melt_warmup_steps(&w, &units, &n);
    g_assert_cmpuint(n, ==, 2);
    check_close(steps[1].ramp, 187.25 / 7 * 60, 1e-12, "by hand");
    free_steps(steps, n);
    w.ambient = 600; // furnace still hot from before
    w.setpoint = 723.5;
    g_assert_cmpuint(melt_warmup_holds(&w), ==, 0);
    steps = melt_warmup_steps(&w, &units, &n);
    g_assert_cmpuint(n, ==, 1);
    check_close(melt_warmup_time(&w), 123.5 / 7 * 60, 1e-12, "by hand");
    free_steps(steps, n);
}

// A new crucible: 260 °C for two hours before the usual holds, or between them.
static void
test_new(void)
{
    UnitSet units = unit_set_default();
    MeltWarmup w = usual;
    guint n;
    w.temper_at = 260;
    w.temper = 7200;
    check_close(melt_warmup_time(&w), 706.0 / 7 * 60 + 5400 + 7200, 1e-12, "by hand");
    MeltStep *steps = melt_warmup_steps(&w, &units, &n);
    g_assert_cmpuint(n, ==, 4);
    check_close(steps[0].ramp, 242.5 / 7 * 60, 1e-12, "by hand");
    g_assert_cmpstr(steps[0].prompt, ==, "Set 260 °C and hold 2 h, as the crucible is new");
    check_close(steps[1].ramp, 40.0 / 7 * 60, 1e-12, "by hand");
    free_steps(steps, n);
    w.temper_at = 412;
    steps = melt_warmup_steps(&w, &units, &n);
    check_close(steps[1].setpoint, 412, 0, "coolest first");
    check_close(steps[2].ramp, 88.0 / 7 * 60, 1e-12, "by hand");
    free_steps(steps, n);
    w.temper_at = 900; // above the setpoint
    g_assert_cmpuint(melt_warmup_tempers(&w), ==, 0);
    check_close(melt_warmup_time(&w), 706.0 / 7 * 60 + 5400, 1e-12, "by hand");
}

static void
test_nothing_to_do_or_missing(void)
{
    UnitSet units = unit_set_default();
    guint n = 5;
    MeltWarmup w = usual;
    w.ambient = 730;
    g_assert_null(melt_warmup_steps(&w, &units, &n));
    g_assert_cmpuint(n, ==, 0);
    check_close(melt_warmup_time(&w), 0, 1e-12, "already there");
    w = usual;
    w.rate = 0;
    g_assert_null(melt_warmup_steps(&w, &units, &n));
    g_assert_true(isnan(melt_warmup_time(&w)));
    w = usual;
    w.hold = NAN;
    g_assert_null(melt_warmup_steps(&w, &units, &n));
    g_assert_true(isnan(melt_warmup_time(&w)));
    w = usual;
    w.setpoint = NAN;
    g_assert_null(melt_warmup_steps(&w, &units, &n));
    g_assert_true(isnan(melt_warmup_time(&w)));
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/melt/warmup/usual", test_usual);
    g_test_add_func("/melt/warmup/fahrenheit", test_fahrenheit);
    g_test_add_func("/melt/warmup/holds", test_holds_that_do_not_apply);
    g_test_add_func("/melt/warmup/new", test_new);
    g_test_add_func("/melt/warmup/missing", test_nothing_to_do_or_missing);
    return g_test_run();
}
