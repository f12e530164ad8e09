// SPDX-License-Identifier: GPL-3.0-or-later
// Alloys, moulding sands and crucible kinds, read once from data/*.json (built in as a resource).
// Read-only after loading; every value carries its source and how sure it is.
#pragma once

#include "units/quantity.h"

G_BEGIN_DECLS

typedef enum {
    TABLE_PUBLISHED,
    TABLE_COMMON_PRACTICE,
    TABLE_FROM_MEMORY,
} TableConfidence;

// One property of one row. Value in SI (deg C for temperatures); NAN when the table has none.
typedef struct {
    const char *key;   // "liquidus"
    const char *label; // N_("Liquidus")
    QuantityKind kind;
    double value;
    char *text;   // for QUANTITY_TEXT properties
    char *source; // source id of data/sources.json
    TableConfidence confidence;
    char *note; // or NULL
} TableValue;

// A row: an alloy, a sand or a crucible kind.
typedef struct TableRow TableRow;
const char *table_row_id(const TableRow *row);
const char *table_row_name(const TableRow *row);
const char *table_row_family(const TableRow *row); // alloys: "aluminium", "zinc", "copper",
                                                   // "silver", "gold"; NULL for other rows
guint table_row_size(const TableRow *row);
const TableValue *table_row_at(const TableRow *row, guint index);
const TableValue *table_row_find(const TableRow *row, const char *key); // NULL if absent
double table_row_value(const TableRow *row, const char *key);           // NAN if absent
const char *table_row_text(const TableRow *row, const char *key);       // NULL if absent
const char *const *table_row_cautions(const TableRow *row); // sentences, NULL-terminated
const char *table_row_digest(const TableRow *row); // changes when any value of the row does

typedef struct Tables Tables;

// Loads the built-in tables. Fails only if the data are damaged (a packaging fault).
Tables *tables_load(GError **error);
void tables_free(Tables *tables);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Tables, tables_free)

typedef enum {
    TABLE_METALS,
    TABLE_SANDS,
    TABLE_CRUCIBLE_KINDS,
    TABLE_COUNT
} TableName;
guint tables_size(const Tables *tables, TableName name);
const TableRow *tables_at(const Tables *tables, TableName name, guint index);
const TableRow *tables_find(const Tables *tables, TableName name, const char *id); // NULL if absent

// Property keys of a metal: solidus liquidus density_solid density_liquid (at liquidus)
// density_slope (kg/m3 per K, negative) conductivity_solid conductivity_liquid cp_solid cp_liquid
// latent_heat contraction freezing_shrinkage pouring_temperature gate_velocity melt_loss
// price (currency/kg, an invented starting value marked so) castability(text) fluidity(text)
// cutting_energy (J/m3) enthalpy_model(text: names the equation enthalpy_between() uses, absent for
// plain cp and latent heat) fume(text: what it gives off that harms, space separated).
// Of a sand: conductivity density specific_heat (k rho c at mould temperature) rammed_density.
// Of a crucible kind: firings_min firings_max fill (share of brim volume) setpoints and holds of
// the warm-up: warmup_1 warmup_2 (deg C) warmup_hold (s), the hold of a new one temper_at (deg C)
// temper_hold (s), families(text, space separated), flux(text), flux_refused(text) and
// flux_sparing(text) (words of the field job.flux), charging(text: how to put metal in).

G_END_DECLS
