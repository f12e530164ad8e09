// SPDX-License-Identifier: GPL-3.0-or-later
// Showing quantities: unit and figures by size and shop, texts that read back, number and unit
// apart.
#include <string.h>

#include "check.h"
#include "units/unit-table.h"

#define LEN QUANTITY_LENGTH

typedef struct {
    QuantityKind kind;
    double si;
    const char *text;
} Shown;

static void
check_shown(const Shown *shown, gsize count, const UnitSet *units)
{
    for (gsize i = 0; i < count; i++) {
        g_autofree char *text = quantity_format(shown[i].kind, shown[i].si, units);
        g_assert_cmpstr(text, ==, shown[i].text);
    }
}

static const Shown metric[] = {
    {LEN, 0.3, "300 mm"},
    {LEN, 0.0125, "12.5 mm"},
    {LEN, 0.00025, "0.25 mm"},
    {LEN, 0.12345, "123.5 mm"},
    {LEN, 3.4e-6, "3.4 µm"},
    {LEN, 12.5, "12.5 m"},
    {LEN, 0.0, "0 mm"},
    {LEN, -0.0, "0 mm"},
    {LEN, -0.004, "\u22124 mm"},
    {QUANTITY_AREA, 0.00025, "250 mm²"},
    {QUANTITY_AREA, 0.0123456, "123 cm²"},
    {QUANTITY_AREA, 2.5, "2.50 m²"},
    {QUANTITY_VOLUME, 0.000128, "128 cm³"},
    {QUANTITY_VOLUME, 0.0000128, "12.8 cm³"},
    {QUANTITY_VOLUME, 0.0045678, "4568 cm³"},
    {QUANTITY_VOLUME, 0.0128, "12.8 l"},
    {QUANTITY_VOLUME, 5e-9, "5 mm³"},
    {QUANTITY_MASS, 1.3, "1.30 kg"},
    {QUANTITY_MASS, 0.128, "128 g"},
    {QUANTITY_MASS, 0.9994, "999 g"},
    {QUANTITY_MASS, 0.9996, "1.00 kg"},
    {QUANTITY_MASS, 9.996, "10.0 kg"},
    {QUANTITY_MASS, 1234.4, "1234 kg"},
    {QUANTITY_MASS, 2e-5, "20 mg"},
    {QUANTITY_DENSITY, 2680.0, "2680 kg/m³"},
    {QUANTITY_TEMPERATURE, 719.85, "720 °C"},
    {QUANTITY_TEMPERATURE, 20.5, "20.5 °C"},
    {QUANTITY_TEMPERATURE, -10.0, "\u221210 °C"},
    {QUANTITY_TEMPERATURE, -0.01, "0 °C"},
    {QUANTITY_TEMPERATURE_DIFFERENCE, 60.0, "60 K"},
    {QUANTITY_ANGLE, 0.034906585039886591, "2°"},
    {QUANTITY_ANGLE, 0.02617993877991494, "1.5°"},
    {QUANTITY_TIME, 0.35, "0.35 s"},
    {QUANTITY_TIME, 12.34, "12.3 s"},
    {QUANTITY_TIME, 59.97, "1 min"},
    {QUANTITY_TIME, 150.0, "2 min 30 s"},
    {QUANTITY_TIME, 240.0, "4 min"},
    {QUANTITY_TIME, 599.6, "10 min"},
    {QUANTITY_TIME, 720.0, "12 min"},
    {QUANTITY_TIME, 3575.0, "1 h"},
    {QUANTITY_TIME, 5700.0, "1 h 35 min"},
    {QUANTITY_TIME, 28800.0, "8 h"},
    {QUANTITY_TIME, 360000.0, "100 h"},
    {QUANTITY_TIME, -5700.0, "\u22121 h 35 min"},
    {QUANTITY_TIME, 0.0, "0 min"},
    {QUANTITY_VELOCITY, 0.5, "0.500 m/s"},
    {QUANTITY_VELOCITY, 0.003, "3 mm/s"},
    {QUANTITY_FLOW, 0.00012, "120 cm³/s"},
    {QUANTITY_FORCE, 29.41995, "29.4 N"},
    {QUANTITY_FORCE, 2500.0, "2.50 kN"},
    {QUANTITY_ENERGY, 1.62e7, "4.50 kWh"},
    {QUANTITY_ENERGY, 36000.0, "36.0 kJ"},
    {QUANTITY_POWER, 800.0, "800 W"},
    {QUANTITY_POWER, 3000.0, "3.00 kW"},
    {QUANTITY_RATIO, 0.013, "1.3 %"},
    {QUANTITY_RATIO, 0.15, "15 %"},
    {QUANTITY_RATIO, 0.020833333, "2.08 %"},
    {QUANTITY_RATIO, 1.2, "120 %"},
    {QUANTITY_HEAT_CONTENT, 389000.0, "389 kJ/kg"},
    {QUANTITY_SPECIFIC_HEAT, 963.0, "963 J/(kg·K)"},
    {QUANTITY_CONDUCTIVITY, 0.7, "0.7 W/(m·K)"},
    {QUANTITY_CHVORINOV, 1.32e6, "2.20 min/cm²"},
    {QUANTITY_NIYAMA, 800.0, "0.800 √(K·s)/mm"},
    {QUANTITY_RATE, 0.05, "0.05 /s"},
    {QUANTITY_HEATING_RATE, 0.15, "9 K/min"},
    {QUANTITY_MONEY, 35.0, "35.00 EUR"},
    {QUANTITY_MONEY, 1234.567, "1234.57 EUR"},
    {QUANTITY_MONEY_PER_TIME, 0.0075, "27.00 EUR/h"},
    {QUANTITY_MONEY_PER_MASS, 2.5, "2.50 EUR/kg"},
    {QUANTITY_MONEY_PER_ENERGY, 7.9166666666666667e-8, "0.285 EUR/kWh"},
    {QUANTITY_MONEY_PER_VOLUME, 2000.0, "2.00 EUR/l"},
    {QUANTITY_REMOVAL_RATE, 1e-7, "6 cm³/min"},
    {QUANTITY_COUNT, 12.0, "12"},
    {QUANTITY_COUNT, 0.0, "0"},
    {QUANTITY_NUMBER, 2.385, "2.385"},
    {QUANTITY_NUMBER, -1.5, "\u22121.5"},
    {QUANTITY_NUMBER, 1.2345e12, "1.23e12"},
    {QUANTITY_NUMBER, 1.25e-9, "1.25e-9"},
};

