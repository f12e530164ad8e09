// SPDX-License-Identifier: GPL-3.0-or-later
// The stage on a small log whose answers are counted and worked by hand.
#include "learn/learn.h"

#include <string.h>

#include "book/store.h"
#include "check.h"
#include "metal/enthalpy.h"

static Tables *tables;

// Job a: 5 judged, 3 good, in 2 sessions; job b: 1 judged, 1 good. Ramming: 28, 31, 45 min. Loads
// of a356 from furnace f: 1.3 kg in 41 min and 1.7 kg in 62 min; the load of copper, the one from
// furnace g and the one without a charge do not count.
static const char log_text[] =
    "{\"sessions\":["
    "{\"furnace\":\"f\",\"loads\":["
    "{\"metal\":\"a356\",\"charge\":\"1.3 kg\",\"melt_time\":\"41 min\",\"flasks\":["
    "{\"job\":\"a\",\"ram_time\":\"28 min\",\"castings\":[{\"good\":true},{\"good\":false},{}]},"
    "{\"job\":\"b\",\"ram_time\":\"45 min\",\"castings\":[{\"good\":true}]}]},"
    "{\"metal\":\"copper\",\"charge\":\"1.3 kg\",\"melt_time\":\"41 min\"},"
    "{\"metal\":\"a356\",\"melt_time\":\"41 min\"}]},"
    "{\"furnace\":\"g\",\"loads\":[{\"metal\":\"a356\",\"charge\":\"9 kg\",\"melt_time\":\"2 "
    "h\"}]},"
    "{\"loads\":[{\"metal\":\"a356\",\"charge\":\"1.7 kg\",\"melt_time\":\"62 min\",\"flasks\":["
    "{\"job\":\"a\",\"ram_time\":\"31 min\",\"castings\":[{\"good\":true},{\"good\":true},"
    "{\"good\":false}]}]}]}]}";

static LearnResult *
learn(const char *log, const char *job, FigureList *figures)
{
    g_autofree char *text = g_strdup_printf(
        "{\"format\":\"castbook\",\"version\":1,\"shop\":{\"ambient\":\"17 C\",\"furnaces\":["
        "{\"id\":\"f\",\"power\":\"3 kW\",\"standing_loss\":\"700 W\"},{\"id\":\"g\"}]},"
        "\"jobs\":[{\"id\":\"a\",\"metal\":\"a356\",\"pouring_temperature\":\"735 C\"},"
        "{\"id\":\"b\"}],\"log\":%s}",
        log);
    g_autoptr(GError) error = NULL;
    g_autoptr(Book) book = store_parse(text, -1, "test", NULL, tables, &error);
    g_assert_no_error(error);
    g_autoptr(Inputs) inputs = inputs_resolve(book, job, tables, NULL, learn_reads);
    LearnResult *result = learn_stage(inputs, job, figures, &error);
    g_assert_no_error(error);
    return result;
}

static void
test_counts(void)
{
    static const struct {
        const char *job;
        guint poured, good, sessions;
    } cases[] = {{"a", 5, 3, 2}, {"b", 1, 1, 1}, {NULL, 6, 4, 2}, {"x", 0, 0, 0}};
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autoptr(FigureList) figures = figure_list_new();
        g_autoptr(LearnResult) result = learn(log_text, cases[i].job, figures);
        g_assert_cmpuint(result->poured, ==, cases[i].poured);
        g_assert_cmpuint(result->good, ==, cases[i].good);
        g_assert_cmpuint(result->sessions, ==, cases[i].sessions);
        check_close(figure_list_value(figures, "learn.poured"), cases[i].poured, 0, "counted");
        check_close(figure_list_value(figures, "learn.good"), cases[i].good, 0, "counted");
        check_close(figure_list_value(figures, "learn.sessions"), cases[i].sessions, 0, "counted");
    }
}

