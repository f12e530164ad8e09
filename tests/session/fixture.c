// SPDX-License-Identifier: GPL-3.0-or-later
// A small shop with awkward numbers.
#include "fixture.h"

#include "check.h"

static const struct {
    const char *id;
    double value;
} given[] = {
    {"mould.cavities", 3},          {"mould.metal_mass", 1.237}, {"mould.sand_mass", 17.9},
    {"casting.mass", 0.283},        {"melt.loss", 0.035},        {"melt.flasks_per_load", 2},
    {"melt.heat_time", 2530},       {"melt.warmup_time", 7140},  {"melt.energy", 7.31e6},
    {"melt.warmup_energy", 1.67e7}, {"melt.pourable", 2.9},      {"feed.shakeout_time", 3010},
    {"stock.machining_time", 911},  {"part.volume", 6.13e-5},    {"part.size.x", 0.0817},
    {"part.size.y", 0.0533},        {"part.size.z", 0.0291},
};

void
fixture_give(Fixture *fixture, const char *id, double value)
{
    double *slot = g_new(double, 1);
    *slot = value;
    g_hash_table_replace(fixture->values, g_strdup(id), slot);
}

static void
make_earlier(Fixture *fixture)
{
    g_clear_pointer(&fixture->earlier, figure_list_unref);
    fixture->earlier = figure_list_new();
    GHashTableIter iter;
    gpointer id, value;
    g_hash_table_iter_init(&iter, fixture->values);
    while (g_hash_table_iter_next(&iter, &id, &value))
        figure_give(fixture->earlier, id, id, QUANTITY_NUMBER, *(double *)value, NULL,
                    "definition");
}

void
fixture_log(Fixture *fixture, guint good, guint poured)
{
    fixture->learn.good = good;
    fixture->learn.poured = poured;
    fixture_give(fixture, "learn.good", good);
    fixture_give(fixture, "learn.poured", poured);
}

void
fixture_open(Fixture *fixture, const char *shop, const char *job)
{
    g_autoptr(GError) error = NULL;
    *fixture = (Fixture){.tables = tables_load(&error),
                         .values = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, g_free)};
    g_assert_no_error(error);
    g_autofree char *text = g_strdup_printf(
        "{\"format\":\"castbook\",\"version\":1,\"shop\":{%s},\"jobs\":[{\"id\":"
        "\"a\"%s}],\"log\":{\"sessions\":[]}}",
        shop, job);
    fixture->book = store_parse(text, -1, "test", NULL, fixture->tables, &error);
    g_assert_no_error(error);
    for (guint i = 0; i < G_N_ELEMENTS(given); i++)
        fixture_give(fixture, given[i].id, given[i].value);
    fixture->layout.n_cavities = 3;
    fixture->layout.metal_mass = 1.237;
    fixture->freeze.shakeout_time = 3010;
    fixture->warmup[0] = (MeltStep){
        .setpoint = 310, .ramp = 1700, .hold = 2400, .prompt = (char *)"one"};
    fixture->warmup[1] = (MeltStep){
        .setpoint = 730, .ramp = 3040, .hold = 0, .prompt = (char *)"two"};
    fixture->melt = (MeltResult){.warmup = fixture->warmup,
                                 .n_warmup = 2,
                                 .warmup_time = 7140,
                                 .flasks_per_load = 2,
                                 .heat_time = 2530,
                                 .pouring_temperature = 730,
                                 .energy = 7.31e6,
                                 .warmup_energy = 1.67e7};
}

void
fixture_close(Fixture *fixture)
{
    book_unref(fixture->book);
    tables_free(fixture->tables);
    g_hash_table_unref(fixture->values);
    figure_list_unref(fixture->earlier);
}

SessionResult *
fixture_run(Fixture *fixture, FigureList **figures)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Inputs)
                  inputs = inputs_resolve(fixture->book, "a", fixture->tables, NULL, session_reads);
    make_earlier(fixture);
    *figures = figure_list_new();
    figure_list_see(*figures, fixture->earlier);
    SessionResult *run = session_stage(inputs, &fixture->learn, &fixture->layout, &fixture->freeze,
                                       &fixture->melt, *figures, NULL, &error);
    g_assert_no_error(error);
    g_assert_nonnull(run);
    return run;
}

FigureList *
fixture_cost(Fixture *fixture, const SessionResult *run, FigureList *run_figures)
{
    g_autoptr(GError) error = NULL;
    g_autoptr(Inputs)
                  inputs = inputs_resolve(fixture->book, "a", fixture->tables, NULL, cost_reads);
    FigureList *figures = figure_list_new();
    figure_list_see(figures, fixture->earlier);
    figure_list_see(figures, run_figures);
    g_assert_true(cost_stage(inputs, NULL, &fixture->layout, &fixture->melt, NULL, run, figures,
                             NULL, &error));
    g_assert_no_error(error);
    return figures;
}
