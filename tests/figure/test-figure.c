// SPDX-License-Identifier: GPL-3.0-or-later
// States, limits, unknowns that spread, and lists that see earlier ones.
#include "check.h"

#include "figure/figure.h"

static const FigureSpec spec_area = {.id = "mould.choke_area",
                                     .label = "Choke area",
                                     .kind = QUANTITY_AREA,
                                     .formula = "mould.mass / job.speed",
                                     .source = "rao"};
static const FigureSpec spec_speed = {.id = "mould.gate_velocity",
                                      .label = "Gate velocity",
                                      .kind = QUANTITY_VELOCITY,
                                      .method = "told",
                                      .source = "runyoro-1992",
                                      .limit_kind = FIGURE_AT_MOST,
                                      .near = 0.1};
static const FigureSpec spec_cover = {.id = "mould.sand_cover.wall",
                                      .label = "Sand to the wall",
                                      .kind = QUANTITY_LENGTH,
                                      .method = "told",
                                      .source = "geometry",
                                      .limit_kind = FIGURE_AT_LEAST,
                                      .near = 0.1};

// Waste: past its limit it is worth a look, and no failure.
static const FigureSpec spec_waste = {.id = "mould.sand_over",
                                      .label = "Needless sand above",
                                      .kind = QUANTITY_LENGTH,
                                      .method = "told",
                                      .source = "geometry",
                                      .limit_kind = FIGURE_AT_MOST,
                                      .advises = TRUE};

static FigureState
state_of(const FigureSpec *spec, double value, double limit)
{
    g_autoptr(FigureList) list = figure_list_new();
    Figure *figure = figure_add(list, spec, value, NULL);
    figure_limit(figure, limit, NULL);
    return figure->state;
}

static void
test_states(void)
{
    g_assert_cmpint(state_of(&spec_speed, 0.31, 0.5), ==, FIGURE_HOLDS);
    g_assert_cmpint(state_of(&spec_speed, 0.46, 0.5), ==, FIGURE_CLOSE);
    g_assert_cmpint(state_of(&spec_speed, 0.5, 0.5), ==, FIGURE_CLOSE);
    g_assert_cmpint(state_of(&spec_speed, 0.51, 0.5), ==, FIGURE_FAILS);
    g_assert_cmpint(state_of(&spec_cover, 0.031, 0.025), ==, FIGURE_HOLDS);
    g_assert_cmpint(state_of(&spec_cover, 0.026, 0.025), ==, FIGURE_CLOSE);
    g_assert_cmpint(state_of(&spec_cover, 0.024, 0.025), ==, FIGURE_FAILS);
    // A third of three times a limit is the limit, whatever the last bit says.
    g_assert_cmpint(state_of(&spec_cover, 0.1 * 3 / 3, 0.1), ==, FIGURE_CLOSE);
    g_assert_cmpint(state_of(&spec_cover, 0.0249999999999999, 0.025), ==, FIGURE_CLOSE);
    g_assert_cmpint(state_of(&spec_cover, 0.031, NAN), ==, FIGURE_PLAIN);
    g_assert_cmpint(state_of(&spec_waste, 0.049, 0.05), ==, FIGURE_HOLDS);
    g_assert_cmpint(state_of(&spec_waste, 0.051, 0.05), ==, FIGURE_CLOSE);
    // Where nothing counts as near, the limit itself holds, rounded up or down.
    g_assert_cmpint(state_of(&spec_waste, 0.05, 0.05), ==, FIGURE_HOLDS);
    g_assert_cmpint(state_of(&spec_waste, 0.1 * 3 / 6 * (1 + 1e-15), 0.05), ==, FIGURE_HOLDS);
}

static void
test_past(void)
{
    g_autoptr(FigureList) list = figure_list_new();
    Figure *cover = figure_add(list, &spec_cover, 0.0249, NULL);
    g_assert_false(figure_is_past(cover));
    figure_limit(cover, 0.025, NULL);
    g_assert_true(figure_is_past(cover));
    figure_limit(cover, 0.0249, NULL);
    g_assert_false(figure_is_past(cover));
    Figure *waste = figure_add(list, &spec_waste, 0.07, NULL);
    figure_limit(waste, 0.05, NULL);
    g_assert_true(figure_is_past(waste));
}

