// SPDX-License-Identifier: GPL-3.0-or-later
// Crucible life against its closed form and against lives drawn one by one; reorder point and ingot
// by hand.
#include "session/needs.h"

#include <math.h>
#include <string.h>

#include "check.h"
#include "fixture.h"

static void
test_closed_form(void)
{
    check_close(session_end_chance(6, 4, 30, 80), 0, 1e-15, "none ends before 30");
    check_close(session_end_chance(27, 8, 30, 80), 5 / 50.0, 1e-12, "by hand");
    check_close(session_end_chance(42, 7, 30, 80), 7 / 38.0, 1e-12, "by hand");
    check_close(session_end_chance(42, 38, 30, 80), 1, 1e-12, "the whole range");
    check_close(session_end_chance(80, 1, 30, 80), 1, 1e-12, "used up");
    check_close(session_end_chance(97, 3, 30, 80), 1, 1e-12, "past it");
    check_close(session_end_chance(30, 0, 30, 80), 0, 1e-15, "nothing poured");
    g_assert_true(isnan(session_end_chance(NAN, 1, 30, 80)));
    g_assert_true(isnan(session_end_chance(1, NAN, 30, 80)));
    g_assert_true(isnan(session_end_chance(1, 1, 80, 80)));
    g_assert_true(isnan(session_end_chance(1, 1, NAN, 80)));
}

// Of a hundred thousand lives spread evenly over 30 to 80, those that lasted 42 and end by 53. Two
// batches one after another are as one: what lasts the first may end in the second.
static void
test_drawn(void)
{
    GRand *rand = g_rand_new_with_seed(80);
    guint lasted = 0, ended = 0;
    for (int i = 0; i < 100000; i++) {
        double life = g_rand_double_range(rand, 30, 80);
        lasted += life > 42;
        ended += life > 42 && life <= 53;
    }
    check_close(session_end_chance(42, 11, 30, 80), ended / (double)lasted, 0.03, "drawn");
    double first = session_end_chance(25, 17, 30, 80), second = session_end_chance(42, 11, 30, 80);
    check_close(session_end_chance(25, 28, 30, 80), first + (1 - first) * second, 1e-12,
                "survival multiplies");
    g_rand_free(rand);
}

static FigureList *
run(const char *crucible, double *sessions, double *loads)
{
    Fixture fixture;
    g_autofree char *shop = g_strdup_printf("\"hours\":\"8 h\",\"crucibles\":[{\"id\":\"c\"%s}]",
                                            crucible);
    fixture_open(&fixture, shop, ",\"metal\":\"a356\",\"quantity\":\"217\",\"good_rate\":\"87 %\"");
    fixture_give(&fixture, "melt.charge_ingot", 1.31);
    fixture_give(&fixture, "melt.stock_ingot", 4.7);
    FigureList *figures = NULL;
    g_autoptr(SessionResult) result = fixture_run(&fixture, &figures);
    check_figures(figures);
    *sessions = result->sessions;
    *loads = result->loads;
    g_assert_cmpint(result->sessions, >, 3);
    fixture_close(&fixture);
    return figures;
}

static void
test_figures(void)
{
    double sessions, loads;
    g_autoptr(FigureList) starts = run(",\"firings\":\"29\",\"delivery\":\"3\"", &sessions, &loads);
    check_close(figure_list_value(starts, "run.crucible_firings"), sessions, 1e-12, "cold starts");
    check_close(figure_list_value(starts, "run.crucible_end_chance"), (29 + sessions - 30) / 50,
                1e-12, "clay-graphite lasts 30 to 80");
    check_close(figure_list_value(starts, "run.crucible_reorder"), 27, 1e-12, "30 less 3");
    const Figure *until = figure_list_find(starts, "run.crucible_until_reorder");
    check_close(until->value, -2, 1e-12, "27 less 29");
    g_assert_cmpint(until->state, ==, FIGURE_FAILS);
    g_assert_nonnull(strstr(until->note, "Order one now"));
    double flasks = figure_list_value(starts, "run.batch_flasks");
    check_close(figure_list_value(starts, "run.ingot_to_buy"), flasks / 2 * 1.31 - 4.7, 1e-12,
                "by hand");

    g_autoptr(FigureList) melts = run(",\"firings\":\"5\",\"counts\":\"melt\",\"risk\":\"1 %\"",
                                      &sessions, &loads);
    double firings = sessions * loads;
    check_close(figure_list_value(melts, "run.crucible_firings"), firings, 1e-12, "melts");
    const Figure *chance = figure_list_find(melts, "run.crucible_end_chance");
    check_close(chance->value, fmin(1, (5 + firings - 30) / 50), 1e-12, "by hand");
    g_assert_cmpint(chance->state, ==, FIGURE_FAILS);
    g_assert_cmpstr(chance->limit_id, ==, "crucible.risk");
    check_close(figure_list_value(melts, "run.crucible_reorder"), fmax(0, 30 - 2 * loads), 1e-12,
                "by hand");

    g_autoptr(FigureList) spare = run(",\"firings\":\"79\",\"spares\":\"1\"", &sessions, &loads);
    chance = figure_list_find(spare, "run.crucible_end_chance");
    g_assert_cmpint(chance->state, ==, FIGURE_PLAIN);
    g_assert_nonnull(strstr(chance->note, "spare"));
    g_assert_cmpint(figure_list_find(spare, "run.crucible_until_reorder")->state, ==, FIGURE_PLAIN);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/session/needs/closed-form", test_closed_form);
    g_test_add_func("/session/needs/drawn", test_drawn);
    g_test_add_func("/session/needs/figures", test_figures);
    return g_test_run();
}
