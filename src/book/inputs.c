// SPDX-License-Identifier: GPL-3.0-or-later
// Handing out resolved inputs. A stage that asks for a path it has not declared would be reused
// from the cache when it should not be, so that is a programming error and says so.
#include "book/inputs.h"

#include <math.h>
#include <string.h>

#include "book/inputs-private.h"

void
inputs_input_free(Input *item)
{
    if (!item)
        return;
    g_free(item->path);
    g_free(item->text);
    g_free(item->source);
    g_free(item->error);
    g_free(item);
}

static void
free_input(gpointer data)
{
    inputs_input_free(data);
}

static void
clear_row(gpointer data)
{
    g_free(((InputRow *)data)->section);
}

static void
clear_inputs(gpointer data)
{
    Inputs *inputs = data;
    g_hash_table_unref(inputs->index);
    g_ptr_array_unref(inputs->items);
    g_array_unref(inputs->rows);
    node_unref(inputs->log);
    g_free(inputs->mesh_path);
    g_free(inputs->mesh_sha256);
    g_free(inputs->digest);
}

Inputs *
inputs_new(void)
{
    Inputs *inputs = g_atomic_rc_box_new0(Inputs);
    inputs->items = g_ptr_array_new_with_free_func(free_input);
    inputs->index = g_hash_table_new(g_str_hash, g_str_equal);
    inputs->rows = g_array_new(FALSE, TRUE, sizeof(InputRow));
    g_array_set_clear_func(inputs->rows, clear_row);
    return inputs;
}

void
inputs_add(Inputs *inputs, Input *item)
{
    g_ptr_array_add(inputs->items, item);
    g_hash_table_insert(inputs->index, item->path, item);
}

Inputs *
inputs_ref(Inputs *inputs)
{
    g_return_val_if_fail(inputs != NULL, NULL);
    return g_atomic_rc_box_acquire(inputs);
}

void
inputs_unref(Inputs *inputs)
{
    if (inputs)
        g_atomic_rc_box_release_full(inputs, clear_inputs);
}

static const InputRow *
find_row(const Inputs *inputs, const char *section, gsize length)
{
    for (guint i = 0; i < inputs->rows->len; i++) {
        const InputRow *row = &g_array_index(inputs->rows, InputRow, i);
        if (strncmp(row->section, section, length) == 0 && row->section[length] == '\0')
            return row;
    }
    return NULL;
}

// A key no row of a table has is simply unknown when the whole row was asked for.
static const Input *
find_input(const Inputs *inputs, const char *path)
{
    g_return_val_if_fail(inputs != NULL && path != NULL, NULL);
    const Input *item = g_hash_table_lookup(inputs->index, path);
    const char *dot = strchr(path, '.');
    if (!item && !(dot && find_row(inputs, path, dot - path)))
        g_critical("the stage reads \"%s\" without having declared it", path);
    return item;
}

double
inputs_number(const Inputs *inputs, const char *path)
{
    const Input *item = find_input(inputs, path);
    return item ? item->value : NAN;
}

const char *
inputs_text(const Inputs *inputs, const char *path)
{
    const Input *item = find_input(inputs, path);
    return item ? item->text : NULL;
}

gboolean
inputs_bool(const Inputs *inputs, const char *path)
{
    return g_strcmp0(inputs_text(inputs, path), "yes") == 0;
}

const char *
inputs_source(const Inputs *inputs, const char *path)
{
    const Input *item = find_input(inputs, path);
    return item ? item->source : NULL;
}

const char *
inputs_error(const Inputs *inputs, const char *path)
{
    const Input *item = find_input(inputs, path);
    return item ? item->error : NULL;
}

gboolean
inputs_is_blank(const Inputs *inputs, const char *path)
{
    const Input *item = find_input(inputs, path);
    return !item || item->blank;
}

const TableRow *
inputs_row(const Inputs *inputs, const char *section)
{
    g_return_val_if_fail(inputs != NULL && section != NULL, NULL);
    const InputRow *row = find_row(inputs, section, strlen(section));
    if (!row)
        g_critical("the stage reads the row \"%s.*\" without having declared it", section);
    return row ? row->row : NULL;
}

const Node *
inputs_log(const Inputs *inputs)
{
    find_input(inputs, "log");
    return inputs->log;
}

const Tables *
inputs_tables(const Inputs *inputs)
{
    find_input(inputs, "tables");
    return inputs->tables;
}

const char *
inputs_mesh_path(const Inputs *inputs)
{
    find_input(inputs, "mesh");
    return inputs->mesh_path;
}

const char *
inputs_mesh_sha256(const Inputs *inputs)
{
    find_input(inputs, "mesh");
    return inputs->mesh_sha256;
}

UnitSet
inputs_units(const Inputs *inputs)
{
    return inputs->units;
}

const char *
inputs_digest(const Inputs *inputs)
{
    g_return_val_if_fail(inputs != NULL, NULL);
    return inputs->digest;
}

void
inputs_give(const Inputs *inputs, FigureList *list)
{
    g_return_if_fail(inputs != NULL && list != NULL);
    for (guint i = 0; i < inputs->items->len; i++) {
        const Input *item = g_ptr_array_index(inputs->items, i);
        gboolean is_text = item->kind == QUANTITY_TEXT || item->kind == QUANTITY_DATE;
        figure_give(list, item->path, item->label, item->kind, item->value,
                    is_text && !item->error ? item->text : NULL,
                    item->source ? item->source : "user");
    }
}