static void
test_margin(void)
{
    g_autoptr(FigureList) list = figure_list_new();
    Figure *speed = figure_add(list, &spec_speed, 0.38, NULL);
    figure_limit(speed, 0.5, NULL);
    check_close(speed->margin, 0.12, 1e-12, "0.5 - 0.38");
    Figure *cover = figure_add(list, &spec_cover, 0.02, NULL);
    figure_limit(cover, 0.025, "sand.cover_wall");
    check_close(cover->margin, -0.005, 1e-12, "0.020 - 0.025");
    g_assert_cmpstr(cover->limit_id, ==, "sand.cover_wall");
}

static void
test_unknown_spreads(void)
{
    g_autoptr(FigureList) earlier = figure_list_new();
    figure_give(earlier, "job.speed", "Speed", QUANTITY_VELOCITY, NAN, NULL, "user");
    g_autoptr(FigureList) list = figure_list_new();
    figure_list_see(list, earlier);
    figure_give(list, "mould.mass", "Mass", QUANTITY_MASS, 2.385, NULL, "user");
    const Figure *area = figure_add(list, &spec_area, NAN, "mould.mass", "job.speed", NULL);
    g_assert_cmpint(area->state, ==, FIGURE_UNKNOWN);
    g_assert_cmpstr(area->missing, ==, "job.speed");
    g_assert_true(isnan(area->value));
    // What depends on it names the first cause, not the step between.
    const Figure *next = figure_add(list, &spec_speed, 0.3, "mould.choke_area", NULL);
    g_assert_cmpint(next->state, ==, FIGURE_UNKNOWN);
    g_assert_cmpstr(next->missing, ==, "job.speed");
    const Figure *told = figure_add_unknown(list, &spec_cover, "mould.gate_velocity");
    g_assert_cmpstr(told->missing, ==, "job.speed");
}

static void
test_not_finite_is_unknown(void)
{
    g_autoptr(FigureList) list = figure_list_new();
    const Figure *figure = figure_add(list, &spec_cover, INFINITY, NULL);
    g_assert_cmpint(figure->state, ==, FIGURE_UNKNOWN);
    figure_limit((Figure *)figure, 0.02, NULL);
    g_assert_cmpint(figure->state, ==, FIGURE_UNKNOWN);
}

static void
test_missing_input_is_reported(void)
{
    g_autoptr(FigureList) list = figure_list_new();
    g_test_expect_message(G_LOG_DOMAIN, G_LOG_LEVEL_CRITICAL, "*no input called job.nothing*");
    const Figure *figure = figure_add(list, &spec_speed, 0.3, "job.nothing", NULL);
    g_test_assert_expected_messages();
    g_assert_cmpint(figure->state, ==, FIGURE_UNKNOWN);
}

static void
test_look_up(void)
{
    g_autoptr(FigureList) first = figure_list_new();
    g_autoptr(FigureList) second = figure_list_new();
    g_autoptr(FigureList) third = figure_list_new();
    figure_list_see(second, first);
    figure_list_see(third, second);
    figure_give(first, "job.draft", "Draft", QUANTITY_ANGLE, 0.0349, NULL, "user");
    figure_give(first, "job.draft", "Draft", QUANTITY_ANGLE, 0.5, NULL, "again");
    check_close(figure_list_value(third, "job.draft"), 0.0349, 1e-15, "first given stays");
    g_assert_cmpuint(figure_list_size(third), ==, 0);
    g_assert_true(isnan(figure_list_value(third, "job.other")));
    figure_give(third, "job.name", "Job", QUANTITY_TEXT, NAN, "pawl", "user");
    g_assert_cmpint(figure_list_find(third, "job.name")->state, ==, FIGURE_PLAIN);
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/figure/states", test_states);
    g_test_add_func("/figure/past", test_past);
    g_test_add_func("/figure/margin", test_margin);
    g_test_add_func("/figure/unknown-spreads", test_unknown_spreads);
    g_test_add_func("/figure/not-finite", test_not_finite_is_unknown);
    g_test_add_func("/figure/missing-input", test_missing_input_is_reported);
    g_test_add_func("/figure/look-up", test_look_up);
    return g_test_run();
}