static void
test_metric(void)
{
    UnitSet units = unit_set_default();
    strcpy(units.currency, "EUR");
    check_shown(metric, G_N_ELEMENTS(metric), &units);
}

static void
test_imperial(void)
{
    static const Shown imperial[] = {
        {LEN, 0.01905, "0.750 in"},
        {LEN, 0.3, "11.811 in"},
        {LEN, 0.0, "0.000 in"},
        {QUANTITY_AREA, 6.4516e-4, "1.00 in²"},
        {QUANTITY_VOLUME, 1.6387064e-4, "10.0 in³"},
        {QUANTITY_MASS, 0.1, "3.53 oz"},
        {QUANTITY_MASS, 1.3, "2.87 lb"},
        {QUANTITY_MASS, 0.453, "0.999 lb"},
        {QUANTITY_DENSITY, 2680.0, "0.0968 lb/in³"},
        {QUANTITY_TEMPERATURE, 704.4444444, "1300 °F"},
        {QUANTITY_TEMPERATURE, -10.0, "14 °F"},
        {QUANTITY_TEMPERATURE, 0.0, "32 °F"},
        {QUANTITY_TEMPERATURE_DIFFERENCE, 10.0, "18 °F"},
        {QUANTITY_HEATING_RATE, 0.15, "16.2 °F/min"},
        {QUANTITY_FORCE, 44.482216, "10.0 lbf"},
        {QUANTITY_VELOCITY, 0.5, "19.7 in/s"},
        {QUANTITY_MONEY_PER_MASS, 2.2046226218487757, "1.00 $/lb"},
        {QUANTITY_CHVORINOV, 93000.186, "1.00 min/in²"},
    };
    UnitSet units = {.inches = TRUE, .pounds = TRUE, .fahrenheit = TRUE, .currency = "$"};
    check_shown(imperial, G_N_ELEMENTS(imperial), &units);
}

static void
test_comma_and_no_currency(void)
{
    static const Shown shown[] = {
        {LEN, 0.0125, "12,5 mm"},
        {QUANTITY_MASS, 1.3, "1,30 kg"},
        {QUANTITY_MONEY, 35.5, "35,50"},
        {QUANTITY_MONEY_PER_TIME, 0.0075, "27,00 /h"},
        {QUANTITY_NUMBER, 1.2345e12, "1,23e12"},
    };
    UnitSet units = {.decimal_comma = TRUE};
    check_shown(shown, G_N_ELEMENTS(shown), &units);
}

static void
test_not_finite(void)
{
    static const Shown shown[] = {
        {LEN, NAN, "unknown"},
        {QUANTITY_TIME, INFINITY, "∞ h"},
        {QUANTITY_MASS, INFINITY, "∞ kg"},
        {QUANTITY_MASS, -INFINITY, "\u2212∞ kg"},
        {QUANTITY_TEXT, 1.0, ""},
        {QUANTITY_DATE, NAN, ""},
    };
    UnitSet units = unit_set_default();
    check_shown(shown, G_N_ELEMENTS(shown), &units);
    g_autofree char *none = quantity_format_exact(LEN, NAN, &units);
    g_assert_cmpstr(none, ==, "");
}

