// SPDX-License-Identifier: GPL-3.0-or-later
// The stage run from book to figures: where the good rate comes from, the batch over sessions, what
// holds it back, and what is missing.
#include "check.h"
#include "figure/explain.h"
#include "fixture.h"
#include "rules.h"
#include "session/session.h"

#define BY_HAND "worked by hand"

static void
test_whole(void)
{
    Fixture fixture;
    fixture_open(&fixture, "\"hours\":\"8 h\"", ",\"quantity\":\"40\",\"good_rate\":\"90 %\"");
    g_autoptr(FigureList) figures = NULL;
    g_autoptr(SessionResult) run = fixture_run(&fixture, &figures);
    check_figures(figures);
    g_assert_cmpint(run->flasks, >, 0);
    g_assert_cmpint(run->castings, ==, run->flasks * 3);
    check_close(figure_list_value(figures, "run.castings_per_session"), run->castings, 0, "result");
    check_close(figure_list_value(figures, "run.loads_per_session"), run->loads, 0, "result");
    check_close(figure_list_value(figures, "run.castings_to_start"), run->castings_to_start, 0,
                "result");
    g_assert_cmpint(run->sessions, ==,
                    (run->castings_to_start + run->castings - 1) / run->castings);
    g_assert_cmpfloat(run->length, <=, 8 * 3600);
    g_assert_cmpint(figure_list_find(figures, "run.session_length")->state, !=, FIGURE_FAILS);
    g_assert_cmpint(figure_list_find(figures, "run.confidence")->state, !=, FIGURE_FAILS);
    g_assert_cmpstr(figure_list_find(figures, "run.bottleneck")->text, ==, run->bottleneck);
    static const char *const shares[] = {"run.person_idle", "run.furnace_idle", "run.flask_idle",
                                         "run.bench_idle", "run.place_idle"};
    for (guint i = 0; i < G_N_ELEMENTS(shares); i++) {
        g_assert_cmpfloat(figure_list_value(figures, shares[i]), >=, 0);
        g_assert_cmpfloat(figure_list_value(figures, shares[i]), <, 1);
    }
    g_assert_cmpfloat(run->last_length, <=, run->length + 1e-6);
    for (guint i = 0; i < run->n_tasks; i++)
        g_assert_nonnull(run->tasks[i].label);
    for (guint i = 1; i < run->n_curve; i++)
        g_assert_cmpfloat(run->curve[i].at, >=, run->curve[i - 1].at);
    rules_check_names(run->tasks, run->n_tasks);
    g_assert_cmpint(run->people, ==, 1);
    g_assert_cmpint(run->furnaces, ==, 1);
    g_assert_cmpint(run->benches, ==, 1);
    g_assert_cmpfloat(figure_list_value(figures, "run.flasks_gap"), >=, 0);
    check_close(figure_list_value(figures, "run.flasks_bound"),
                run->flasks + figure_list_value(figures, "run.flasks_gap"), 0, "bound and gap");
    g_assert_nonnull(figure_list_find(figures, "run.answer")->text);
    SessionResult *again = session_result_ref(run);
    g_assert_true(again == run);
    session_result_unref(again);
    session_result_unref(NULL);
    fixture_close(&fixture);
}

// Of the tasks of a kind, the one of that number.
static const SessionTask *
find_task(const SessionResult *run, const char *key)
{
    for (guint i = 0; i < run->n_tasks; i++)
        if (g_str_equal(run->tasks[i].key, key))
            return &run->tasks[i];
    return NULL;
}

// What is put to a time by hand waits for it, drops no flask, and shows when it makes the session
// too long; pins of nothing do nothing and that is said.
static void
test_pins(void)
{
    Fixture fixture;
    fixture_open(&fixture, "\"hours\":\"8 h\"", "");
    g_autoptr(FigureList) free = NULL;
    g_autoptr(SessionResult) without = fixture_run(&fixture, &free);
    fixture_close(&fixture);
    fixture_open(&fixture, "\"hours\":\"8 h\"",
                 ",\"pins\":\"pour-1 4 h; draw-2 131 min; pour-99 1 h\"");
    g_autoptr(FigureList) figures = NULL;
    g_autoptr(SessionResult) run = fixture_run(&fixture, &figures);
    check_figures(figures);
    g_assert_cmpint(run->flasks, ==, without->flasks);
    g_assert_cmpfloat(find_task(without, "pour-1")->start, <, 4 * 3600);
    g_assert_cmpfloat(find_task(run, "pour-1")->start, >=, 4 * 3600);
    g_assert_cmpfloat(find_task(run, "draw-2")->start, >=, 131 * 60);
    g_assert_nonnull(strstr(figure_list_find(figures, "run.session_length")->note, "do nothing"));
    fixture_close(&fixture);
    fixture_open(&fixture, "\"hours\":\"8 h\"", ",\"pins\":\"close 9 h\"");
    g_autoptr(FigureList) late = NULL;
    g_autoptr(SessionResult) longer = fixture_run(&fixture, &late);
    g_assert_cmpint(longer->flasks, ==, without->flasks);
    g_assert_cmpint(figure_list_find(late, "run.session_length")->state, ==, FIGURE_FAILS);
    fixture_close(&fixture);
}

