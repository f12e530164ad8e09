// SPDX-License-Identifier: GPL-3.0-or-later
// Figures in words: signs, labels, numbers in the shop's units, limits, and what is unknown.
#include "check.h"

#include "figure/explain.h"
#include "figure/source.h"

static const FigureSpec spec_head = {.id = "mould.effective_head",
                                     .label = "Effective head",
                                     .kind = QUANTITY_LENGTH,
                                     .method = "told",
                                     .source = "geometry"};
static const FigureSpec spec_choke = {
    .id = "mould.choke_area",
    .label = "Choke area",
    .kind = QUANTITY_AREA,
    .formula = "mould.metal_mass / (metal.density * job.fill_time * sqrt(2 * g * "
               "mould.effective_head))",
    .source = "geometry"};
static const FigureSpec spec_cap = {.id = "mould.round_area",
                                    .label = "Round area",
                                    .kind = QUANTITY_AREA,
                                    .formula = "pi * mould.effective_head^2 / 4 - 1e-6",
                                    .source = "geometry"};
static const FigureSpec spec_power = {.id = "mould.odd",
                                      .label = "Odd",
                                      .kind = QUANTITY_NUMBER,
                                      .formula = "mould.effective_head^2.5 + max(1.25, 2)^21",
                                      .source = "geometry"};
static const FigureSpec spec_speed = {.id = "mould.gate_velocity",
                                      .label = "Velocity at the gates",
                                      .kind = QUANTITY_VELOCITY,
                                      .method = "from a network",
                                      .source = "geometry",
                                      .limit_kind = FIGURE_AT_MOST,
                                      .near = 0.1};
static const FigureSpec spec_waste = {.id = "mould.sand_over",
                                      .label = "Needless sand above",
                                      .kind = QUANTITY_LENGTH,
                                      .method = "told",
                                      .source = "geometry",
                                      .limit_kind = FIGURE_AT_MOST,
                                      .advises = TRUE};
static const FigureSpec spec_metal = {.id = "melt.temperature",
                                      .label = "Metal",
                                      .kind = QUANTITY_TEMPERATURE,
                                      .method = "told",
                                      .source = "geometry",
                                      .limit_kind = FIGURE_AT_LEAST,
                                      .near = 0.01};
static const FigureSpec spec_held = {.id = "run.bottleneck",
                                     .label = "Held back by",
                                     .kind = QUANTITY_TEXT,
                                     .method = "told",
                                     .source = "geometry"};

typedef struct {
    FigureList *list;
    Figure *choke;
    UnitSet units;
} Fixture;

static void
set_up(Fixture *f, gconstpointer data)
{
    f->units = unit_set_default();
    f->list = figure_list_new();
    figure_give(f->list, "metal.density", "Density", QUANTITY_DENSITY, 2385, NULL, "user");
    figure_give(f->list, "job.fill_time", "Filling time", QUANTITY_TIME, 6.5, NULL, "user");
    figure_give(f->list, "mould.metal_mass", "Metal in a flask", QUANTITY_MASS, 1.37, NULL, "user");
    figure_add(f->list, &spec_head, 0.0825, NULL);
    double area = 1.37 / (2385 * 6.5 * sqrt(2 * 9.80665 * 0.0825));
    f->choke = figure_add(f->list, &spec_choke, area, "mould.metal_mass", "metal.density",
                          "job.fill_time", "mould.effective_head", NULL);
}

static void
tear_down(Fixture *f, gconstpointer data)
{
    figure_list_unref(f->list);
}

static void
check_text(char *text, const char *expected)
{
    g_assert_cmpstr(text, ==, expected);
    g_free(text);
}

static void
test_formula(Fixture *f, gconstpointer data)
{
    check_text(explain_formula(f->list, f->choke),
               "Metal in a flask ÷ (Density × Filling time × √(2 × g × Effective head))");
    check_text(explain_numbers(f->list, f->choke, &f->units),
               "1.37 kg ÷ (2385 kg/m³ × 6.5 s × √(2 × g × 82.5 mm))");
}

static void
test_signs(Fixture *f, gconstpointer data)
{
    Figure *cap = figure_add(f->list, &spec_cap, 1, "mould.effective_head", NULL);
    check_text(explain_formula(f->list, cap), "π × (Effective head)² ÷ 4 − 1e-6");
    Figure *odd = figure_add(f->list, &spec_power, 1, "mould.effective_head", NULL);
    check_text(explain_formula(f->list, odd), "(Effective head)^2.5 + max(1.25, 2)^21");
}

static void
test_method(Fixture *f, gconstpointer data)
{
    Figure *speed = figure_add(f->list, &spec_speed, 0.4, NULL);
    check_text(explain_formula(f->list, speed), "from a network");
    g_assert_null(explain_numbers(f->list, speed, &f->units));
    check_text(explain_formula(f->list, figure_list_find(f->list, "metal.density")),
               "put in, not computed");
}

static void
test_inches(Fixture *f, gconstpointer data)
{
    f->units.inches = f->units.pounds = TRUE;
    g_autofree char *head = quantity_format(QUANTITY_LENGTH, 0.0825, &f->units);
    g_autofree char *numbers = explain_numbers(f->list, f->choke, &f->units);
    g_assert_nonnull(strstr(head, "in"));
    g_assert_nonnull(strstr(numbers, head));
    g_assert_nonnull(strstr(numbers, "lb"));
}

