// SPDX-License-Identifier: GPL-3.0-or-later
// Every unit that is read, with its exact factor. The defined values are those of the NIST Guide
// for the Use of the SI (Special Publication 811): inch 0.0254 m, pound 0.453 592 37 kg, troy ounce
// 31.103 476 8 g, standard gravity 9.806 65 m/s2, US gallon 231 in3, Btu(IT) 1055.055 852 62 J,
// calorie (thermochemical) 4.184 J, 0 deg C = 273.15 K, 1 deg F = 5/9 K. Whatever follows from
// those is written as a fraction of whole numbers below 2^53, with the definition beside it.
#include "units/unit-table.h"

#define COUNT_OF(array) ((guint)G_N_ELEMENTS(array))
#define FOOT3 28316846592.0   // 0.3048^3 m3 = 0.028316846592 m3
#define LB1E12 453592370000.0 // the pound in 1e-12 kg; lb and oz share a divisor and add exactly

// clang-format off
static const Unit table[] = {
    // kind, shown, spellings, mul, div, offset, next
    {QUANTITY_COUNT, "pcs", "pcs|pc|pieces|piece", 1, 1, 0, NULL},
    {QUANTITY_RATIO, "%", "%|percent", 1, 100, 0, NULL},
    {QUANTITY_RATIO, "‰", "‰", 1, 1000, 0, NULL},
    {QUANTITY_RATIO, "in/ft", "in/ft|\"/ft|\"/'|inch/foot", 1, 12, 0, NULL}, // shrink rules
    {QUANTITY_RATIO, "mm/m", "mm/m", 1, 1000, 0, NULL},
    {QUANTITY_LENGTH, "µm", "um|micron|microns|micrometre|micrometer", 1, 1e6, 0, NULL},
    {QUANTITY_LENGTH, "mm", "mm|millimetre|millimetres|millimeter|millimeters", 1, 1e3, 0, NULL},
    {QUANTITY_LENGTH, "cm", "cm|centimetre|centimetres|centimeter|centimeters", 1, 1e2, 0, NULL},
    {QUANTITY_LENGTH, "dm", "dm", 1, 10, 0, NULL},
    {QUANTITY_LENGTH, "m", "m|metre|metres|meter|meters", 1, 1, 0, NULL},
    {QUANTITY_LENGTH, "thou", "thou|mil|mils", 254, 1e7, 0, NULL},
    {QUANTITY_LENGTH, "in", "in|\"|''|inch|inches|in.", 254, 1e4, 0, NULL},
    {QUANTITY_LENGTH, "ft", "ft|'|foot|feet|ft.", 3048, 1e4, 0, "in"},
    {QUANTITY_LENGTH, "yd", "yd|yard|yards", 9144, 1e4, 0, NULL},
    {QUANTITY_AREA, "mm²", "mm2|sq mm", 1, 1e6, 0, NULL},
    {QUANTITY_AREA, "cm²", "cm2|sq cm", 1, 1e4, 0, NULL},
    {QUANTITY_AREA, "m²", "m2|sq m", 1, 1, 0, NULL},
    {QUANTITY_AREA, "in²", "in2|sq in|sq inch|sq. in.", 64516, 1e8, 0, NULL},
    {QUANTITY_AREA, "ft²", "ft2|sq ft|sq. ft.", 9290304, 1e8, 0, NULL},
    {QUANTITY_VOLUME, "mm³", "mm3|cu mm|ul", 1, 1e9, 0, NULL},
    {QUANTITY_VOLUME, "cm³", "cm3|cc|ccm|cu cm", 1, 1e6, 0, NULL},
    {QUANTITY_VOLUME, "ml", "ml|mL", 1, 1e6, 0, NULL},
    {QUANTITY_VOLUME, "cl", "cl|cL", 1, 1e5, 0, NULL},
    {QUANTITY_VOLUME, "dl", "dl|dL", 1, 1e4, 0, NULL},
    {QUANTITY_VOLUME, "l", "l|L|dm3|litre|litres|liter|liters", 1, 1e3, 0, NULL},
    {QUANTITY_VOLUME, "m³", "m3|cu m", 1, 1, 0, NULL},
    {QUANTITY_VOLUME, "in³", "in3|cu in|cu inch|cu. in.", 16387064, 1e12, 0, NULL},
    {QUANTITY_VOLUME, "ft³", "ft3|cu ft|cu. ft.", FOOT3, 1e12, 0, NULL},
    {QUANTITY_VOLUME, "US gal", "US gal|gal|gallon|gallons", 3785411784.0, 1e12, 0, NULL},
    {QUANTITY_VOLUME, "US fl oz", "US fl oz|fl oz", 29573529562.5, 1e15, 0, NULL}, // gal / 128
    {QUANTITY_MASS, "mg", "mg", 1, 1e6, 0, NULL},
    {QUANTITY_MASS, "g", "g|gram|grams|gramme|grammes", 1, 1e3, 0, NULL},
    {QUANTITY_MASS, "kg", "kg|kilo|kilos|kilogram|kilograms", 1, 1, 0, NULL},
    {QUANTITY_MASS, "t", "t|Mg|tonne|tonnes", 1e3, 1, 0, NULL},
    {QUANTITY_MASS, "oz", "oz|ounce|ounces|oz.", 28349523125.0, 1e12, 0, NULL}, // lb / 16
    {QUANTITY_MASS, "lb", "lb|lbs|pound|pounds|lb.|lbs.", LB1E12, 1e12, 0, "oz"},
    {QUANTITY_MASS, "ozt", "ozt|oz t|troy oz|ozt.|troy ounce|troy ounces", 311034768, 1e10, 0, NULL},
    {QUANTITY_MASS, "dwt", "dwt", 155517384, 1e11, 0, NULL}, // ozt / 20
    {QUANTITY_MASS, "gr", "gr|grain|grains", 6479891, 1e11, 0, NULL}, // lb / 7000
    {QUANTITY_DENSITY, "kg/m³", "kg/m3", 1, 1, 0, NULL},
    {QUANTITY_DENSITY, "g/cm³", "g/cm3|g/cc|g/ml|g/mL|kg/l|kg/L|kg/dm3|t/m3", 1e3, 1, 0, NULL},
    {QUANTITY_DENSITY, "lb/in³", "lb/in3|lb/cu in|lbs/in3", LB1E12, 16387064, 0, NULL},
    {QUANTITY_DENSITY, "lb/ft³", "lb/ft3|lb/cu ft|lbs/ft3|pcf", LB1E12, FOOT3, 0, NULL},
    {QUANTITY_TEMPERATURE, "°C", "°C|C|degC|deg C|c|° C", 1, 1, 0, NULL},
    {QUANTITY_TEMPERATURE, "°F", "°F|F|degF|deg F|f|° F", 5, 9, -32, NULL},
    {QUANTITY_TEMPERATURE, "K", "K|kelvin", 1, 1, -273.15, NULL},
    {QUANTITY_TEMPERATURE_DIFFERENCE, "K", "K|kelvin|°C|C|degC|deg C|c", 1, 1, 0, NULL},
    {QUANTITY_TEMPERATURE_DIFFERENCE, "°F", "°F|F|degF|deg F|f", 5, 9, 0, NULL},
    {QUANTITY_ANGLE, "°", "°|deg|degree|degrees", G_PI, 180, 0, NULL},
    {QUANTITY_ANGLE, "′", "'|arcmin", G_PI, 10800, 0, NULL},
    {QUANTITY_ANGLE, "″", "\"|arcsec|''", G_PI, 648000, 0, NULL},
    {QUANTITY_ANGLE, "rad", "rad|radian|radians", 1, 1, 0, NULL},
    {QUANTITY_ANGLE, "mrad", "mrad", 1, 1e3, 0, NULL},
    {QUANTITY_TIME, "ms", "ms", 1, 1e3, 0, NULL},
    {QUANTITY_TIME, "s", "s|sec|secs|second|seconds", 1, 1, 0, NULL},
    {QUANTITY_TIME, "min", "min|mins|minute|minutes|min.", 60, 1, 0, "s"},
    {QUANTITY_TIME, "h", "h|hr|hrs|hour|hours", 3600, 1, 0, "min"},
    {QUANTITY_TIME, "d", "d|day|days", 86400, 1, 0, NULL},
    {QUANTITY_TIME, "wk", "wk|week|weeks", 604800, 1, 0, NULL},
    {QUANTITY_VELOCITY, "mm/s", "mm/s", 1, 1e3, 0, NULL},
    {QUANTITY_VELOCITY, "cm/s", "cm/s", 1, 1e2, 0, NULL},
    {QUANTITY_VELOCITY, "m/s", "m/s", 1, 1, 0, NULL},
    {QUANTITY_VELOCITY, "m/min", "m/min", 1, 60, 0, NULL},
    {QUANTITY_VELOCITY, "mm/min", "mm/min", 1, 6e4, 0, NULL},
    {QUANTITY_VELOCITY, "km/h", "km/h", 10, 36, 0, NULL},
    {QUANTITY_VELOCITY, "in/s", "in/s|ips|in/sec|\"/s", 254, 1e4, 0, NULL},
    {QUANTITY_VELOCITY, "in/min", "in/min|ipm", 254, 6e5, 0, NULL},
    {QUANTITY_VELOCITY, "ft/s", "ft/s|fps|ft/sec|'/s", 3048, 1e4, 0, NULL},
    {QUANTITY_VELOCITY, "ft/min", "ft/min|fpm|sfm", 3048, 6e5, 0, NULL},
    {QUANTITY_FLOW, "mm³/s", "mm3/s", 1, 1e9, 0, NULL},
    {QUANTITY_FLOW, "cm³/s", "cm3/s|ml/s|mL/s|cc/s", 1, 1e6, 0, NULL},
    {QUANTITY_FLOW, "l/s", "l/s|L/s|dm3/s", 1, 1e3, 0, NULL},
    {QUANTITY_FLOW, "m³/s", "m3/s", 1, 1, 0, NULL},
    {QUANTITY_FLOW, "cm³/min", "cm3/min|ml/min|cc/min", 1, 6e7, 0, NULL},
    {QUANTITY_FLOW, "l/min", "l/min|L/min", 1, 6e4, 0, NULL},
    {QUANTITY_FLOW, "in³/s", "in3/s|cu in/s", 16387064, 1e12, 0, NULL},
    {QUANTITY_FORCE, "mN", "mN", 1, 1e3, 0, NULL},
    {QUANTITY_FORCE, "N", "N|n|newton|newtons", 1, 1, 0, NULL},
    {QUANTITY_FORCE, "kN", "kN|kn", 1e3, 1, 0, NULL},
    {QUANTITY_FORCE, "lbf", "lbf", 44482216152605.0, 1e13, 0, NULL}, // lb times g
    {QUANTITY_FORCE, "kgf", "kgf|kp", 980665, 1e5, 0, NULL},
    {QUANTITY_ENERGY, "J", "J|j|Ws|joule|joules", 1, 1, 0, NULL},
    {QUANTITY_ENERGY, "kJ", "kJ|kj", 1e3, 1, 0, NULL},
    {QUANTITY_ENERGY, "MJ", "MJ", 1e6, 1, 0, NULL},
    {QUANTITY_ENERGY, "Wh", "Wh|wh", 3600, 1, 0, NULL},
    {QUANTITY_ENERGY, "kWh", "kWh|kwh|kw h|kW h", 3600000, 1, 0, NULL},
    {QUANTITY_ENERGY, "MWh", "MWh", 3.6e9, 1, 0, NULL},
    {QUANTITY_ENERGY, "Btu", "Btu|BTU|btu", 105505585262.0, 1e8, 0, NULL},
    {QUANTITY_ENERGY, "cal", "cal", 4184, 1e3, 0, NULL},
    {QUANTITY_ENERGY, "kcal", "kcal", 4184, 1, 0, NULL},
    {QUANTITY_POWER, "W", "W|w|watt|watts", 1, 1, 0, NULL},
    {QUANTITY_POWER, "kW", "kW|kw|kilowatt|kilowatts", 1e3, 1, 0, NULL},
    {QUANTITY_POWER, "MW", "MW", 1e6, 1, 0, NULL},
    {QUANTITY_POWER, "Btu/h", "Btu/h|BTU/h|BTU/hr|Btu/hr|btu/h", 105505585262.0, 3600e8, 0, NULL},
    {QUANTITY_POWER, "hp", "hp", 7456998715822702.0, 1e13, 0, NULL}, // 550 ft lbf/s; 16 figures
    {QUANTITY_HEAT_CONTENT, "J/kg", "J/kg", 1, 1, 0, NULL},
    {QUANTITY_HEAT_CONTENT, "kJ/kg", "kJ/kg|J/g|kj/kg", 1e3, 1, 0, NULL},
    {QUANTITY_HEAT_CONTENT, "MJ/kg", "MJ/kg", 1e6, 1, 0, NULL},
    {QUANTITY_HEAT_CONTENT, "Wh/kg", "Wh/kg", 3600, 1, 0, NULL},
    {QUANTITY_HEAT_CONTENT, "kWh/kg", "kWh/kg", 3600000, 1, 0, NULL},
    {QUANTITY_HEAT_CONTENT, "Btu/lb", "Btu/lb|BTU/lb", 2326, 1, 0, NULL}, // exact: defines the Btu
    {QUANTITY_HEAT_CONTENT, "cal/g", "cal/g|kcal/kg", 4184, 1, 0, NULL},
    {QUANTITY_SPECIFIC_HEAT, "J/(kg·K)", "J/kgK|J/kg/K|J/kg°C", 1, 1, 0, NULL},
    {QUANTITY_SPECIFIC_HEAT, "kJ/(kg·K)", "kJ/kgK|kJ/kg/K|J/gK|kJ/kg°C|J/g°C", 1e3, 1, 0, NULL},
    {QUANTITY_SPECIFIC_HEAT, "Btu/(lb·°F)", "Btu/lb°F|Btu/lbF|Btu/lb/F|BTU/lb°F|BTU/lbF",
     41868, 10, 0, NULL}, // 2326 times 9/5
    {QUANTITY_SPECIFIC_HEAT, "cal/(g·K)", "cal/gK|cal/g°C|kcal/kgK", 4184, 1, 0, NULL},
    {QUANTITY_CONDUCTIVITY, "W/(m·K)", "W/mK|W/m/K|W/m°C", 1, 1, 0, NULL},
    {QUANTITY_CONDUCTIVITY, "W/(cm·K)", "W/cmK", 1e2, 1, 0, NULL},
    {QUANTITY_CONDUCTIVITY, "Btu/(h·ft·°F)", "Btu/hft°F|Btu/hftF|Btu/hrft°F|BTU/hft°F|BTU/hftF",
     105505585262.0, 6096e7, 0, NULL}, // Btu times 9/5 over 3600 s times 0.3048 m
    {QUANTITY_CHVORINOV, "s/m²", "s/m2", 1, 1, 0, NULL},
    {QUANTITY_CHVORINOV, "s/cm²", "s/cm2", 1e4, 1, 0, NULL},
    {QUANTITY_CHVORINOV, "s/mm²", "s/mm2", 1e6, 1, 0, NULL},
    {QUANTITY_CHVORINOV, "min/cm²", "min/cm2", 6e5, 1, 0, NULL},
    {QUANTITY_CHVORINOV, "min/in²", "min/in2|min/sq in", 60e8, 64516, 0, NULL},
    {QUANTITY_CHVORINOV, "s/in²", "s/in2|s/sq in", 1e8, 64516, 0, NULL},
    {QUANTITY_NIYAMA, "√(K·s)/m", "√K s/m|√Ks/m|K0.5 s0.5/m|K s0.5/m|K1/2 s1/2/m", 1, 1, 0, NULL},
    {QUANTITY_NIYAMA, "√(K·s)/mm", "√K s/mm|√Ks/mm|K0.5 s0.5/mm|K s0.5/mm|K1/2 s1/2/mm", 1e3, 1, 0,
     NULL},
    {QUANTITY_NIYAMA, "√(K·s)/cm", "√K s/cm|√Ks/cm|K0.5 s0.5/cm|K s0.5/cm|K1/2 s1/2/cm", 1e2, 1, 0,
     NULL},
    {QUANTITY_RATE, "/s", "/s|1/s|/sec", 1, 1, 0, NULL},
    {QUANTITY_RATE, "/min", "/min|1/min", 1, 60, 0, NULL},
    {QUANTITY_RATE, "/h", "/h|1/h|/hr|/hour", 1, 3600, 0, NULL},
    {QUANTITY_HEATING_RATE, "K/s", "K/s|°C/s|C/s|degC/s", 1, 1, 0, NULL},
    {QUANTITY_HEATING_RATE, "K/min", "K/min|°C/min|C/min|degC/min|deg C/min", 1, 60, 0, NULL},
    {QUANTITY_HEATING_RATE, "K/h", "K/h|°C/h|C/h|degC/h|deg C/h|°C/hr|C/hr|K/hr", 1, 3600, 0, NULL},
    {QUANTITY_HEATING_RATE, "°F/s", "°F/s|F/s|degF/s", 5, 9, 0, NULL},
    {QUANTITY_HEATING_RATE, "°F/min", "°F/min|F/min|degF/min|deg F/min", 5, 540, 0, NULL},
    {QUANTITY_HEATING_RATE, "°F/h", "°F/h|F/h|degF/h|deg F/h|°F/hr|F/hr", 5, 32400, 0, NULL},
    {QUANTITY_MONEY_PER_TIME, "/h", "/h|/hr|/hour", 1, 3600, 0, NULL},
    {QUANTITY_MONEY_PER_TIME, "/min", "/min|/minute", 1, 60, 0, NULL},
    {QUANTITY_MONEY_PER_TIME, "/s", "/s", 1, 1, 0, NULL},
    {QUANTITY_MONEY_PER_TIME, "/d", "/d|/day", 1, 86400, 0, NULL},
    {QUANTITY_MONEY_PER_MASS, "/kg", "/kg|/kilo", 1, 1, 0, NULL},
    {QUANTITY_MONEY_PER_MASS, "/g", "/g", 1e3, 1, 0, NULL},
    {QUANTITY_MONEY_PER_MASS, "/t", "/t|/tonne", 1, 1e3, 0, NULL},
    {QUANTITY_MONEY_PER_MASS, "/lb", "/lb|/pound", 1e8, 45359237, 0, NULL},
    {QUANTITY_MONEY_PER_MASS, "/oz", "/oz", 1e12, 28349523125.0, 0, NULL},
    {QUANTITY_MONEY_PER_MASS, "/ozt", "/ozt|/troy oz", 1e10, 311034768, 0, NULL},
    {QUANTITY_MONEY_PER_ENERGY, "/kWh", "/kWh|/kwh", 1, 3600000, 0, NULL},
    {QUANTITY_MONEY_PER_ENERGY, "/MWh", "/MWh", 1, 3.6e9, 0, NULL},
    {QUANTITY_MONEY_PER_ENERGY, "/MJ", "/MJ", 1, 1e6, 0, NULL},
    {QUANTITY_MONEY_PER_ENERGY, "/kJ", "/kJ", 1, 1e3, 0, NULL},
    {QUANTITY_MONEY_PER_ENERGY, "/J", "/J", 1, 1, 0, NULL},
    {QUANTITY_MONEY_PER_VOLUME, "/l", "/l|/L|/dm3|/litre|/liter", 1e3, 1, 0, NULL},
    {QUANTITY_MONEY_PER_VOLUME, "/cm³", "/cm3|/ml|/cc", 1e6, 1, 0, NULL},
    {QUANTITY_MONEY_PER_VOLUME, "/m³", "/m3", 1, 1, 0, NULL},
    {QUANTITY_MONEY_PER_VOLUME, "/in³", "/in3|/cu in", 1e12, 16387064, 0, NULL},
    {QUANTITY_MONEY_PER_VOLUME, "/ft³", "/ft3|/cu ft", 1e12, FOOT3, 0, NULL},
    {QUANTITY_MONEY_PER_VOLUME, "/US gal", "/US gal|/gal|/gallon", 1e12, 3785411784.0, 0, NULL},
    {QUANTITY_REMOVAL_RATE, "mm³/s", "mm3/s", 1, 1e9, 0, NULL},
    {QUANTITY_REMOVAL_RATE, "mm³/min", "mm3/min", 1, 6e10, 0, NULL},
    {QUANTITY_REMOVAL_RATE, "cm³/s", "cm3/s", 1, 1e6, 0, NULL},
    {QUANTITY_REMOVAL_RATE, "cm³/min", "cm3/min|cc/min|ml/min", 1, 6e7, 0, NULL},
    {QUANTITY_REMOVAL_RATE, "cm³/h", "cm3/h", 1, 3.6e9, 0, NULL},
    {QUANTITY_REMOVAL_RATE, "m³/s", "m3/s", 1, 1, 0, NULL},
    {QUANTITY_REMOVAL_RATE, "in³/min", "in3/min|cu in/min", 16387064, 6e13, 0, NULL},
};
// clang-format on

const Unit *
units_table(guint *count)
{
    *count = COUNT_OF(table);
    return table;
}

const Unit *
units_find(QuantityKind kind, const char *shown)
{
    static const Unit plain = {QUANTITY_NUMBER, "", "", 1, 1, 0, NULL};
    if (shown && *shown == '\0')
        return &plain;
    for (guint i = 0; i < COUNT_OF(table); i++)
        if (table[i].kind == kind && g_strcmp0(table[i].shown, shown) == 0)
            return &table[i];
    return NULL;
}

double
units_to_si(const Unit *unit, double number)
{
    return (number + unit->offset) * unit->mul / unit->div;
}

double
units_from_si(const Unit *unit, double si)
{
    return si * unit->div / unit->mul - unit->offset;
}
