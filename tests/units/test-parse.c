// SPDX-License-Identifier: GPL-3.0-or-later
// Reading quantities: the spellings people use, and every refusal with its place.
#include <string.h>

#include "check.h"
#include "units/quantity.h"

#define NARROW "\u202f"
#define NBSP "\u00a0"
#define THIN "\u2009"
#define LEN QUANTITY_LENGTH

static double
read_or_fail(QuantityKind kind, const char *text, const UnitSet *units)
{
    g_autoptr(GError) error = NULL;
    double si = NAN;
    if (!quantity_parse(kind, text, units, &si, &error))
        g_test_message("\"%s\"", text);
    g_assert_no_error(error);
    return si;
}

// Expected values are worked out by hand from the definitions of inch, pound and troy ounce in NIST
// SP 811, appendix B, and decimal prefixes.
static const struct {
    QuantityKind kind;
    const char *text;
    double si;
} readings[] = {
    {LEN, "12.5 mm", 0.0125},
    {LEN, "12.5mm", 0.0125},
    {LEN, "  12,5   mm ", 0.0125},
    {LEN, "300", 0.3},
    {LEN, ".5 m", 0.5},
    {LEN, "1.2 cm", 0.012},
    {LEN, "250 µm", 0.00025},
    {LEN, "250 \u03bcm", 0.00025},
    {LEN, "1e3 mm", 1.0},
    {LEN, "2.5E-1 m", 0.25},
    {LEN, "25 MM", 0.025},
    {LEN, "3/4 in", 0.01905},
    {LEN, "3\u20444 in", 0.01905},
    {LEN, "1 3/4 in", 0.04445},
    {LEN, "1-3/4 in", 0.04445},
    {LEN, "1-3/4\"", 0.04445},
    {LEN, "1\u00be\u2033", 0.04445},
    {LEN, "\u00bd in", 0.0127},
    {LEN, "1" NBSP "3/4 in", 0.04445},
    {LEN, "2 ft 3 1/2 in", 0.6985},
    {LEN, "2' 3-1/2\"", 0.6985},
    {LEN, "2'-3 1/2\"", 0.6985},
    {LEN, "2\u2019 3 1/2\u201d", 0.6985},
    {LEN, "2ft3.5in", 0.6985},
    {LEN, "2 ft 3", 0.6858},
    {LEN, "-2 ft 3 in", -0.6858},
    {LEN, "\u22124 mm", -0.004},
    {LEN, "+4 mm", 0.004},
    {LEN, "3''", 0.0762},
    {LEN, "3 mm + 1/8 in", 0.006175},
    {LEN, "1 m 20 cm", 1.2},
    {LEN, "12" NARROW "500 mm", 12.5},
    {LEN, "12" NBSP "500,25 mm", 12.50025},
    {LEN, "12" THIN "500.125 mm", 12.500125},
    {LEN, "1,234.5 mm", 1.2345},
    {LEN, "1.234,5 mm", 1.2345},
    {LEN, "1,234,567 mm", 1234.567},
    {LEN, "1.234.567 mm", 1234.567},
    {LEN, "1.234 mm", 0.001234},
    {LEN, "0,125 mm", 0.000125},
    {LEN, "1,2340 mm", 0.001234},
    {LEN, "1234,567 mm", 1.234567},
    {LEN, "5 thou", 0.000127},
    {QUANTITY_AREA, "250 mm²", 0.00025},
    {QUANTITY_AREA, "250 mm^2", 0.00025},
    {QUANTITY_AREA, "3 sq in", 0.00193548},
    {QUANTITY_AREA, "12", 1.2e-5},
    {QUANTITY_VOLUME, "128 cm3", 0.000128},
    {QUANTITY_VOLUME, "128 cm³", 0.000128},
    {QUANTITY_VOLUME, "128 cc", 0.000128},
    {QUANTITY_VOLUME, "128 ml", 0.000128},
    {QUANTITY_VOLUME, "2.5 L", 0.0025},
    {QUANTITY_VOLUME, "2.5 l", 0.0025},
    {QUANTITY_VOLUME, "3 cu in", 4.9161192e-5},
    {QUANTITY_VOLUME, "3 in³", 4.9161192e-5},
    {QUANTITY_MASS, "0,5 kg", 0.5},
    {QUANTITY_MASS, "500g", 0.5},
    {QUANTITY_MASS, "350 mg", 0.00035},
    {QUANTITY_MASS, "2 lb 3 oz", 0.992233309375},
    {QUANTITY_MASS, "2 lb 3", 0.992233309375},
    {QUANTITY_MASS, "2 lb + 3 oz", 0.992233309375},
    {QUANTITY_MASS, "0.5 kg + 300 g", 0.8},
    {QUANTITY_MASS, "5 ozt", 0.155517384},
    {QUANTITY_MASS, "5 troy oz", 0.155517384},
    {QUANTITY_MASS, "2.385", 2.385},
    {QUANTITY_DENSITY, "2.68 g/cm³", 2680.0},
    {QUANTITY_DENSITY, "2680 kg / m^3", 2680.0},
    {QUANTITY_TEMPERATURE, "720 °C", 720.0},
    {QUANTITY_TEMPERATURE, "720C", 720.0},
    {QUANTITY_TEMPERATURE, "720 degC", 720.0},
    {QUANTITY_TEMPERATURE, "720 \u2103", 720.0},
    {QUANTITY_TEMPERATURE, "1300 F", 704.4444444444444},
    {QUANTITY_TEMPERATURE, "1300 °F", 704.4444444444444},
    {QUANTITY_TEMPERATURE, "-40 °F", -40.0},
    {QUANTITY_TEMPERATURE, "993 K", 719.85},
    {QUANTITY_TEMPERATURE, "-10", -10.0},
    {QUANTITY_TEMPERATURE_DIFFERENCE, "18 °F", 10.0},
    {QUANTITY_TEMPERATURE_DIFFERENCE, "60 °C", 60.0},
    {QUANTITY_TEMPERATURE_DIFFERENCE, "60 K", 60.0},
    {QUANTITY_ANGLE, "1.5 deg", 0.02617993877991494},
    {QUANTITY_ANGLE, "1.5°", 0.02617993877991494},
    {QUANTITY_ANGLE, "1° 30'", 0.02617993877991494},
    {QUANTITY_ANGLE, "1° 30′ 0″", 0.02617993877991494},
    {QUANTITY_ANGLE, "0.3 rad", 0.3},
    {QUANTITY_TIME, "1 h 20 min", 4800.0},
    {QUANTITY_TIME, "1h20min", 4800.0},
    {QUANTITY_TIME, "1h20", 4800.0},
    {QUANTITY_TIME, "1:20", 4800.0},
    {QUANTITY_TIME, "1:20:30", 4830.0},
    {QUANTITY_TIME, "-1:20", -4800.0},
    {QUANTITY_TIME, "2 d", 172800.0},
    {QUANTITY_TIME, "1 1/2 h", 5400.0},
    {QUANTITY_TIME, "2 min 30 s", 150.0},
    {QUANTITY_TIME, "95", 5700.0},
    {QUANTITY_VELOCITY, "0.5 m/s", 0.5},
    {QUANTITY_VELOCITY, "10 in/s", 0.254},
    {QUANTITY_FLOW, "120 cm³/s", 0.00012},
    {QUANTITY_FORCE, "2.5 kN", 2500.0},
    {QUANTITY_FORCE, "3 kgf", 29.41995},
    {QUANTITY_ENERGY, "4.5 kWh", 1.62e7},
    {QUANTITY_ENERGY, "2 MJ", 2e6},
    {QUANTITY_POWER, "3 kW", 3000.0},
    {QUANTITY_POWER, "800", 800.0},
    {QUANTITY_RATIO, "1.3 %", 0.013},
    {QUANTITY_RATIO, "1,3%", 0.013},
    {QUANTITY_RATIO, "0.013", 0.013},
    {QUANTITY_RATIO, "120 %", 1.2},
    {QUANTITY_RATIO, "1/4 in/ft", 0.020833333333333332},
    {QUANTITY_RATIO, "13 mm/m", 0.013},
    {QUANTITY_RATIO, "-0.5 %", -0.005},
    {QUANTITY_HEAT_CONTENT, "389 kJ/kg", 389000.0},
    {QUANTITY_SPECIFIC_HEAT, "963 J/(kg K)", 963.0},
    {QUANTITY_SPECIFIC_HEAT, "963 J/kg·K", 963.0},
    {QUANTITY_SPECIFIC_HEAT, "963 J/(kg·K)", 963.0},
    {QUANTITY_SPECIFIC_HEAT, "0.963 J/gK", 963.0},
    {QUANTITY_CONDUCTIVITY, "0.7 W/(m K)", 0.7},
    {QUANTITY_CHVORINOV, "2.2 min/cm2", 1.32e6},
    {QUANTITY_CHVORINOV, "1.3 s/mm^2", 1.3e6},
    {QUANTITY_CHVORINOV, "1.3e6 s/m²", 1.3e6},
    {QUANTITY_NIYAMA, "0.8 (K s)^0.5/mm", 800.0},
    {QUANTITY_NIYAMA, "0.8", 800.0},
    {QUANTITY_RATE, "3 /min", 0.05},
    {QUANTITY_RATE, "3 1/s", 3.0},
    {QUANTITY_HEATING_RATE, "9 K/min", 0.15},
    {QUANTITY_HEATING_RATE, "540 °C/h", 0.15},
    {QUANTITY_HEATING_RATE, "16.2 °F/min", 0.15},
    {QUANTITY_MONEY, "35", 35.0},
    {QUANTITY_MONEY, "35 EUR", 35.0},
    {QUANTITY_MONEY, "€ 35.50", 35.5},
    {QUANTITY_MONEY, "35 eur", 35.0},
    {QUANTITY_MONEY_PER_TIME, "27 /h", 0.0075},
    {QUANTITY_MONEY_PER_TIME, "27/h", 0.0075},
    {QUANTITY_MONEY_PER_TIME, "27 €/h", 0.0075},
    {QUANTITY_MONEY_PER_TIME, "27 EUR per hour", 0.0075},
    {QUANTITY_MONEY_PER_TIME, "27", 0.0075},
    {QUANTITY_MONEY_PER_MASS, "2.5 /kg", 2.5},
    {QUANTITY_MONEY_PER_MASS, "1 /lb", 2.2046226218487757},
    {QUANTITY_MONEY_PER_ENERGY, "0.36 /kWh", 1e-7},
    {QUANTITY_MONEY_PER_VOLUME, "2 /l", 2000.0},
    {QUANTITY_REMOVAL_RATE, "6 cm3/min", 1e-7},
    {QUANTITY_REMOVAL_RATE, "100 mm³/s", 1e-7},
    {QUANTITY_COUNT, "12", 12.0},
    {QUANTITY_COUNT, "12 pcs", 12.0},
    {QUANTITY_NUMBER, "-1.5", -1.5},
    {QUANTITY_NUMBER, "3/8", 0.375},
};

