// SPDX-License-Identifier: GPL-3.0-or-later
// Every factor against the defining values of NIST SP 811 (appendix B), written here as decimals of
// their own, and, where the GNU units program is installed, every unit of the table against it.
#include <stdlib.h>
#include <string.h>

#include "check.h"
#include "units/unit-table.h"

#define SP811 "NIST SP 811, appendix B"

static const struct {
    QuantityKind kind;
    const char *text;
    double si;
} definitions[] = {
    {QUANTITY_LENGTH, "1 in", 0.0254},
    {QUANTITY_LENGTH, "1 ft", 0.3048},
    {QUANTITY_LENGTH, "1 yd", 0.9144},
    {QUANTITY_LENGTH, "1 thou", 2.54e-5},
    {QUANTITY_AREA, "1 in²", 6.4516e-4},
    {QUANTITY_AREA, "1 ft²", 0.09290304},
    {QUANTITY_VOLUME, "1 in³", 1.6387064e-5},
    {QUANTITY_VOLUME, "1 ft³", 0.028316846592},
    {QUANTITY_VOLUME, "1 US gal", 3.785411784e-3},
    {QUANTITY_VOLUME, "128 fl oz", 3.785411784e-3},
    {QUANTITY_MASS, "1 lb", 0.45359237},
    {QUANTITY_MASS, "1 oz", 0.028349523125},
    {QUANTITY_MASS, "16 oz", 0.45359237},
    {QUANTITY_MASS, "1 ozt", 0.0311034768},
    {QUANTITY_MASS, "20 dwt", 0.0311034768},
    {QUANTITY_MASS, "1 gr", 6.479891e-5},
    {QUANTITY_DENSITY, "1 lb/in³", 27679.904710203125}, // 0.45359237 / 0.0254^3
    {QUANTITY_DENSITY, "1 lb/ft³", 16.018463373960142}, // 0.45359237 / 0.3048^3
    {QUANTITY_FORCE, "1 lbf", 4.4482216152605},
    {QUANTITY_FORCE, "1 kgf", 9.80665},
    {QUANTITY_ENERGY, "1 Btu", 1055.05585262},
    {QUANTITY_ENERGY, "1 cal", 4.184},
    {QUANTITY_ENERGY, "1 kWh", 3.6e6},
    {QUANTITY_POWER, "1 hp", 745.69987158227022},
    {QUANTITY_POWER, "1 Btu/h", 0.29307107017222222},
    {QUANTITY_HEAT_CONTENT, "1 Btu/lb", 2326.0},
    {QUANTITY_SPECIFIC_HEAT, "1 Btu/(lb °F)", 4186.8},
    {QUANTITY_CONDUCTIVITY, "1 Btu/(h ft °F)", 1.7307346663713911},
    {QUANTITY_TEMPERATURE, "32 °F", 0.0},
    {QUANTITY_TEMPERATURE, "212 °F", 100.0},
    {QUANTITY_TEMPERATURE, "-459.67 °F", -273.15},
    {QUANTITY_TEMPERATURE, "273.15 K", 0.0},
    {QUANTITY_TEMPERATURE_DIFFERENCE, "1.8 °F", 1.0},
    {QUANTITY_HEATING_RATE, "1.8 °F/s", 1.0},
    {QUANTITY_RATIO, "1/8 in/ft", 1.0 / 96.0},
    {QUANTITY_ANGLE, "180 deg", G_PI},
    {QUANTITY_MONEY_PER_MASS, "1 /ozt", 32.150746568627979}, // 1 / 0.0311034768
    {QUANTITY_CHVORINOV, "1 min/in²", 93000.186000372000},   // 60 / 6.4516e-4
};

static void
test_definitions(void)
{
    UnitSet units = unit_set_default();
    for (guint i = 0; i < G_N_ELEMENTS(definitions); i++) {
        g_autoptr(GError) error = NULL;
        double si = NAN;
        g_test_message("%s", definitions[i].text);
        quantity_parse(definitions[i].kind, definitions[i].text, &units, &si, &error);
        g_assert_no_error(error);
        check_close(si, definitions[i].si, 3e-16, SP811);
    }
}

// Each unit can be read as it is printed, and no spelling of a kind names two units.
static void
test_table(void)
{
    guint count;
    const Unit *table = units_table(&count);
    UnitSet units = unit_set_default();
    g_autoptr(GHashTable) seen = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, NULL);
    for (guint i = 0; i < count; i++) {
        g_auto(GStrv) spellings = g_strsplit(table[i].spellings, "|", -1);
        for (guint j = 0; spellings[j]; j++) {
            g_autofree char *key = g_strdup_printf("%d %s", table[i].kind, spellings[j]);
            g_autofree char *text = g_strdup_printf("0.75 %s", spellings[j]);
            g_autofree char *shown = g_strdup_printf("0.75 %s", table[i].shown);
            double si = NAN, si_shown = NAN;
            g_test_message("%s", text);
            g_assert_true(g_hash_table_add(seen, g_steal_pointer(&key)));
            if (table[i].kind == QUANTITY_COUNT)
                continue;
            g_assert_true(quantity_parse(table[i].kind, text, &units, &si, NULL));
            g_assert_true(quantity_parse(table[i].kind, shown, &units, &si_shown, NULL));
            g_assert_cmpfloat(si, ==, units_to_si(&table[i], 0.75));
            g_assert_cmpfloat(si, ==, si_shown);
        }
        if (table[i].next)
            g_assert_nonnull(units_find(table[i].kind, table[i].next));
    }
}

