// SPDX-License-Identifier: GPL-3.0-or-later
// What a caster works out on paper before a day at the furnace, from the book to the figures: when
// the first pour is, loads, flasks, castings.
#include "check.h"
#include "fixture.h"
#include "melt/melt.h"

#define BY_HAND "worked by hand"
#define MIN60(minutes) ((minutes)*60.0)
#define SHOP                                                                                       \
    "\"hours\":\"6 h\",\"set_up\":\"20 min\",\"closing\":\"30 min\",\"ambient\":\"20 °C\","       \
    "\"people\":{\"count\":\"1\",\"ram_time\":\"24 min\",\"charge_time\":\"5 min\","               \
    "\"skim_time\":\"4 min\",\"pour_time\":\"1 min\",\"shake_out_time\":\"10 min\"},"              \
    "\"flasks\":[{\"id\":\"box\",\"count\":\"8\"}]"

static const SessionTask *
find_task(const SessionResult *run, const char *key)
{
    for (guint i = 0; i < run->n_tasks; i++)
        if (g_str_equal(run->tasks[i].key, key))
            return &run->tasks[i];
    g_assert_not_reached();
}

// When the n-th pour of the day begins, counted in time.
static double
find_pour(const SessionResult *run, int number)
{
    g_autoptr(GArray) starts = g_array_new(FALSE, FALSE, sizeof(double));
    for (guint i = 0; i < run->n_tasks; i++) {
        if (run->tasks[i].kind != TASK_POUR)
            continue;
        guint at = 0;
        while (at < starts->len && g_array_index(starts, double, at) < run->tasks[i].start)
            at++;
        g_array_insert_val(starts, at, run->tasks[i].start);
    }
    return g_array_index(starts, double, number - 1);
}

static void
check_day(const SessionResult *run, const FigureList *figures, int loads)
{
    g_assert_cmpint(run->loads, ==, loads);
    g_assert_cmpint(run->flasks, ==, 2 * loads);
    g_assert_cmpint(run->castings, ==, 6 * loads);
    check_close(figure_list_value(figures, "run.loads_per_session"), loads, 0, BY_HAND);
    check_close(figure_list_value(figures, "run.flasks_per_session"), 2 * loads, 0, BY_HAND);
    check_close(figure_list_value(figures, "run.castings_per_session"), 6 * loads, 0, BY_HAND);
    check_figures(figures);
}

// A crucible of the one-kilogram class, three quarters full: 0.75 kg to pour. A flask takes 0.31 kg
// for three castings, so a load is floor(0.75 / 0.31) = 2 flasks.
// Warm-up: three holds of 45 minutes, 5 minutes of climbing before each: 3 x 50 = 150 minutes.
// From pour to pour: 5 charging + 29 melting + 4 skimming + 2 x 1 pouring = 40 minutes.
//
//     0 -  20  set up
//    20 - 170  warm-up
//   170 - 208  charged 175, molten 204, skimmed 208
//   208        the first pour; its load is out at 210
//   250, 290, 330  the next loads are out
//   330 - 360  closing: the six hours are over
//
// 4 loads, 4 x 2 = 8 flasks, 8 x 3 = 24 castings.
static void
test_three_holds(void)
{
    MeltStep warmup[] = {{.setpoint = 110, .ramp = MIN60(5), .hold = MIN60(45)},
                         {.setpoint = 400, .ramp = MIN60(5), .hold = MIN60(45)},
                         {.setpoint = 720, .ramp = MIN60(5), .hold = MIN60(45)}};
    Fixture fixture;
    fixture_open(&fixture, SHOP, "");
    fixture_give(&fixture, "mould.metal_mass", 0.31);
    fixture_give(&fixture, "melt.pourable", 0.75);
    fixture_give(&fixture, "melt.warmup_time", MIN60(150));
    fixture_give(&fixture, "melt.heat_time", MIN60(29));
    fixture_give(&fixture, "feed.shakeout_time", MIN60(50));
    fixture.layout.metal_mass = 0.31;
    fixture.melt.warmup = warmup;
    fixture.melt.n_warmup = G_N_ELEMENTS(warmup);
    fixture.melt.warmup_time = MIN60(150);
    fixture.melt.heat_time = MIN60(29);
    g_autoptr(FigureList) figures = NULL;
    g_autoptr(SessionResult) run = fixture_run(&fixture, &figures);
    check_day(run, figures, 4);
    check_close(find_task(run, "warm-up")->end, MIN60(170), 1e-12, BY_HAND);
    for (int load = 0; load < 4; load++) {
        check_close(find_pour(run, 2 * load + 1), MIN60(208 + 40 * load), 1e-12, BY_HAND);
        check_close(find_pour(run, 2 * load + 2), MIN60(209 + 40 * load), 1e-12, BY_HAND);
    }
    check_close(figure_list_value(figures, "run.session_length"), MIN60(360), 1e-12, BY_HAND);
    fixture_close(&fixture);
}