static void
test_exact(void)
{
    static const Shown exact[] = {
        {LEN, 0.3, "300 mm"},
        {LEN, 0.01905, "19.05 mm"},
        {LEN, 0.001234, "1.234 mm"},
        {QUANTITY_MASS, 0.1, "100 g"},
        {QUANTITY_MASS, 2.0, "2 kg"},
        {QUANTITY_TIME, 28800.0, "8 h"},
        {QUANTITY_TIME, 5700.0, "95 min"},
        {QUANTITY_TIME, 1200.0, "20 min"},
        {QUANTITY_POWER, 3000.0, "3 kW"},
        {QUANTITY_RATIO, 0.35, "35 %"},
        {QUANTITY_TEMPERATURE, 720.0, "720 °C"},
        {QUANTITY_ANGLE, 0.034906585039886591, "2°"},
        {QUANTITY_MONEY, 35.0, "35"},
        {QUANTITY_MONEY_PER_TIME, 0.0075, "27 /h"},
        {QUANTITY_COUNT, 300.0, "300"},
        {QUANTITY_NUMBER, -1.5, "-1.5"},
    };
    UnitSet units = unit_set_default();
    strcpy(units.currency, "EUR");
    for (guint i = 0; i < G_N_ELEMENTS(exact); i++) {
        g_autofree char *text = quantity_format_exact(exact[i].kind, exact[i].si, &units);
        g_assert_cmpstr(text, ==, exact[i].text);
    }
    // Three digits behind a comma would be refused on reading.
    units.decimal_comma = TRUE;
    g_autofree char *text = quantity_format_exact(LEN, 0.001234, &units);
    g_assert_cmpstr(text, ==, "1,2340 mm");
}

static void
test_parts(void)
{
    UnitSet units = unit_set_default();
    strcpy(units.currency, "EUR");
    for (guint i = 0; i < G_N_ELEMENTS(metric); i++) {
        g_autofree char *number = NULL;
        g_autofree char *unit = NULL;
        quantity_format_parts(metric[i].kind, metric[i].si, &units, &number, &unit);
        const char *between = *unit == '\0' || strcmp(unit, "°") == 0 ? "" : " ";
        g_autofree char *joined = g_strconcat(number, between, unit, NULL);
        g_assert_cmpstr(joined, ==, metric[i].text);
    }
}

static void
test_names(void)
{
    UnitSet metres = unit_set_default();
    UnitSet inches = {.inches = TRUE, .pounds = TRUE, .fahrenheit = TRUE, .currency = "USD"};
    g_assert_cmpstr(quantity_si_unit(QUANTITY_VOLUME), ==, "m3");
    g_assert_cmpstr(quantity_si_unit(QUANTITY_TEMPERATURE), ==, "degC");
    g_assert_cmpstr(quantity_si_unit(QUANTITY_RATIO), ==, "1");
    g_assert_cmpstr(quantity_shop_unit(LEN, &metres), ==, "mm");
    g_assert_cmpstr(quantity_shop_unit(LEN, &inches), ==, "in");
    g_assert_cmpstr(quantity_shop_unit(QUANTITY_MASS, &metres), ==, "kg");
    g_assert_cmpstr(quantity_shop_unit(QUANTITY_TEMPERATURE, &inches), ==, "°F");
    g_assert_cmpstr(quantity_shop_unit(QUANTITY_TIME, &metres), ==, "min");
    g_assert_cmpstr(quantity_shop_unit(QUANTITY_MONEY_PER_MASS, &inches), ==, "USD/lb");
    g_assert_cmpstr(quantity_shop_unit(QUANTITY_MONEY, &metres), ==, "");
    g_assert_cmpstr(quantity_shop_unit(QUANTITY_TEXT, &metres), ==, "");
    for (int kind = 0; kind < QUANTITY_KINDS; kind++) {
        g_assert_nonnull(quantity_si_unit(kind));
        g_assert_nonnull(units_kind(kind)->name);
        double si = NAN;
        if (kind < QUANTITY_TEXT) // the example in messages is good advice
            g_assert_true(quantity_parse(kind, units_kind(kind)->example, &metres, &si, NULL));
    }
}

int
main(int argc, char **argv)
{
    g_test_init(&argc, &argv, NULL);
    g_test_add_func("/units/format/metric", test_metric);
    g_test_add_func("/units/format/imperial", test_imperial);
    g_test_add_func("/units/format/comma-and-no-currency", test_comma_and_no_currency);
    g_test_add_func("/units/format/not-finite", test_not_finite);
    g_test_add_func("/units/format/exact", test_exact);
    g_test_add_func("/units/format/parts", test_parts);
    g_test_add_func("/units/format/names", test_names);
    return g_test_run();
}
