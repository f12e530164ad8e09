// SPDX-License-Identifier: GPL-3.0-or-later
// The three tables, read once from the resource built into the program.
#include "metal/tables.h"

#include <gio/gio.h>

#include "base/error.h"
#include "metal/row.h"

// Made by the resource compiler. Naming it keeps the linker from leaving out the data when the
// core is linked as a static library.
extern GResource *flaskwright_data_get_resource(void);

struct Tables {
    GPtrArray *rows[TABLE_COUNT]; // TableRow
};

static const char *const files[TABLE_COUNT] = {"metals.json", "sands.json", "crucible-kinds.json"};

static GPtrArray *
load_rows(TableName name, GError **error)
{
    g_autofree char *path = g_strconcat("/org/flaskwright/Flaskwright/data/", files[name], NULL);
    g_autoptr(GError) lost = NULL;
    g_autoptr(GBytes) bytes = g_resource_lookup_data(flaskwright_data_get_resource(), path,
                                                     G_RESOURCE_LOOKUP_FLAGS_NONE, &lost);
    if (!bytes) {
        base_error_set(error, BASE_ERROR_FILE, files[name], NULL, "is not built into the program",
                       "install the program again");
        return NULL;
    }
    gsize length;
    const char *text = g_bytes_get_data(bytes, &length);
    return table_rows_parse(name, files[name], text, (gssize)length, error);
}

Tables *
tables_load(GError **error)
{
    g_autoptr(Tables) tables = g_new0(Tables, 1);
    for (int name = 0; name < TABLE_COUNT; name++) {
        tables->rows[name] = load_rows((TableName)name, error);
        if (!tables->rows[name])
            return NULL;
    }
    return g_steal_pointer(&tables);
}

void
tables_free(Tables *tables)
{
    if (!tables)
        return;
    for (int name = 0; name < TABLE_COUNT; name++)
        g_clear_pointer(&tables->rows[name], g_ptr_array_unref);
    g_free(tables);
}

guint
tables_size(const Tables *tables, TableName name)
{
    g_return_val_if_fail(name < TABLE_COUNT, 0);
    return tables->rows[name]->len;
}

const TableRow *
tables_at(const Tables *tables, TableName name, guint index)
{
    g_return_val_if_fail(name < TABLE_COUNT && index < tables->rows[name]->len, NULL);
    return g_ptr_array_index(tables->rows[name], index);
}

const TableRow *
tables_find(const Tables *tables, TableName name, const char *id)
{
    g_return_val_if_fail(name < TABLE_COUNT, NULL);
    for (guint i = 0; id && i < tables->rows[name]->len; i++) {
        const TableRow *row = g_ptr_array_index(tables->rows[name], i);
        if (g_str_equal(table_row_id(row), id))
            return row;
    }
    return NULL;
}