static MeltResult *
run_melt(Fixture *fixture, FigureList *before, FigureList *figures)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Inputs)
                  inputs = inputs_resolve(fixture->book, "a", fixture->tables, NULL, melt_reads);
    figure_list_see(figures, before);
    MeltResult *melt = melt_stage(inputs, &fixture->layout, figures, NULL, &error);
    g_assert_no_error(error);
    return melt;
}

// The same with the melt worked out too. The crucible is rated for 1 kg of A356, 2400 kg/m3 where
// it melts at 613 degrees; at 720 it has 2400 - 0.264 x 107 = 2371.752, so three quarters of the
// brim are 0.75 x 2371.752 / 2400 = 0.7411725 kg. Two flasks of 0.31 kg and 62 g in reserve, 1 %
// burnt: (0.62 + 0.062) / 0.99 = 0.688889 kg; three would need 1.03.
// Heat to 720 degrees from 20: 963 x (557 - 20) + 425000 + 1078.5 x 56 + 1194 x 107 = 1130285 J/kg,
// in all 778641 J, of which (2000 - 500) x 0.29833 = 447.495 W go in: 1740 s, 29 minutes.
// Warm-up: 700 K at 7 K/min, 100 minutes, and the two holds of 45 of a clay-graphite crucible: 190.
//
//     0 -  20  set up
//    20 - 210  warm-up
//   210 - 248  charged 215, molten 244, skimmed 248
//   248        the first pour; its load is out at 250
//   290, 330   the next loads are out, 40 minutes from pour to pour
//   330 - 360  closing
//
// 3 loads, 6 flasks, 18 castings. The melting time is not 29 minutes to the last digit, so half a
// second more for the shop to close by.
static void
test_with_melt(void)
{
    static const struct {
        const char *id;
        double value;
    } given[] = {{"mould.metal_mass", 0.31},
                 {"mould.cavities", 3},
                 {"mould.sand_mass", 17.9},
                 {"casting.mass", 0.0541},
                 {"feed.shakeout_time", 3000}};
    Fixture fixture;
    fixture_open(&fixture,
                 SHOP ",\"furnaces\":[{\"id\":\"f\",\"power\":\"2 kW\",\"standing_loss\":\"500 W\","
                      "\"efficiency\":\"29.8331 %\",\"warm_up_rate\":\"7 K/min\"}],"
                      "\"crucibles\":[{\"id\":\"c\",\"kind\":\"clay-graphite\",\"rating\":\"1 kg\","
                      "\"rating_metal\":\"a356\",\"fill\":\"75 %\",\"firings\":\"7\"}]",
                 ",\"metal\":\"a356\",\"pouring_temperature\":\"720 °C\",\"reserve\":\"10 %\","
                 "\"reserve_least\":\"50 g\",\"heel\":\"0 g\",\"melt_loss\":\"1 %\"");
    fixture.layout.metal_mass = 0.31;
    g_autoptr(FigureList) before = figure_list_new();
    for (guint i = 0; i < G_N_ELEMENTS(given); i++)
        figure_give(before, given[i].id, given[i].id, QUANTITY_NUMBER, given[i].value, NULL,
                    "definition");
    g_autoptr(FigureList) melting = figure_list_new();
    g_autoptr(MeltResult) melt = run_melt(&fixture, before, melting);
    check_close(melt->working_mass, 0.7411725, 1e-9, BY_HAND);
    g_assert_cmpint(melt->flasks_per_load, ==, 2);
    check_close(melt->charge_mass, 0.682 / 0.99, 1e-9, BY_HAND);
    check_close(melt->warmup_time, MIN60(190), 1e-9, BY_HAND);
    check_close(melt->cycle_time, MIN60(40), 1e-5, BY_HAND);
    g_autoptr(GError) error = NULL;
    g_autoptr(Inputs)
                  inputs = inputs_resolve(fixture.book, "a", fixture.tables, NULL, session_reads);
    g_autoptr(FigureList) figures = figure_list_new();
    figure_list_see(figures, before);
    figure_list_see(figures, melting);
    g_autoptr(SessionResult) run = session_stage(inputs, NULL, &fixture.layout, &fixture.freeze,
                                                 melt, figures, NULL, &error);
    g_assert_no_error(error);
    check_day(run, figures, 3);
    check_close(find_task(run, "warm-up")->end, MIN60(210), 1e-9, BY_HAND);
    for (int load = 0; load < 3; load++)
        check_close(find_pour(run, 2 * load + 1), MIN60(248 + 40 * load), 1e-5, BY_HAND);
    fixture_close(&fixture);
}