// One bench for two people, and one cooling place, hold the work back.
static void
test_benches(void)
{
    static const char *const shops[] = {"\"people\":{\"count\":\"3\"}",
                                        "\"people\":{\"count\":\"3\"},\"benches\":\"1\"",
                                        "\"people\":{\"count\":\"3\"},\"cooling_places\":\"2\""};
    int flasks[3];
    for (guint i = 0; i < 3; i++) {
        Fixture fixture;
        g_autoptr(FigureList) figures = NULL;
        fixture_open(&fixture, shops[i], "");
        g_autoptr(SessionResult) run = fixture_run(&fixture, &figures);
        check_figures(figures);
        flasks[i] = run->flasks;
        check_close(figure_list_value(figures, "run.benches"), i == 1 ? 1 : 3, 0, "as given");
        fixture_close(&fixture);
    }
    g_assert_cmpint(flasks[1], <=, flasks[0]);
    g_assert_cmpint(flasks[2], <=, flasks[0]);
}

static void
test_good_rate(void)
{
    Fixture fixture;
    // Nobody knows: nine of ten, said to be a guess. P(5 good of 5) = 9/14, of 6: see below.
    fixture_open(&fixture, "", ",\"quantity\":\"1\"");
    g_autoptr(FigureList) guess = NULL;
    g_autoptr(SessionResult) a = fixture_run(&fixture, &guess);
    check_close(figure_list_value(guess, "run.good_rate"), 0.9, 1e-15, "nine of ten");
    g_assert_cmpstr(figure_source(figure_list_find(guess, "run.good_rate")), ==, "common-practice");
    g_assert_nonnull(figure_list_find(guess, "run.good_rate")->note);
    g_assert_cmpint(a->castings_to_start, ==, 1);
    g_assert_null(figure_list_find(guess, "run.good_rate_low"));
    fixture_close(&fixture);

    // The log: 8 of 10, ten wanted with 95 %: 20 castings by exact sums.
    fixture_open(&fixture, "", ",\"quantity\":\"10\",\"confidence\":\"95 %\"");
    fixture_log(&fixture, 8, 10);
    g_autoptr(FigureList) log = NULL;
    g_autoptr(SessionResult) b = fixture_run(&fixture, &log);
    check_figures(log);
    check_close(figure_list_value(log, "run.good_rate"), 8.5 / 11, 1e-14, "mean of Beta(8.5, 2.5)");
    g_assert_cmpint(b->castings_to_start, ==, 20);
    check_close(figure_list_value(log, "run.confidence"), 0.9583317279, 1e-10, "exact sums");
    check_close(figure_list_value(log, "run.good_rate_low"), 0.49722550, 2e-8, "R and SciPy");
    g_assert_nonnull(strstr(figure_source(figure_list_find(log, "run.good_rate")), "8 of 10"));
    fixture_close(&fixture);

    // The person's own goes first: 13 by exact sums.
    fixture_open(&fixture, "",
                 ",\"quantity\":\"10\",\"confidence\":\"95 %\",\"good_rate\":\"90 %\"");
    fixture_log(&fixture, 8, 10);
    g_autoptr(FigureList) typed = NULL;
    g_autoptr(SessionResult) c = fixture_run(&fixture, &typed);
    g_assert_cmpint(c->castings_to_start, ==, 13);
    g_assert_cmpint((int)figure_list_value(typed, "run.batch_flasks"), ==, 5);
    fixture_close(&fixture);
}