static void
test_values(void)
{
    g_autoptr(FigureList) figures = figure_list_new();
    g_autoptr(LearnResult) result = learn(log_text, "a", figures);
    const TableRow *metal = tables_find(tables, TABLE_METALS, "a356");
    double heat = enthalpy_between(metal, 17, 735);
    // A line through the origin: sum of heat times energy over sum of heat squared is 1 / share.
    double slope = (1.3 * 2460.0 + 1.7 * 3720.0) * 2300 / (1.3 * 1.3 + 1.7 * 1.7) / heat;
    double wanted = 1 / slope;
    double r1 = 2460.0 * 2300 - slope * 1.3 * heat, r2 = 3720.0 * 2300 - slope * 1.7 * heat;
    double error = sqrt((r1 * r1 + r2 * r2) / (1.3 * 1.3 + 1.7 * 1.7)) / heat / slope / slope;
    const LearnedValue *share = learned_find(result->learned, "furnace.efficiency");
    const LearnedValue *ram_time = learned_find(result->learned, "people.ram_time");
    check_close(share->value, wanted, 1e-12, "heat balance by hand, enthalpy from metal/");
    g_assert_cmpstr(share->source, ==, "measured in this shop: 2 loads");
    check_close(ram_time->value, 31 * 60, 1e-12, "median of 28, 31, 45 min");
    g_assert_cmpstr(ram_time->source, ==, "measured in this shop: 3 flasks");
    check_close(figure_list_value(figures, "learn.furnace_efficiency"), wanted, 1e-12, "the same");
    check_close(figure_list_value(figures, "learn.furnace_efficiency_error"), error, 1e-9,
                "standard error of a slope through the origin, by hand");
    const Figure *loss = figure_list_find(figures, "learn.standing_loss");
    g_assert_cmpint(loss->state, ==, FIGURE_UNKNOWN);
    g_assert_nonnull(strstr(loss->note, "cannot tell"));
    check_close(figure_list_value(figures, "learn.loads"), 2, 0, "counted");
    check_close(figure_list_value(figures, "learn.flasks"), 3, 0, "counted");
    check_close(figure_list_value(figures, "learn.ram_time"), 1860, 1e-12, "the same");
    g_autoptr(LearnResult) again = learn_result_ref(result);
    g_assert_true(again == result);
}

static void
test_nothing(void)
{
    static const char *const logs[] = {"{}", "{\"sessions\":[]}", "{\"sessions\":[{}]}"};
    for (guint i = 0; i < G_N_ELEMENTS(logs); i++) {
        g_autoptr(FigureList) figures = figure_list_new();
        g_autoptr(LearnResult) result = learn(logs[i], "a", figures);
        g_assert_cmpuint(learned_size(result->learned), ==, 0);
        g_assert_cmpuint(result->poured, ==, 0);
        const Figure *figure = figure_list_find(figures, "learn.furnace_efficiency");
        g_assert_cmpint(figure->state, ==, FIGURE_UNKNOWN);
        g_assert_cmpstr(figure->missing, ==, "log");
    }
}

// A load that cannot be true teaches nothing and is spoken of; nor is a value beyond the field's
// range learned.
static void
test_impossible(void)
{
    g_autoptr(FigureList) figures = figure_list_new();
    g_autoptr(LearnResult) result = learn(
        "{\"sessions\":[{\"loads\":[{\"metal\":\"a356\",\"charge\":\"30 kg\",\"melt_time\":"
        "\"10 min\",\"flasks\":[{\"ram_time\":\"3 s\"}]},"
        "{\"metal\":\"a356\",\"charge\":\"1 g\",\"melt_time\":\"3 h\"}]}]}",
        "a", figures);
    const Figure *figure = figure_list_find(figures, "learn.furnace_efficiency");
    g_assert_nonnull(figure->note);
    g_assert_true(g_str_has_prefix(figure->note, "1 load is left out"));
    g_assert_cmpuint(learned_size(result->learned), ==, 0);
}

