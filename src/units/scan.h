// SPDX-License-Identifier: GPL-3.0-or-later
// A text taken apart into plain characters that remember where they stood, and the numbers in it.
// For the use of this folder.
#pragma once

#include "units/unit-table.h"

G_BEGIN_DECLS

#define UNITS_LONGEST 200  // characters; nobody needs more for one quantity
#define UNITS_GLUE 0x202Fu // stands for every space that may part groups of digits

typedef struct {
    gunichar c[UNITS_LONGEST * 5 + 1]; // ends with 0; a vulgar fraction takes up to five
    guint at[UNITS_LONGEST * 5 + 1];   // 1-based place in the text as typed
    guint n;
    guint pos;
    const char *text;
    QuantityKind kind;
} UnitsScan;

// Fills the scan: µ as u, raised digits as digits, primes as ' and ", vulgar fractions as " 1/2",
// every minus as '-'. FALSE for text that is too long or is not UTF-8.
gboolean units_scan_start(UnitsScan *scan, QuantityKind kind, const char *text, GError **error);

// Sets an error at the place of the plain character `pos`. The remedy may be NULL: then an example
// of the kind is given. Always FALSE.
gboolean units_refuse(const UnitsScan *scan, guint pos, const char *remedy, GError **error,
                      const char *format, ...) G_GNUC_PRINTF(5, 6);

gboolean units_is_blank(gunichar c);
gboolean units_is_digit(gunichar c);
void units_skip_blanks(UnitsScan *scan);

// The typed characters of the word at pos, up to a blank: for messages. Free.
char *units_word(const UnitsScan *scan, guint pos);

// Reads an unsigned number at scan->pos: decimal, fraction or mixed number.
gboolean units_scan_number(UnitsScan *scan, double *value, GError **error);

// The longest unit of this kind at scan->pos, and where it ends; NULL if there is none.
const Unit *units_scan_unit(const UnitsScan *scan, QuantityKind kind, guint *end);

// Takes the shop's currency, or its sign, at scan->pos if it stands there; FALSE for another one.
gboolean units_scan_currency(UnitsScan *scan, const UnitSet *set, GError **error);

G_END_DECLS