static void
test_readings(void)
{
    UnitSet units = unit_set_default();
    strcpy(units.currency, "EUR");
    for (guint i = 0; i < G_N_ELEMENTS(readings); i++) {
        g_test_message("%s", readings[i].text);
        double si = read_or_fail(readings[i].kind, readings[i].text, &units);
        check_close(si, readings[i].si, 3e-16, readings[i].text);
    }
}

// What a bare number means follows the shop; a written unit does not.
static void
test_shop_decides_bare(void)
{
    UnitSet units = {.inches = TRUE, .pounds = TRUE, .fahrenheit = TRUE};
    check_close(read_or_fail(LEN, "3/4", &units), 0.01905, 1e-15, "inch 25.4 mm");
    check_close(read_or_fail(LEN, "3 mm", &units), 0.003, 1e-15, "written");
    check_close(read_or_fail(QUANTITY_MASS, "2", &units), 0.90718474, 1e-15, "lb 0.45359237 kg");
    check_close(read_or_fail(QUANTITY_TEMPERATURE, "212", &units), 100.0, 1e-15, "boiling water");
    check_close(read_or_fail(QUANTITY_TEMPERATURE_DIFFERENCE, "9", &units), 5.0, 1e-15, "9/5");
    check_close(read_or_fail(QUANTITY_VOLUME, "2", &units), 3.2774128e-5, 1e-15, "in3");
    check_close(read_or_fail(QUANTITY_FORCE, "1", &units), 4.4482216152605, 1e-15, "lbf");
    check_close(read_or_fail(QUANTITY_MONEY_PER_MASS, "1", &units), 2.2046226218487757, 1e-15,
                "1 / 0.45359237");
}

