// SPDX-License-Identifier: GPL-3.0-or-later
// Kinds of quantity, the units a shop writes them in, and the way between text and SI.
// All values are SI: m, m2, m3, kg, kg/m3, degrees Celsius for a temperature (the one exception:
// the trade and every table here speak Celsius; a difference is in kelvin), rad, s, m/s, N, J, W.
// Money is in the book's own currency, as a plain number.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum {
    QUANTITY_NUMBER,                 // any real number
    QUANTITY_COUNT,                  // a whole number, 0 or more
    QUANTITY_RATIO,                  // 0.013; written and shown as 1.3 %
    QUANTITY_LENGTH,                 // m
    QUANTITY_AREA,                   // m2
    QUANTITY_VOLUME,                 // m3
    QUANTITY_MASS,                   // kg
    QUANTITY_DENSITY,                // kg/m3
    QUANTITY_TEMPERATURE,            // deg C
    QUANTITY_TEMPERATURE_DIFFERENCE, // K
    QUANTITY_ANGLE,                  // rad
    QUANTITY_TIME,                   // s
    QUANTITY_VELOCITY,               // m/s
    QUANTITY_FLOW,                   // m3/s
    QUANTITY_FORCE,                  // N
    QUANTITY_ENERGY,                 // J
    QUANTITY_POWER,                  // W
    QUANTITY_HEAT_CONTENT,           // J/kg
    QUANTITY_SPECIFIC_HEAT,          // J/(kg K)
    QUANTITY_CONDUCTIVITY,           // W/(m K)
    QUANTITY_CHVORINOV,              // s/m2
    QUANTITY_NIYAMA,                 // K^0.5 s^0.5 / m
    QUANTITY_RATE,                   // 1/s; heating rate etc. uses K/s: see QUANTITY_HEATING_RATE
    QUANTITY_HEATING_RATE,           // K/s
    QUANTITY_MONEY,                  // currency
    QUANTITY_MONEY_PER_TIME,         // currency/s, written per hour
    QUANTITY_MONEY_PER_MASS,         // currency/kg
    QUANTITY_MONEY_PER_ENERGY,       // currency/J, written per kWh
    QUANTITY_MONEY_PER_VOLUME,       // currency/m3
    QUANTITY_REMOVAL_RATE,           // m3/s, written cm3/min or in3/min
    QUANTITY_TEXT,                   // not a number: a name, a word
    QUANTITY_DATE,                   // text, ISO 8601 calendar date
    QUANTITY_KINDS
} QuantityKind;

// The units a shop reads and writes. A plain value type.
typedef struct {
    gboolean inches;        // in, in2, in3 instead of mm, mm2 (cm2), cm3
    gboolean pounds;        // lb and oz instead of kg and g
    gboolean fahrenheit;    // deg F instead of deg C
    char currency[8];       // "EUR": shown after the number
    gboolean decimal_comma; // how numbers are *shown*; both comma and point are read
} UnitSet;

// mm, g/kg, deg C, no currency, decimal point.
UnitSet unit_set_default(void);

// Reads "12.5 mm", "3/4 in", "1 3/4 in", "2 ft 3 1/2 in", "0,5 kg", "2 lb 3 oz", "5 ozt", "720 C",
// "1300 F", "993 K", "1.5 deg", "1 h 20 min", "1.3 %" into SI. A bare number takes the shop's unit
// for that kind (length mm or in, mass kg or lb, temperature C or F, angle deg, time min,
// volume cm3 or in3, power W, ...: quantity_shop_unit tells). A text means the same whatever
// decimal_comma says: "0,5" and "0.5" are one half, "1,234" is refused since it could be thousands,
// and so is a bare share of 1 or more, which could be meant in percent. On failure returns FALSE,
// *si is untouched, and the error (BASE_ERROR_VALUE) names the place in the text ("at character 4:
// ...") and what would do.
gboolean quantity_parse(QuantityKind kind, const char *text, const UnitSet *units, double *si,
                        GError **error);

// Text for reading: value rounded to sensible figures with the shop's unit ("128 cm³", "1.30 kg",
// "12 min", "1 h 35 min"). Free with g_free.
char *quantity_format(QuantityKind kind, double si, const UnitSet *units);

// Text that reads back to the same double (within 1 ulp), in the shop's unit; for prefilling. Money
// comes without its currency. "" for what is not finite.
char *quantity_format_exact(QuantityKind kind, double si, const UnitSet *units);

// The number and the unit of quantity_format apart, so that a column can align them: "1.30" and
// "kg", "1 h 35" and "min". They are joined by a space unless the unit is "" or "°". Free both.
void quantity_format_parts(QuantityKind kind, double si, const UnitSet *units, char **number,
                           char **unit);

// "m3", "kg", "degC", "1": the SI unit as printed by `plan --json`. Static.
const char *quantity_si_unit(QuantityKind kind);

// "mm", "in", "kg", "°C": what a bare number of this kind means in this shop; "" for plain numbers
// and shares. Static.
const char *quantity_shop_unit(QuantityKind kind, const UnitSet *units);

G_END_DECLS