// An input keeps the number it had when the figure was made, even where the list lacks it.
static void
test_input_gone(Fixture *f, gconstpointer data)
{
    g_autoptr(FigureList) empty = figure_list_new();
    g_autofree char *formula = explain_formula(empty, f->choke);
    g_assert_nonnull(strstr(formula, "mould.metal_mass ÷"));
    g_autofree char *numbers = explain_numbers(empty, f->choke, &f->units);
    g_assert_nonnull(strstr(numbers, "1.37 ÷ (2385"));
}

static void
test_limit(Fixture *f, gconstpointer data)
{
    figure_give(f->list, "metal.gate_velocity", "Most velocity", QUANTITY_VELOCITY, 0.5, NULL,
                "user");
    Figure *speed = figure_add(f->list, &spec_speed, 0.38, NULL);
    g_assert_null(explain_limit(f->list, speed, &f->units));
    figure_limit(speed, 0.5, "metal.gate_velocity");
    check_text(explain_limit(f->list, speed, &f->units),
               "at most 0.500 m/s (Most velocity); 0.120 m/s to spare");
    figure_limit(speed, 0.31, NULL);
    check_text(explain_limit(f->list, speed, &f->units), "at most 0.310 m/s; 0.0700 m/s beyond it");
    // What only advises is beyond its limit all the same.
    Figure *waste = figure_add(f->list, &spec_waste, 0.071, NULL);
    figure_limit(waste, 0.05, NULL);
    check_text(explain_limit(f->list, waste, &f->units), "at most 50 mm; 21 mm beyond it");
}

// A margin between two temperatures is a difference: 54 °F to spare, not 86 °F.
static void
test_limit_of_temperature(Fixture *f, gconstpointer data)
{
    Figure *metal = figure_add(f->list, &spec_metal, 730, NULL);
    figure_limit(metal, 700, NULL);
    f->units.fahrenheit = TRUE;
    g_autofree char *text = explain_limit(f->list, metal, &f->units);
    g_assert_nonnull(strstr(text, "at least 1292 °F; 54 "));
    g_assert_nonnull(strstr(text, "to spare"));
    figure_limit(metal, 760, NULL);
    g_autofree char *short_of = explain_limit(f->list, metal, &f->units);
    g_assert_true(g_str_has_suffix(short_of, " short of it"));
}

static void
test_unknown(Fixture *f, gconstpointer data)
{
    g_autoptr(FigureList) list = figure_list_new();
    figure_give(list, "job.fill_time", "Filling time", QUANTITY_TIME, NAN, NULL, "user");
    Figure *head = figure_add(list, &spec_head, NAN, "job.fill_time", NULL);
    check_text(explain_value(head, &f->units), "unknown");
    g_assert_cmpstr(head->missing, ==, "job.fill_time");
    g_autofree char *all = explain_all(list, head, &f->units);
    g_assert_nonnull(strstr(all, "Effective head: unknown\n"));
    g_assert_nonnull(strstr(all, "Filling time"));
    g_assert_null(strstr(all, "nan"));
    static const FigureSpec spec = {.id = "mould.twice",
                                    .label = "Twice",
                                    .kind = QUANTITY_LENGTH,
                                    .formula = "2 * mould.effective_head",
                                    .source = "geometry"};
    Figure *twice = figure_add(list, &spec, NAN, "mould.effective_head", NULL);
    check_text(explain_numbers(list, twice, &f->units), "2 × unknown");
}

static void
test_text_value(Fixture *f, gconstpointer data)
{
    Figure *held = figure_add_text(f->list, &spec_held, "the furnace", NULL);
    check_text(explain_value(held, &f->units), "the furnace");
}

static void
test_all(Fixture *f, gconstpointer data)
{
    figure_set_note(f->choke, "one flask at a time");
    g_autofree char *all = explain_all(f->list, f->choke, &f->units);
    g_autofree char *source = source_text("geometry");
    g_auto(GStrv) lines = g_strsplit(all, "\n", -1);
    g_assert_cmpuint(g_strv_length(lines), ==, 6);
    g_assert_true(g_str_has_prefix(lines[0], "Choke area: "));
    g_assert_true(g_str_has_prefix(lines[1], "  = Metal in a flask ÷ "));
    g_assert_true(g_str_has_prefix(lines[2], "  = 1.37 kg ÷ "));
    g_assert_cmpstr(lines[3], ==, "  note: one flask at a time");
    g_assert_true(g_str_has_suffix(lines[4], source));
    g_assert_cmpstr(lines[5], ==, "");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
#define ADD(name, function)                                                                        \
    g_test_add("/figure/explain/" name, Fixture, NULL, set_up, function, tear_down)
    ADD("formula", test_formula);
    ADD("signs", test_signs);
    ADD("method", test_method);
    ADD("inches", test_inches);
    ADD("input-gone", test_input_gone);
    ADD("limit", test_limit);
    ADD("limit-of-temperature", test_limit_of_temperature);
    ADD("unknown", test_unknown);
    ADD("text-value", test_text_value);
    ADD("all", test_all);
    return g_test_run();
}