// Rungs name units that exist; each numeric kind has its rungs in every shop, from 0 upwards.
static void
test_rungs(void)
{
    guint count;
    const UnitsRung *rungs = units_rungs(&count);
    for (guint i = 0; i < count; i++)
        g_assert_nonnull(units_find(rungs[i].kind, rungs[i].shown));
    for (guint bits = 0; bits < 8; bits++) {
        UnitSet units = {.inches = bits & 1, .pounds = bits & 2, .fahrenheit = bits & 4};
        for (int kind = 0; kind < QUANTITY_TEXT; kind++) {
            guint bare = 0;
            double last = -1.0;
            for (guint i = 0; i < count; i++) {
                if (!units_rung_applies(&rungs[i], kind, &units))
                    continue;
                g_assert_cmpfloat(last < 0.0 ? rungs[i].from : 0.0, ==, 0.0);
                g_assert_cmpfloat(rungs[i].from, >, last);
                last = rungs[i].from;
                bare += rungs[i].bare;
            }
            g_assert_cmpfloat(last, >=, 0.0);
            g_assert_cmpuint(bare, ==, kind == QUANTITY_RATIO ? 0 : 1);
        }
        g_assert_null(units_rung_for(QUANTITY_TEXT, 1.0, &units));
    }
}

// What GNU units calls the things we print otherwise.
static const char *const gnu_names[][2] = {
    {"h", "hour"},           {"d", "day"},       {"wk", "week"},        {"l", "liter"},
    {"t", "tonne"},          {"gr", "grain"},    {"ozt", "troyounce"},  {"dwt", "pennyweight"},
    {"µm", "micrometer"},    {"Btu", "btu"},     {"°F", "degF"},        {"°C", "degC"},
    {"°", "degree"},         {"′", "arcmin"},    {"″", "arcsec"},       {"Wh", "W hour"},
    {"kWh", "kW hour"},      {"MWh", "MW hour"}, {"hp", "horsepower"},  {"rad", "radian"},
    {"mrad", "milliradian"}, {"%", "percent"},   {"‰", "(1/1000)"},     {"pcs", "1"},
    {"gal", "gallon"},       {"currency", "1"},  {"thou", "milliinch"}, {"US", ""},
    {"s", "second"},         {"m", "meter"},     {"g", "gram"},         {"min", "minute"},
};

static void
add_name(GString *out, const char *word)
{
    for (guint i = 0; i < G_N_ELEMENTS(gnu_names); i++)
        if (strcmp(gnu_names[i][0], word) == 0) {
            g_string_append(out, gnu_names[i][1]);
            return;
        }
    g_string_append(out, word);
}

static char *
gnu_expression(const char *unit)
{
    if (strcmp(unit, "US fl oz") == 0)
        return g_strdup("usfloz");
    g_autoptr(GString) out = g_string_new(unit[0] == '/' ? "1" : "");
    g_autoptr(GString) word = g_string_new(NULL);
    for (const char *p = unit;; p = g_utf8_next_char(p)) {
        gunichar c = g_utf8_get_char(p);
        gboolean sign = c == '%' || c == 0x00B0 || c == 0x2032 || c == 0x2033 || c == 0x2030;
        if (sign || g_unichar_isalpha(c)) {
            g_string_append_unichar(word, c);
            continue;
        }
        if (word->len)
            add_name(out, word->str);
        g_string_truncate(word, 0);
        if (c == 0)
            break;
        if (c == 0x00B2 || c == 0x00B3)
            g_string_append(out, c == 0x00B2 ? "^2" : "^3");
        else if (c == 0x00B7)
            g_string_append_c(out, ' ');
        else
            g_string_append_unichar(out, c);
    }
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static double
ask_gnu(const char *from, const char *to)
{
    const char *argv[] = {"units", "-t", "-o", "%.15g", from, to, NULL};
    g_autofree char *out = NULL;
    g_autofree char *err = NULL;
    int status = 0;
    g_autoptr(GError) error = NULL;
    g_spawn_sync(NULL, (char **)argv, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, &out, &err, &status,
                 &error);
    g_assert_no_error(error);
    g_test_message("units '%s' '%s': %s", from, to, out);
    g_assert_cmpint(status, ==, 0);
    return g_ascii_strtod(out, NULL);
}

static void
test_second_opinion(void)
{
    g_autofree char *program = g_find_program_in_path("units");
    if (!program) {
        g_test_skip("the units program is not installed");
        return;
    }
    guint count;
    const Unit *table = units_table(&count);
    for (guint i = 0; i < count; i++) {
        if (table[i].kind == QUANTITY_TEMPERATURE || table[i].kind == QUANTITY_NIYAMA)
            continue; // below, and: a half power of a unit is not known to it
        g_autofree char *from = gnu_expression(table[i].shown);
        g_autofree char *to = gnu_expression(quantity_si_unit(table[i].kind));
        check_close(units_to_si(&table[i], 1.0), ask_gnu(from, to), 3e-15, "GNU units");
    }
    const Unit *fahrenheit = units_find(QUANTITY_TEMPERATURE, "°F");
    const Unit *kelvin = units_find(QUANTITY_TEMPERATURE, "K");
    check_close(units_to_si(fahrenheit, 1300.0), ask_gnu("tempF(1300)", "tempC"), 1e-13,
                "GNU units");
    check_close(units_to_si(kelvin, 993.0), ask_gnu("993 K", "tempC"), 1e-13, "GNU units");
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/units/factors/definitions", test_definitions);
    g_test_add_func("/units/factors/table", test_table);
    g_test_add_func("/units/factors/rungs", test_rungs);
    g_test_add_func("/units/factors/second-opinion", test_second_opinion);
    return g_test_run();
}
