// SPDX-License-Identifier: GPL-3.0-or-later
// One row of a table, as everybody reads it: an alloy, a sand or a crucible kind.
#include "metal/row.h"

#include <math.h>

#include "base/digest.h"

static void
clear_value(gpointer data)
{
    TableValue *value = data;
    g_free(value->text);
    g_free(value->source);
    g_free(value->note);
}

TableRow *
table_row_new(void)
{
    TableRow *row = g_new0(TableRow, 1);
    row->values = g_array_new(FALSE, FALSE, sizeof(TableValue));
    g_array_set_clear_func(row->values, clear_value);
    return row;
}

void
table_row_seal(TableRow *row)
{
    g_autoptr(Digest) digest = digest_new();
    digest_add_string(digest, row->id);
    digest_add_string(digest, row->name);
    digest_add_string(digest, row->family);
    for (guint i = 0; row->cautions[i]; i++)
        digest_add_string(digest, row->cautions[i]);
    digest_add_int(digest, row->values->len);
    for (guint i = 0; i < row->values->len; i++) {
        const TableValue *value = &g_array_index(row->values, TableValue, i);
        digest_add_string(digest, value->key);
        // The bits of a NAN are no content.
        digest_add_double(digest, value->text ? 0.0 : value->value);
        digest_add_string(digest, value->text);
        digest_add_string(digest, value->source);
        digest_add_int(digest, value->confidence);
        digest_add_string(digest, value->note);
    }
    row->digest = digest_end(digest);
}

void
table_row_free(TableRow *row)
{
    if (!row)
        return;
    g_free(row->id);
    g_free(row->name);
    g_free(row->family);
    g_array_unref(row->values);
    g_strfreev(row->cautions);
    g_free(row->digest);
    g_free(row);
}

const char *
table_row_id(const TableRow *row)
{
    return row->id;
}

const char *
table_row_name(const TableRow *row)
{
    return row->name;
}

const char *
table_row_family(const TableRow *row)
{
    return row->family;
}

guint
table_row_size(const TableRow *row)
{
    return row->values->len;
}

const TableValue *
table_row_at(const TableRow *row, guint index)
{
    g_return_val_if_fail(index < row->values->len, NULL);
    return &g_array_index(row->values, TableValue, index);
}

const TableValue *
table_row_find(const TableRow *row, const char *key)
{
    for (guint i = 0; i < row->values->len; i++)
        if (g_str_equal(g_array_index(row->values, TableValue, i).key, key))
            return &g_array_index(row->values, TableValue, i);
    return NULL;
}

double
table_row_value(const TableRow *row, const char *key)
{
    const TableValue *value = table_row_find(row, key);
    return value ? value->value : NAN;
}

const char *
table_row_text(const TableRow *row, const char *key)
{
    const TableValue *value = table_row_find(row, key);
    return value ? value->text : NULL;
}

const char *const *
table_row_cautions(const TableRow *row)
{
    return (const char *const *)row->cautions;
}

const char *
table_row_digest(const TableRow *row)
{
    return row->digest;
}