static void
test_useless(void)
{
    Fixture fixture;
    fixture_open(&fixture, "", ",\"quantity\":\"1000000\",\"good_rate\":\"1 %\"");
    g_autoptr(FigureList) figures = NULL;
    g_autoptr(SessionResult) run = fixture_run(&fixture, &figures);
    const Figure *start = figure_list_find(figures, "run.castings_to_start");
    g_assert_cmpint(start->state, ==, FIGURE_UNKNOWN);
    g_assert_nonnull(strstr(start->note, "ten million"));
    g_assert_cmpint(run->castings_to_start, ==, 0);
    g_assert_cmpint(run->sessions, ==, 0);
    g_assert_cmpint(figure_list_find(figures, "run.sessions")->state, ==, FIGURE_UNKNOWN);
    g_assert_cmpint(run->flasks, >, 0); // the session is planned all the same
    fixture_close(&fixture);
}

static void
test_too_few_hours(void)
{
    Fixture fixture;
    fixture_open(&fixture, "\"hours\":\"3 h\"", "");
    g_autoptr(FigureList) figures = NULL;
    g_autoptr(SessionResult) run = fixture_run(&fixture, &figures);
    check_figures(figures);
    g_assert_cmpint(run->flasks, ==, 0);
    g_assert_cmpint(run->n_tasks, ==, 0);
    g_assert_cmpint(figure_list_find(figures, "run.flasks_per_session")->state, ==, FIGURE_FAILS);
    const Figure *length = figure_list_find(figures, "run.session_length");
    g_assert_cmpint(length->state, ==, FIGURE_FAILS);
    // 20 set up, 119 warm, 5 charge, 2530/2 s melt, 4 skim, 1 pour, 30 close.
    check_close(length->value, (20 + 119 + 5 + 4 + 1 + 30) * 60 + 1265, 1e-9, BY_HAND);
    g_assert_cmpstr(run->bottleneck, ==, "hours");
    g_assert_cmpint(figure_list_find(figures, "run.sessions")->state, ==, FIGURE_UNKNOWN);
    fixture_close(&fixture);
}

static void
check_all_unknown(const FigureList *figures, const char *missing)
{
    static const char *const ids[] = {
        "run.loads_per_session", "run.flasks_per_session", "run.castings_per_session",
        "run.sessions",          "run.bottleneck",         "run.session_length",
        "run.gain_flask",        "run.gain_hour",          "run.batch_time"};
    for (guint i = 0; i < G_N_ELEMENTS(ids); i++) {
        const Figure *figure = figure_list_find(figures, ids[i]);
        g_assert_nonnull(figure);
        g_assert_cmpint(figure->state, ==, FIGURE_UNKNOWN);
        g_assert_cmpstr(figure->missing, ==, missing);
    }
    g_assert_cmpint(figure_list_find(figures, "run.castings_to_start")->state, !=, FIGURE_UNKNOWN);
}

static void
test_missing(void)
{
    Fixture fixture;
    fixture_open(&fixture, "", "");
    g_autoptr(Inputs)
                  inputs = inputs_resolve(fixture.book, "a", fixture.tables, NULL, session_reads);
    // No earlier stage at all: not even their ids are there.
    g_autoptr(FigureList) bare = figure_list_new();
    g_autoptr(SessionResult) none = session_stage(inputs, NULL, NULL, NULL, NULL, bare, NULL, NULL);
    g_assert_nonnull(none);
    check_all_unknown(bare, "mould.cavities");
    g_assert_cmpint(none->flasks, ==, 0);
    // The slow stage has not come yet.
    fixture_give(&fixture, "feed.shakeout_time", NAN);
    g_autoptr(FigureList) waiting = NULL;
    g_autoptr(SessionResult) run = fixture_run(&fixture, &waiting);
    check_all_unknown(waiting, "feed.shakeout_time");
    g_assert_cmpint(run->n_tasks, ==, 0);
    // The crucible holds not one flask.
    fixture.melt.flasks_per_load = 0;
    g_autoptr(FigureList) small = NULL;
    g_autoptr(SessionResult) other = fixture_run(&fixture, &small);
    check_all_unknown(small, "melt.flasks_per_load");
    g_assert_null(other->bottleneck);
    fixture_close(&fixture);
}