// A new crucible is held two hours longer, in its first session only. Twelve hours: set up 0-20,
// warm-up 150 + 120, so that the first pour is at 328 and loads are out at 330, 370 ... 690, and
// closing ends at 720: 10 loads, 20 flasks, 60 castings. Later sessions have two hours more, which
// are three loads of 40 minutes: 13 loads, 26 flasks, 78 castings, out at 210 ... 690 as well.
// 160 castings: 60, then 100 in sessions of 78, so three; of 54 flasks the last has 54 - 20 - 26 =
// 8, four loads, out at 330. There is time to wait for them then: 50 minutes cooling, 10 shaking
// out, 30 closing, 420. Together 720 + 720 + 420 minutes.
static void
test_new_crucible(void)
{
    MeltStep warmup[] = {{.setpoint = 720, .ramp = MIN60(150), .hold = MIN60(120)}};
    for (int is_new = 0; is_new < 2; is_new++) {
        Fixture fixture;
        fixture_open(
            &fixture,
            "\"hours\":\"12 h\",\"set_up\":\"20 min\",\"closing\":\"30 min\","
            "\"people\":{\"count\":\"4\",\"ram_time\":\"24 min\",\"charge_time\":\"5 min\","
            "\"skim_time\":\"4 min\",\"pour_time\":\"1 min\",\"shake_out_time\":"
            "\"10 min\"},\"flasks\":[{\"id\":\"box\",\"count\":\"30\"}],"
            "\"crucibles\":[{\"id\":\"c\",\"kind\":\"clay-graphite\"}]",
            ",\"quantity\":\"160\",\"good_rate\":\"100 %\"");
        fixture_give(&fixture, "mould.metal_mass", 0.31);
        fixture_give(&fixture, "melt.pourable", 0.75);
        fixture_give(&fixture, "melt.warmup_time", MIN60(is_new ? 270 : 150));
        fixture_give(&fixture, "melt.warmup_tempering", is_new);
        fixture_give(&fixture, "melt.heat_time", MIN60(29));
        fixture_give(&fixture, "feed.shakeout_time", MIN60(50));
        fixture.layout.metal_mass = 0.31;
        fixture.melt.warmup = warmup;
        fixture.melt.n_warmup = 1;
        fixture.melt.heat_time = MIN60(29);
        g_autoptr(FigureList) figures = NULL;
        g_autoptr(SessionResult) run = fixture_run(&fixture, &figures);
        check_figures(figures);
        g_assert_cmpint(run->flasks, ==, is_new ? 20 : 26);
        g_assert_cmpint(run->castings_to_start, ==, 160);
        g_assert_cmpint(run->sessions, ==, 3);
        check_close(find_pour(run, 1), MIN60(is_new ? 328 : 208), 1e-12, BY_HAND);
        g_autoptr(FigureList) cost = fixture_cost(&fixture, run, figures);
        check_figures(cost);
        if (is_new) {
            check_close(figure_list_value(figures, "run.later_warmup"), MIN60(150), 1e-12, BY_HAND);
            check_close(figure_list_value(figures, "run.later_loads"), 13, 0, BY_HAND);
            check_close(figure_list_value(figures, "run.later_castings"), 78, 0, BY_HAND);
            check_close(figure_list_value(figures, "run.batch_time"), MIN60(720 + 720 + 420), 1e-12,
                        BY_HAND);
            const Figure *energy = figure_list_find(cost, "cost.batch_energy");
            g_assert_nonnull(strstr(energy->spec->formula, "run.later_warmup"));
        } else {
            g_assert_null(figure_list_find(figures, "run.later_warmup"));
        }
        fixture_close(&fixture);
    }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/session/caster/three-holds", test_three_holds);
    g_test_add_func("/session/caster/with-melt", test_with_melt);
    g_test_add_func("/session/caster/new-crucible", test_new_crucible);
    return g_test_run();
}