// How numbers are shown never decides how they are read.
static void
test_comma_setting_is_not_read(void)
{
    UnitSet units = unit_set_default();
    units.decimal_comma = TRUE;
    for (guint i = 0; i < G_N_ELEMENTS(readings); i++) {
        if (readings[i].kind == QUANTITY_MONEY)
            continue;
        UnitSet plain = unit_set_default();
        g_assert_cmpfloat(read_or_fail(readings[i].kind, readings[i].text, &units), ==,
                          read_or_fail(readings[i].kind, readings[i].text, &plain));
    }
}

static const struct {
    QuantityKind kind;
    const char *text;
    guint at;
    const char *words;
} nonsense[] = {
    {LEN, "", 1, "nothing is written"},
    {LEN, "   ", 4, "nothing is written"},
    {LEN, "mm", 1, "\"mm\" stands where a number should"},
    {LEN, "-", 2, "a number is missing"},
    {LEN, "--4 mm", 2, "stands where a number should"},
    {LEN, "nan", 1, "\"nan\" stands where"},
    {LEN, "inf mm", 1, "\"inf\" stands where"},
    {LEN, "0x10 mm", 2, "\"x10\" is not a unit for a length"},
    {LEN, "12 furlongs", 4, "\"furlongs\" is not a unit"},
    {LEN, "12 \u00b5\u00b5", 4, "\"\u00b5\u00b5\" is not a unit"},
    {LEN, "5 kg", 3, "\"kg\" makes it a mass, not a length"},
    {LEN, "5 m2", 3, "\"m2\" makes it an area"},
    {LEN, "5 m²", 3, "\"m²\" makes it an area"},
    {LEN, "5 m/s", 3, "makes it a velocity"},
    {LEN, "5 mm)", 3, "\"mm)\" is not a unit"},
    {LEN, "1e999 mm", 1, "too big"},
    {LEN, "1e-999 mm", 1, "too small"},
    {LEN, "1,234 mm", 2, "could mark decimals or part thousands"},
    {LEN, "12,345", 3, "could mark decimals or part thousands"},
    {LEN, "1.2.3 mm", 4, "a second mark"},
    {LEN, "1,2,3 mm", 4, "a second mark"},
    {LEN, "1,23,456 mm", 5, "a second mark"},
    {LEN, "1.5,5 mm", 4, "a second mark"},
    {LEN, "12. mm", 3, "without a digit after it"},
    {LEN, ", mm", 1, "without a digit after it"},
    {LEN, "12 500 mm", 4, "a second number without a unit"},
    {LEN, "12" NBSP "50 mm", 4, "a second number without a unit"},
    {LEN, "1234" NBSP "500 mm", 1, "groups of three"},
    {LEN, "3/0 in", 3, "over 0"},
    {LEN, "1 3/0 in", 5, "over 0"},
    {LEN, "1 5/4 in", 3, "less than 1"},
    {LEN, "1/2/3 in", 4, "\"/3\" is not a unit"},
    {LEN, "1.5 1/2 in", 5, "a second number"},
    {LEN, "2-3 mm", 2, "a range"},
    {LEN, "2 ft 15 in", 6, "as much as 1 ft or more"},
    {LEN, "3 in 2 ft", 6, "ft after in"},
    {LEN, "3 mm 4 mm", 6, "mm after mm"},
    {LEN, "3 mm 4", 6, "lacks a unit"},
    {LEN, "3 mm +", 7, "a number is missing"},
    {LEN, "3 mm, 4 mm", 5, "without a digit after it"},
    {LEN, "5 mm\n", 5, "stands where a number should"},
    {LEN, "½½ in", 2, "a second number"},
    {QUANTITY_MASS, "5 mm", 3, "makes it a length, not a mass"},
    {QUANTITY_TEMPERATURE, "720 °C 3", 8, "\"3\" is left over"},
    {QUANTITY_TEMPERATURE, "20 mm", 4, "makes it a length"},
    {QUANTITY_POWER, "5 mW", 3, "\"mW\" is not a unit"},
    {QUANTITY_SPECIFIC_HEAT, "963 J/(kg K", 5, "is not a unit"},
    {QUANTITY_TIME, "1:75", 3, "from 00 to 59"},
    {QUANTITY_TIME, "1:5", 3, "from 00 to 59"},
    {QUANTITY_TIME, "1:", 2, "from 00 to 59"},
    {QUANTITY_TIME, "1:20:30:40", 8, "is left over"},
    {QUANTITY_TIME, "1:20 min", 6, "is left over"},
    {QUANTITY_TIME, "1 h 60 min", 5, "as much as 1 h or more"},
    {QUANTITY_RATIO, "12", 3, "unclear whether this is a percentage"},
    {QUANTITY_RATIO, "1", 2, "unclear whether this is a percentage"},
    {QUANTITY_RATIO, "1 % 2 %", 5, "is left over"},
    {QUANTITY_COUNT, "4.5", 1, "whole number"},
    {QUANTITY_COUNT, "-1", 1, "whole number"},
    {QUANTITY_COUNT, "1e16", 1, "too big"},
    {QUANTITY_COUNT, "3 mm", 3, "makes it a length, not a whole number"},
    {QUANTITY_MONEY, "35 USD", 4, "reckons in EUR"},
    {QUANTITY_MONEY, "$35", 1, "reckons in EUR"},
    {QUANTITY_MONEY_PER_TIME, "25 /kg", 4, "makes it a price for mass"},
    {QUANTITY_NUMBER, "1.5 mm", 5, "makes it a length"},
    {QUANTITY_HEATING_RATE, "8 K", 3, "makes it a temperature"},
};