static void
test_stopped(void)
{
    Fixture fixture;
    fixture_open(&fixture, "", "");
    g_autoptr(Inputs)
                  inputs = inputs_resolve(fixture.book, "a", fixture.tables, NULL, session_reads);
    g_autoptr(FigureList) figures = figure_list_new();
    g_autoptr(Progress) progress = progress_new();
    g_autoptr(GError) error = NULL;
    progress_stop(progress);
    g_assert_null(session_stage(inputs, NULL, &fixture.layout, NULL, &fixture.melt, figures,
                                progress, &error));
    g_assert_error(error, BASE_ERROR, BASE_ERROR_CANCELLED);
    fixture_close(&fixture);
}

// More of anything never brings less, and what is named brings most.
static void
test_bottleneck(void)
{
    static const char *const gains[] = {"run.gain_flask", "run.gain_hour", "run.gain_crucible",
                                        "run.gain_person", "run.gain_furnace"};
    static const char *const words[] = {"flasks", "hours", "crucible", "person", "furnace"};
    static const char *const shops[] = {"\"flasks\":[{\"id\":\"f\",\"count\":\"1\"}]",
                                        "\"flasks\":[{\"id\":\"f\",\"count\":\"9\"}]",
                                        "\"hours\":\"14 h\"", "\"hours\":\"5 h\""};
    for (guint i = 0; i < G_N_ELEMENTS(shops); i++) {
        Fixture fixture;
        fixture_open(&fixture, shops[i], "");
        g_autoptr(FigureList) figures = NULL;
        g_autoptr(SessionResult) run = fixture_run(&fixture, &figures);
        double best = 0, named = -1;
        for (guint j = 0; j < G_N_ELEMENTS(gains); j++) {
            double gain = figure_list_value(figures, gains[j]);
            g_assert_cmpfloat(gain, >=, 0);
            g_assert_cmpfloat(fmod(gain, 3), ==, 0); // whole flasks of three
            best = MAX(best, gain);
            if (g_str_equal(words[j], run->bottleneck))
                named = gain;
        }
        g_assert_cmpfloat(named, ==, best);
        g_assert_nonnull(figure_list_find(figures, "run.bottleneck")->note);
        fixture_close(&fixture);
    }
}

static void
test_one_flask_is_the_flask(void)
{
    // One box: 30 ram + 1 pour + 50 cool + 10 shake a turn; a second box alone can help.
    Fixture fixture;
    fixture_open(&fixture, "\"flasks\":[{\"id\":\"f\",\"count\":\"1\"}]", "");
    g_autoptr(FigureList) figures = NULL;
    g_autoptr(SessionResult) run = fixture_run(&fixture, &figures);
    g_assert_cmpint(run->boxes, ==, 1);
    g_assert_cmpstr(run->bottleneck, ==, "flasks");
    fixture_close(&fixture);
}

static void
test_curve(void)
{
    Fixture fixture;
    fixture_open(&fixture, "", "");
    g_autoptr(FigureList) figures = NULL;
    g_autoptr(SessionResult) run = fixture_run(&fixture, &figures);
    const SessionFurnacePoint *curve = run->curve;
    check_close(curve[0].temperature, 20, 1e-12, "the shop");
    check_close(curve[1].at, 1200, 1e-12, "set up, 20 min");
    g_assert_cmpstr(curve[1].prompt, ==, "one");
    check_close(curve[2].at, 1200 + 1700, 1e-12, "first ramp");
    check_close(curve[2].temperature, 310, 1e-12, "first setpoint");
    check_close(curve[3].at, 1200 + 1700 + 2400, 1e-12, "first hold");
    g_assert_cmpstr(curve[3].prompt, ==, "two");
    check_close(curve[4].at, 1200 + 7140, 1e-12, "warm-up time");
    check_close(curve[4].temperature, 730, 1e-12, "second setpoint");
    double hottest = 0, coolest_pour = INFINITY;
    guint off = 0;
    for (guint i = 0; i < run->n_curve; i++) {
        hottest = MAX(hottest, curve[i].temperature);
        if (curve[i].prompt && strstr(curve[i].prompt, "Switch off"))
            off = i;
        g_assert_cmpfloat(curve[i].temperature, >=, 20);
    }
    check_close(hottest, 730, 1e-12, "never above the pouring temperature");
    g_assert_cmpuint(off, >, 4);
    // At each pour the metal is hot.
    for (guint i = 0; i < run->n_tasks; i++) {
        if (run->tasks[i].kind != TASK_POUR)
            continue;
        for (guint j = 1; j < run->n_curve; j++)
            if (curve[j].at == run->tasks[i].start)
                coolest_pour = MIN(coolest_pour, curve[j].temperature);
        g_assert_cmpfloat(run->tasks[i].end, <=, curve[off].at + 1e-9);
    }
    g_assert_cmpfloat(coolest_pour, >=, 729.999);
    check_close(curve[run->n_curve - 1].at, run->length, 1e-12, "the end");
    fixture_close(&fixture);
}

