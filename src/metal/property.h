// SPDX-License-Identifier: GPL-3.0-or-later
// Which properties a row of a table may have: key, label, kind and the range that makes sense; and
// the few units the tables are written in. Internal to metal/.
#pragma once

#include "metal/tables.h"

G_BEGIN_DECLS

typedef struct {
    const char *key;
    const char *label; // N_()
    QuantityKind kind;
    TableName table;
    double min, max;   // SI, inclusive; a value outside is a slip of the pen
    gboolean required; // every row of the table must have it
} TableProperty;

// The property `key` of `table`, or NULL if that table has none of that name.
const TableProperty *table_property_find(TableName table, const char *key);

// All of them, of every table; index below table_property_count().
guint table_property_count(void);
const TableProperty *table_property_at(guint index);

// Turns `value` in `unit` ("F", "lb/in3", "in/ft", ...) into SI for `kind`. FALSE if the unit is
// not known for that kind. Factors are the exact definitions of the inch and pound.
gboolean table_unit_to_si(QuantityKind kind, const char *unit, double value, double *si);

G_END_DECLS