static void
test_nonsense(void)
{
    UnitSet units = unit_set_default();
    strcpy(units.currency, "EUR");
    for (guint i = 0; i < G_N_ELEMENTS(nonsense); i++) {
        GError *error = NULL;
        double si = 2.385;
        g_test_message("\"%s\"", nonsense[i].text);
        g_assert_false(quantity_parse(nonsense[i].kind, nonsense[i].text, &units, &si, &error));
        g_assert_cmpfloat(si, ==, 2.385);
        g_autofree char *place = g_strdup_printf("at character %u: ", nonsense[i].at);
        g_autofree char *head = g_strndup(error->message, strlen(place));
        g_assert_cmpstr(head, ==, place);
        g_assert_nonnull(strstr(error->message, "; "));
        check_error(error, BASE_ERROR_VALUE, nonsense[i].words);
    }
}

static void
test_unreadable(void)
{
    UnitSet units = unit_set_default();
    double si = 2.385;
    GError *error = NULL;
    g_assert_false(quantity_parse(LEN, "12 \xff\xfe", &units, &si, &error));
    check_error(error, BASE_ERROR_VALUE, "at character 4: this is not UTF-8");
    g_assert_false(quantity_parse(LEN, "12 \xe2\x80", &units, &si, &error));
    check_error(error, BASE_ERROR_VALUE, "at character 4: this is not UTF-8");
    g_autofree char *digits = g_strnfill(100000, '7');
    g_assert_false(quantity_parse(LEN, digits, &units, &si, &error));
    check_error(error, BASE_ERROR_VALUE, "at character 201: the text is too long");
    g_autoptr(GString) halves = g_string_new(NULL);
    for (int i = 0; i < 200; i++)
        g_string_append(halves, "\u00bd");
    g_assert_false(quantity_parse(LEN, halves->str, &units, &si, &error));
    check_error(error, BASE_ERROR_VALUE, "at character 2: ");
    g_assert_false(quantity_parse(QUANTITY_TEXT, "12", &units, &si, &error));
    check_error(error, BASE_ERROR_VALUE, "not a number");
    g_assert_false(quantity_parse(QUANTITY_DATE, "2031-05-17", &units, &si, &error));
    check_error(error, BASE_ERROR_VALUE, "not a number");
    g_assert_cmpfloat(si, ==, 2.385);
}