// The melt as it really is, not as given: its figures and its result reach the session and the
// cost.
static void
test_with_real_melt(void)
{
    Fixture fixture;
    fixture_open(&fixture, "\"flasks\":[{\"id\":\"f\",\"count\":\"2\"}]",
                 ",\"quantity\":\"12\",\"metal\":\"a356\"");
    g_autoptr(GError) error = NULL;
    g_autoptr(Inputs)
                  melt_inputs = inputs_resolve(fixture.book, "a", fixture.tables, NULL, melt_reads);
    g_autoptr(FigureList) before = figure_list_new();
    static const struct {
        const char *id;
        double value;
    } given[] = {{"mould.metal_mass", 0.2237}, {"mould.cavities", 3},
                 {"mould.sand_mass", 17.9},    {"casting.mass", 0.0541},
                 {"feed.shakeout_time", 3010}, {"stock.machining_time", 911}};
    for (guint i = 0; i < G_N_ELEMENTS(given); i++)
        figure_give(before, given[i].id, given[i].id, QUANTITY_NUMBER, given[i].value, NULL,
                    "definition");
    fixture.layout.metal_mass = 0.2237;
    g_autoptr(FigureList) melt_figures = figure_list_new();
    figure_list_see(melt_figures, before);
    g_autoptr(MeltResult)
                  melt = melt_stage(melt_inputs, &fixture.layout, melt_figures, NULL, &error);
    g_assert_no_error(error);
    g_assert_cmpint(melt->flasks_per_load, >=, 1);
    g_autoptr(Inputs)
                  inputs = inputs_resolve(fixture.book, "a", fixture.tables, NULL, session_reads);
    g_autoptr(FigureList) figures = figure_list_new();
    figure_list_see(figures, before);
    figure_list_see(figures, melt_figures);
    g_autoptr(SessionResult) run = session_stage(inputs, NULL, &fixture.layout, &fixture.freeze,
                                                 melt, figures, NULL, &error);
    g_assert_no_error(error);
    check_figures(figures);
    g_assert_cmpint(run->flasks, >, 0);
    g_assert_cmpint(run->sessions, >, 0);
    g_autoptr(Inputs)
                  cost_inputs = inputs_resolve(fixture.book, "a", fixture.tables, NULL, cost_reads);
    g_autoptr(FigureList) cost = figure_list_new();
    figure_list_see(cost, before);
    figure_list_see(cost, melt_figures);
    figure_list_see(cost, figures);
    g_assert_true(cost_stage(cost_inputs, NULL, NULL, melt, NULL, run, cost, NULL, &error));
    check_figures(cost);
    g_assert_cmpint(figure_list_find(cost, "cost.per_good_part")->state, ==, FIGURE_PLAIN);
    for (guint i = 0; g_test_verbose() && i < 2; i++) {
        const FigureList *list = i == 0 ? figures : cost;
        for (guint j = 0; j < figure_list_size(list); j++) {
            const Figure *figure = figure_list_at(list, j);
            UnitSet units = unit_set_default();
            g_autofree char *text = explain_value(figure, &units);
            if (!figure->given)
                g_test_message("%s: %s %s", figure->spec->id, text,
                               figure->note ? figure->note : "");
        }
    }
    fixture_close(&fixture);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/session/stage/whole", test_whole);
    g_test_add_func("/session/stage/pins", test_pins);
    g_test_add_func("/session/stage/benches", test_benches);
    g_test_add_func("/session/stage/good-rate", test_good_rate);
    g_test_add_func("/session/stage/useless", test_useless);
    g_test_add_func("/session/stage/too-few-hours", test_too_few_hours);
    g_test_add_func("/session/stage/missing", test_missing);
    g_test_add_func("/session/stage/stopped", test_stopped);
    g_test_add_func("/session/stage/bottleneck", test_bottleneck);
    g_test_add_func("/session/stage/one-flask", test_one_flask_is_the_flask);
    g_test_add_func("/session/stage/curve", test_curve);
    g_test_add_func("/session/stage/real-melt", test_with_real_melt);
    return g_test_run();
}
