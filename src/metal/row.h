// SPDX-License-Identifier: GPL-3.0-or-later
// Reading the rows of one table from JSON. Internal to metal/ and its tests.
#pragma once

#include "metal/tables.h"

G_BEGIN_DECLS

struct TableRow {
    char *id;
    char *name;
    char *family;
    GArray *values; // TableValue
    char **cautions;
    char *digest;
};

TableRow *table_row_new(void);
// Computes the digest, once all else is in place.
void table_row_seal(TableRow *row);
void table_row_free(TableRow *row);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(TableRow, table_row_free)

// All rows in `text`: an array of TableRow that frees them. `file` is named in errors.
// BASE_ERROR_FORMAT if it is not JSON or not of the table's shape: unknown members, keys, units,
// confidences or sources, numbers out of range, a required property missing, an id used twice.
GPtrArray *table_rows_parse(TableName table, const char *file, const char *text, gssize length,
                            GError **error);

G_END_DECLS