// Without a currency of its own the shop takes any.
static void
test_any_currency(void)
{
    UnitSet units = unit_set_default();
    check_close(read_or_fail(QUANTITY_MONEY, "35 USD", &units), 35.0, 0, "as written");
    check_close(read_or_fail(QUANTITY_MONEY, "£35", &units), 35.0, 0, "as written");
    strcpy(units.currency, "CAD");
    check_close(read_or_fail(QUANTITY_MONEY, "$35", &units), 35.0, 0, "as written");
    strcpy(units.currency, "kr");
    check_close(read_or_fail(QUANTITY_MONEY_PER_TIME, "35 kr/h", &units), 35.0 / 3600.0, 1e-15,
                "3600 s in an hour");
}

// Cut at every byte and with every byte changed, each reading text gives a number or one line.
static void
test_damaged(void)
{
    UnitSet units = unit_set_default();
    guint32 state = 12345;
    for (guint i = 0; i < G_N_ELEMENTS(readings); i++) {
        gsize length = strlen(readings[i].text);
        for (gsize cut = 0; cut < 4 * length; cut++) {
            g_autofree char *text = g_strdup(readings[i].text);
            state = state * 1664525u + 1013904223u;
            if (cut < length)
                text[cut] = '\0';
            else
                text[cut % length] = (char)(1 + (state >> 16) % 255);
            g_autoptr(GError) error = NULL;
            double si = NAN;
            if (quantity_parse(readings[i].kind, text, &units, &si, &error)) {
                g_assert_true(isfinite(si));
            } else {
                g_assert_true(isnan(si));
                g_assert_null(strchr(error->message, '\n'));
                g_assert_true(g_utf8_validate(error->message, -1, NULL));
            }
        }
    }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/units/parse/readings", test_readings);
    g_test_add_func("/units/parse/shop-decides-bare", test_shop_decides_bare);
    g_test_add_func("/units/parse/comma-setting-is-not-read", test_comma_setting_is_not_read);
    g_test_add_func("/units/parse/nonsense", test_nonsense);
    g_test_add_func("/units/parse/unreadable", test_unreadable);
    g_test_add_func("/units/parse/any-currency", test_any_currency);
    g_test_add_func("/units/parse/damaged", test_damaged);
    return g_test_run();
}