// Loads made with 41 % and 655 W, energy metered to 10 Wh. With the loss left blank both are
// learned; with one typed that is kept, and the efficiency goes with it.
static void
test_both(void)
{
    const TableRow *metal = tables_find(tables, TABLE_METALS, "a356");
    double content = enthalpy_between(metal, 20, 735);
    static const double charges[] = {1.3, 4.7, 2.9, 5.5, 1.9}, minutes[] = {95, 61, 40, 118, 77};
    g_autoptr(GString) loads = g_string_new(NULL);
    for (guint i = 0; i < G_N_ELEMENTS(charges); i++) {
        double kwh = (charges[i] * content / 0.41 + 655 * minutes[i] * 60) / 3.6e6;
        g_string_append_printf(loads,
                               "%s{\"metal\":\"a356\",\"charge\":\"%.1f kg\",\"melt_time\":\"%.0f "
                               "min\",\"energy\":\"%.2f kWh\"}",
                               i ? "," : "", charges[i], minutes[i], kwh);
    }
    for (int typed = 0; typed < 2; typed++) {
        g_autofree char *text = g_strdup_printf(
            "{\"format\":\"castbook\",\"version\":1,\"shop\":{\"furnaces\":[{\"id\":\"f\","
            "\"power\":"
            "\"4 "
            "kW\"%s}]},\"jobs\":[{\"id\":\"a\",\"metal\":\"a356\",\"pouring_temperature\":\"735 "
            "C\"}],\"log\":{\"sessions\":[{\"furnace\":\"f\",\"loads\":[%s]}]}}",
            typed ? ",\"standing_loss\":\"700 W\"" : "", loads->str);
        g_autoptr(Book) book = store_parse(text, -1, "test", NULL, tables, NULL);
        g_assert_nonnull(book);
        g_autoptr(Inputs) inputs = inputs_resolve(book, "a", tables, NULL, learn_reads);
        g_autoptr(FigureList) figures = figure_list_new();
        g_autoptr(LearnResult) result = learn_stage(inputs, "a", figures, NULL);
        check_close(figure_list_value(figures, "learn.standing_loss"), 655, 0.01, "as made");
        g_assert_cmpfloat(figure_list_value(figures, "learn.standing_loss_error"), <, 15);
        const LearnedValue *loss = learned_find(result->learned, "furnace.standing_loss");
        const LearnedValue *share = learned_find(result->learned, "furnace.efficiency");
        g_assert_cmpint(loss != NULL, ==, !typed);
        check_close(share->value, 0.41, typed ? 0.03 : 0.01, "as made");
        if (typed)
            g_assert_nonnull(
                strstr(figure_list_find(figures, "learn.standing_loss")->note, "Not used"));
        else
            g_assert_cmpstr(loss->source, ==, "measured in this shop: 5 loads");
    }
}

// Firings of the crucible fill the blank field, counted as the person counts them.
static void
test_crucible(void)
{
    static const struct {
        const char *counts;
        double firings;
    } cases[] = {{"start", 2}, {"melt", 3}};
    for (guint i = 0; i < G_N_ELEMENTS(cases); i++) {
        g_autofree char *text = g_strdup_printf(
            "{\"format\":\"castbook\",\"version\":1,\"shop\":{\"crucibles\":[{\"id\":\"c\","
            "\"counts\":"
            "\"%s\"},{\"id\":\"d\"}]},\"jobs\":[{\"id\":\"a\"}],\"log\":{\"sessions\":[{"
            "\"crucible\":"
            "\"c\",\"loads\":[{\"metal\":\"413\"},{}]},{\"crucible\":\"d\",\"loads\":[{}]},"
            "{\"crucible\":\"c\",\"loads\":[{\"metal\":\"tin-bronze\"}]}]}}",
            cases[i].counts);
        g_autoptr(Book) book = store_parse(text, -1, "test", NULL, tables, NULL);
        g_assert_nonnull(book);
        g_autoptr(Inputs) inputs = inputs_resolve(book, "a", tables, NULL, learn_reads);
        g_autoptr(FigureList) figures = figure_list_new();
        g_autoptr(LearnResult) result = learn_stage(inputs, "a", figures, NULL);
        check_close(learned_find(result->learned, "crucible.firings")->value, cases[i].firings, 0,
                    "counted");
        check_close(figure_list_value(figures, "learn.crucible_starts"), 2, 0, "counted");
        check_close(figure_list_value(figures, "learn.crucible_melts"), 3, 0, "counted");
        g_assert_cmpstr(figure_list_find(figures, "learn.crucible_families")->text, ==,
                        "aluminium copper");
    }
}

// A learned value fills the blank field of a later stage.
static void
test_fills(void)
{
    static const char *const reads[] = {"people.ram_time", "furnace.efficiency", NULL};
    g_autoptr(FigureList) figures = figure_list_new();
    g_autoptr(LearnResult) result = learn(log_text, "a", figures);
    g_autoptr(Book) book = book_new_ready();
    g_autoptr(Inputs) inputs = inputs_resolve(book, NULL, tables, result->learned, reads);
    check_close(inputs_number(inputs, "people.ram_time"), 1860, 1e-12, "learned");
    g_assert_cmpstr(inputs_source(inputs, "furnace.efficiency"), ==,
                    "measured in this shop: 2 loads");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_autoptr(GError) error = NULL;
    g_autoptr(Tables) loaded = tables_load(&error);
    g_assert_no_error(error);
    tables = loaded;
    g_test_add_func("/learn/learn/counts", test_counts);
    g_test_add_func("/learn/learn/values", test_values);
    g_test_add_func("/learn/learn/nothing", test_nothing);
    g_test_add_func("/learn/learn/impossible", test_impossible);
    g_test_add_func("/learn/learn/both", test_both);
    g_test_add_func("/learn/learn/crucible", test_crucible);
    g_test_add_func("/learn/learn/fills", test_fills);
    return g_test_run();
}
