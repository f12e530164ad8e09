// SPDX-License-Identifier: GPL-3.0-or-later
// Costs against a hand calculation from the same numbers in other words, and what is unknown when a
// price is.
#include "check.h"
#include "fixture.h"

#define BY_HAND "worked by hand"

static const char shop[] =
    "\"hours\":\"8 h\",\"people\":{\"rate\":\"31 /h\",\"fettle_time\":\"4.5 min\"},"
    "\"rates\":{\"energy\":\"0.37 /kWh\",\"machine\":\"11 /h\"},"
    "\"sand\":{\"price\":\"2.1 /kg\",\"loss\":\"4 %\"}";
static const char job[] =
    ",\"metal\":\"a356\",\"quantity\":\"17\",\"good_rate\":\"87 %\",\"metal_price\":\"6.3 /kg\","
    "\"returns_value\":\"60 %\",\"bar_price\":\"9.7 /kg\","
    "\"bought_in\":\"23.5\"";

static double
get_table(const Fixture *fixture, TableName name, const char *id, const char *key)
{
    return table_row_value(tables_find(fixture->tables, name, id), key);
}

static void
test_hand(void)
{
    Fixture fixture;
    fixture_open(&fixture, shop, job);
    g_autoptr(FigureList) figures = NULL;
    g_autoptr(SessionResult) run = fixture_run(&fixture, &figures);
    g_autoptr(FigureList) cost = fixture_cost(&fixture, run, figures);
    check_figures(cost);

    double flasks = ceil(run->castings_to_start / 3.0), n = 17;
    double poured = flasks * 1.237, returns = poured - n * 0.283;
    double metal = (poured / 0.965 * 6.3 - returns * 6.3 * 0.6) / n;
    check_close(figure_list_value(cost, "cost.metal"), metal, 1e-12, BY_HAND);
    double held = figure_list_value(figures, "run.metal_held");
    double joules = flasks / 2 * 7.31e6 + run->sessions * (1.67e7 + 800 * held);
    double energy = joules / 3.6e6 * 0.37 / n;
    check_close(figure_list_value(cost, "cost.energy"), energy, 1e-12, BY_HAND);
    double firings = 0.5 *
                     (get_table(&fixture, TABLE_CRUCIBLE_KINDS, "clay-graphite", "firings_min") +
                      get_table(&fixture, TABLE_CRUCIBLE_KINDS, "clay-graphite", "firings_max"));
    double crucible = 35 / firings * run->sessions / n;
    check_close(figure_list_value(cost, "cost.crucible"), crucible, 1e-12, BY_HAND);
    double sand = flasks * 17.9 * 0.04 * 2.1 / n;
    check_close(figure_list_value(cost, "cost.sand"), sand, 1e-12, BY_HAND);
    double present = (run->sessions - 1) * run->length + run->last_length +
                     run->sessions * run->left_to_cool * 600.0;
    double work = present + run->castings_to_start * 270 + n * 911;
    double labour = work / 3600 * 31 / n;
    check_close(figure_list_value(cost, "cost.labour"), labour, 1e-12, BY_HAND);
    double machine = 911 / 3600.0 * 11;
    check_close(figure_list_value(cost, "cost.per_good_part"),
                metal + energy + crucible + sand + labour + machine, 1e-12, BY_HAND);

    double box = 81.7e-3 * 53.3e-3 * 29.1e-3;
    double energy_of_cut = get_table(&fixture, TABLE_METALS, "a356", "cutting_energy");
    double seconds = (box - 6.13e-5) * energy_of_cut / (500 * 0.15) + 8 * 60;
    double bar = box * get_table(&fixture, TABLE_METALS, "a356", "density_solid") * 9.7 +
                 seconds / 3600 * (31 + 11);
    check_close(figure_list_value(cost, "cost.from_bar"), bar, 1e-12, BY_HAND);
    check_close(figure_list_value(cost, "cost.bought_in"), 23.5, 1e-12, "typed");
    fixture_close(&fixture);
}

