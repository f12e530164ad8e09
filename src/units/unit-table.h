// SPDX-License-Identifier: GPL-3.0-or-later
// The one table of units, the table of how each shop shows a quantity, and the words for kinds.
// For the use of this folder; everybody else goes through quantity.h.
#pragma once

#include "units/quantity.h"

G_BEGIN_DECLS

// si = (number + offset) * mul / div. Keeping the two apart keeps decimal steps exact: 25.4 mm is
// 25.4 / 1000, which rounds once, and the defined factors are whole numbers over powers of ten.
typedef struct {
    QuantityKind kind;
    const char *shown;     // as printed: "cm³"
    const char *spellings; // as read, apart by '|', in the plain form a UnitsScan gives: "cm3|cc"
    double mul, div;
    double offset;    // nonzero for temperatures only
    const char *next; // `shown` of the unit a bare number takes after this one: in after ft
} Unit;

#define UNITS_KEEP_ZEROS (-1) // as `least`: all the decimals the figures ask for stay

typedef enum {
    UNITS_ALWAYS,
    UNITS_INCHES,
    UNITS_NO_INCHES,
    UNITS_POUNDS,
    UNITS_NO_POUNDS,
    UNITS_FAHRENHEIT,
    UNITS_NO_FAHRENHEIT,
} UnitsWhen;

// One rung: from this magnitude on, the shop shows the quantity in this unit.
typedef struct {
    QuantityKind kind;
    UnitsWhen when;
    double from; // SI magnitude; half a last digit below the round value, so 999.6 g is 1.00 kg
    const char *shown; // names a Unit of this kind
    int figures;       // significant figures wanted
    int least, most;   // decimals: trailing zeros beyond `least` go; never more than `most`
    gboolean bare;     // what a bare number means, and how zero is shown
} UnitsRung;

typedef struct {
    const char *si;      // for `plan --json`
    const char *name;    // N_("a length")
    const char *example; // "12.5 mm"
} UnitsKind;

const UnitsKind *units_kind(QuantityKind kind);
const Unit *units_table(guint *count);
const UnitsRung *units_rungs(guint *count);

// NULL if the kind has no such unit.
const Unit *units_find(QuantityKind kind, const char *shown);

gboolean units_rung_applies(const UnitsRung *rung, QuantityKind kind, const UnitSet *set);

// The rung for this magnitude; NULL for kinds that are not numbers.
const UnitsRung *units_rung_for(QuantityKind kind, double si, const UnitSet *set);
const UnitsRung *units_rung_bare(QuantityKind kind, const UnitSet *set);

double units_to_si(const Unit *unit, double number);
double units_from_si(const Unit *unit, double si);

G_END_DECLS