// 500 W at the cutter and 0.7 J/mm3 remove 714.2857 mm3/s when all the time is cutting.
static void
test_removal_rate(void)
{
    Fixture fixture;
    fixture_open(&fixture, "\"machine\":{\"power\":\"500 W\",\"cutting_share\":\"100 %\"}",
                 ",\"metal\":\"a356\"");
    g_autoptr(FigureList) figures = NULL;
    g_autoptr(SessionResult) run = fixture_run(&fixture, &figures);
    g_autoptr(FigureList) cost = fixture_cost(&fixture, run, figures);
    check_close(figure_list_value(cost, "cost.removal_rate"), 714.2857e-9, 1e-7,
                "500 W over 0.7 J/mm3");
    fixture_close(&fixture);
}

static void
test_blank(void)
{
    Fixture fixture;
    fixture_open(&fixture, "", ",\"metal_price\":\"6.3 /kg\"");
    g_autoptr(FigureList) figures = NULL;
    g_autoptr(SessionResult) run = fixture_run(&fixture, &figures);
    g_autoptr(FigureList) cost = fixture_cost(&fixture, run, figures);
    const Figure *bought = figure_list_find(cost, "cost.bought_in");
    g_assert_cmpint(bought->state, ==, FIGURE_UNKNOWN);
    g_assert_cmpstr(bought->missing, ==, "job.bought_in");
    const Figure *bar = figure_list_find(cost, "cost.bar_price");
    check_close(bar->value, 6.3, 1e-12, "the metal's");
    g_assert_nonnull(bar->note);
    fixture_close(&fixture);
}

static void
test_unknown_spreads(void)
{
    Fixture fixture;
    fixture_open(&fixture, shop, job);
    fixture_give(&fixture, "stock.machining_time", NAN);
    g_autoptr(FigureList) figures = NULL;
    g_autoptr(SessionResult) run = fixture_run(&fixture, &figures);
    g_autoptr(FigureList) cost = fixture_cost(&fixture, run, figures);
    static const char *const unknown[] = {"cost.labour", "cost.machine", "cost.per_good_part",
                                          "cost.batch"};
    for (guint i = 0; i < G_N_ELEMENTS(unknown); i++) {
        const Figure *figure = figure_list_find(cost, unknown[i]);
        g_assert_cmpint(figure->state, ==, FIGURE_UNKNOWN);
        g_assert_cmpstr(figure->missing, ==, "stock.machining_time");
    }
    g_assert_cmpint(figure_list_find(cost, "cost.metal")->state, ==, FIGURE_PLAIN);
    g_assert_cmpint(figure_list_find(cost, "cost.from_bar")->state, ==, FIGURE_PLAIN);
    fixture_close(&fixture);
}

static void
test_nothing_before(void)
{
    Fixture fixture;
    fixture_open(&fixture, "", "");
    g_autoptr(Inputs) inputs = inputs_resolve(fixture.book, "a", fixture.tables, NULL, cost_reads);
    g_autoptr(FigureList) figures = figure_list_new();
    g_autoptr(GError) error = NULL;
    g_assert_true(cost_stage(inputs, NULL, NULL, NULL, NULL, NULL, figures, NULL, &error));
    g_assert_no_error(error);
    static const char *const ids[] = {"cost.metal",   "cost.energy", "cost.crucible",
                                      "cost.sand",    "cost.labour", "cost.per_good_part",
                                      "cost.from_bar"};
    for (guint i = 0; i < G_N_ELEMENTS(ids); i++) {
        g_assert_nonnull(figure_list_find(figures, ids[i]));
        g_assert_cmpint(figure_list_find(figures, ids[i])->state, ==, FIGURE_UNKNOWN);
    }
    g_autoptr(Progress) progress = progress_new();
    progress_stop(progress);
    g_assert_false(cost_stage(inputs, NULL, NULL, NULL, NULL, NULL, figures, progress, &error));
    g_assert_error(error, BASE_ERROR, BASE_ERROR_CANCELLED);
    fixture_close(&fixture);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/session/cost/hand", test_hand);
    g_test_add_func("/session/cost/removal-rate", test_removal_rate);
    g_test_add_func("/session/cost/blank", test_blank);
    g_test_add_func("/session/cost/unknown", test_unknown_spreads);
    g_test_add_func("/session/cost/nothing", test_nothing_before);
    return g_test_run();
}
