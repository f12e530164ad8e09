// SPDX-License-Identifier: GPL-3.0-or-later
// Reads the rows of a table from JSON and checks them in full.
//
//   {"id": "a356", "name": "A356 (AlSi7Mg)", "family": "aluminium", "cautions": ["..."],
//    "values": {"liquidus": {"value": 613, "unit": "C", "source": "...", "confidence": "...",
//                            "note": "..."},
//               "fluidity": {"text": "...", "source": "...", "confidence": "..."}}}
#include "metal/row.h"

#include <json-glib/json-glib.h>
#include <math.h>

#include "base/error.h"
#include "figure/source.h"
#include "metal/property.h"

// Where the reader is, for messages.
typedef struct {
    TableName table;
    const char *file;
    char *place; // "a356" or "a356, liquidus"
    GError **error;
} Reader;

static const char *const remedy = "install the program again, as its own data are damaged";

static gboolean fail(Reader *reader, const char *format, ...) G_GNUC_PRINTF(2, 3);

static gboolean
fail(Reader *reader, const char *format, ...)
{
    va_list args;
    va_start(args, format);
    g_autofree char *what = g_strdup_vprintf(format, args);
    va_end(args);
    return base_error_set(reader->error, BASE_ERROR_FORMAT, reader->file, reader->place, what,
                          remedy);
}

static void
set_place(Reader *reader, const char *id, const char *key)
{
    g_free(reader->place);
    reader->place = key ? g_strdup_printf("%s, %s", id, key) : g_strdup(id);
}

// The string member `name`, borrowed; NULL with an error if it is missing (when `required`) or is
// something else. A missing optional member gives NULL and no error.
static const char *
get_string(Reader *reader, JsonObject *object, const char *name, gboolean required)
{
    JsonNode *node = json_object_get_member(object, name);
    if (!node && !required)
        return NULL;
    if (!node || !JSON_NODE_HOLDS_VALUE(node) || json_node_get_value_type(node) != G_TYPE_STRING) {
        fail(reader, "\"%s\" is not a text", name);
        return NULL;
    }
    return json_node_get_string(node);
}

static JsonObject *
get_object(JsonObject *object, const char *name)
{
    JsonNode *node = json_object_get_member(object, name);
    return node && JSON_NODE_HOLDS_OBJECT(node) ? json_node_get_object(node) : NULL;
}

static JsonArray *
get_array(JsonObject *object, const char *name)
{
    JsonNode *node = json_object_get_member(object, name);
    return node && JSON_NODE_HOLDS_ARRAY(node) ? json_node_get_array(node) : NULL;
}

static gboolean
check_members(Reader *reader, JsonObject *object, const char *const *known)
{
    g_autoptr(GList) members = json_object_get_members(object);
    for (GList *l = members; l; l = l->next)
        if (!g_strv_contains(known, l->data))
            return fail(reader, "\"%s\" is not a member known here", (const char *)l->data);
    return TRUE;
}

static gboolean
read_confidence(Reader *reader, const char *word, TableConfidence *confidence)
{
    static const char *const words[] = {"published", "common-practice", "from-memory"};
    for (guint i = 0; i < G_N_ELEMENTS(words); i++) {
        if (g_str_equal(word, words[i])) {
            *confidence = (TableConfidence)i;
            return TRUE;
        }
    }
    return fail(reader, "\"%s\" is not a confidence", word);
}

static gboolean
read_number(Reader *reader, JsonObject *object, const TableProperty *property, double *si)
{
    JsonNode *node = json_object_get_member(object, "value");
    if (!node || !JSON_NODE_HOLDS_VALUE(node) ||
        (json_node_get_value_type(node) != G_TYPE_INT64 &&
         json_node_get_value_type(node) != G_TYPE_DOUBLE))
        return fail(reader, "\"value\" is not a number");
    const char *unit = get_string(reader, object, "unit", TRUE);
    if (!unit)
        return FALSE;
    double value;
    if (!table_unit_to_si(property->kind, unit, json_node_get_double(node), &value))
        return fail(reader, "\"%s\" is not a unit for this property", unit);
    if (!isfinite(value) || value < property->min || value > property->max)
        return fail(reader, "%g is outside %g to %g (SI)", value, property->min, property->max);
    *si = value;
    return TRUE;
}

static gboolean
read_value(Reader *reader, const char *key, JsonObject *object, TableValue *out)
{
    static const char *const known[] = {"value",      "text", "unit", "source",
                                        "confidence", "note", NULL};
    const TableProperty *property = table_property_find(reader->table, key);
    if (!property)
        return fail(reader, "is not a property known here");
    if (!check_members(reader, object, known))
        return FALSE;
    const char *source = get_string(reader, object, "source", TRUE);
    const char *confidence = source ? get_string(reader, object, "confidence", TRUE) : NULL;
    if (!confidence)
        return FALSE;
    if (!g_strv_contains(source_ids(), source))
        return fail(reader, "\"%s\" is not a source known here", source);
    const char *note = NULL;
    if (json_object_has_member(object, "note") &&
        !(note = get_string(reader, object, "note", TRUE)))
        return FALSE;
    TableValue value = {property->key, property->label, property->kind, NAN, NULL, NULL, 0, NULL};
    const char *text = NULL;
    if (property->kind == QUANTITY_TEXT) {
        if (!(text = get_string(reader, object, "text", TRUE)))
            return FALSE;
    } else if (!read_number(reader, object, property, &value.value)) {
        return FALSE;
    }
    if (!read_confidence(reader, confidence, &value.confidence))
        return FALSE;
    value.text = g_strdup(text);
    value.source = g_strdup(source);
    value.note = g_strdup(note);
    *out = value;
    return TRUE;
}

// Values are kept in the order of the property table, whatever the order in the file.
static gboolean
read_values(Reader *reader, JsonObject *values, TableRow *row)
{
    g_autoptr(GList) members = json_object_get_members(values);
    for (GList *l = members; l; l = l->next) {
        set_place(reader, row->id, l->data);
        if (!table_property_find(reader->table, l->data))
            return fail(reader, "is not a property known here");
    }
    for (guint i = 0; i < table_property_count(); i++) {
        const TableProperty *property = table_property_at(i);
        if (property->table != reader->table)
            continue;
        set_place(reader, row->id, property->key);
        if (!json_object_has_member(values, property->key)) {
            if (property->required)
                return fail(reader, "is missing");
            continue;
        }
        JsonObject *object = get_object(values, property->key);
        if (!object)
            return fail(reader, "is not an object");
        TableValue value;
        if (!read_value(reader, property->key, object, &value))
            return FALSE;
        g_array_append_val(row->values, value);
    }
    return TRUE;
}

static gboolean
read_cautions(Reader *reader, JsonArray *array, TableRow *row)
{
    g_autoptr(GStrvBuilder) builder = g_strv_builder_new();
    for (guint i = 0; i < json_array_get_length(array); i++) {
        JsonNode *node = json_array_get_element(array, i);
        if (!JSON_NODE_HOLDS_VALUE(node) || json_node_get_value_type(node) != G_TYPE_STRING)
            return fail(reader, "caution %u is not a text", i + 1);
        g_strv_builder_add(builder, json_node_get_string(node));
    }
    row->cautions = g_strv_builder_end(builder);
    return TRUE;
}

// What no single value can show: limits in the wrong order.
static gboolean
check_order(Reader *reader, const TableRow *row)
{
    static const char *const pairs[][2] = {{"solidus", "liquidus"},
                                           {"liquidus", "pouring_temperature"},
                                           {"density_liquid", "density_solid"},
                                           {"firings_min", "firings_max"},
                                           {"warmup_1", "warmup_2"}};
    for (guint i = 0; i < G_N_ELEMENTS(pairs); i++) {
        // False where one of the two is absent.
        if (table_row_value(row, pairs[i][0]) > table_row_value(row, pairs[i][1]))
            return fail(reader, "%s is above %s", pairs[i][0], pairs[i][1]);
    }
    return TRUE;
}

static TableRow *
read_row(Reader *reader, JsonObject *object)
{
    static const char *const known[] = {"id", "name", "family", "cautions", "values", NULL};
    g_autoptr(TableRow) row = table_row_new();
    const char *id = get_string(reader, object, "id", TRUE);
    if (!id)
        return NULL;
    row->id = g_strdup(id);
    set_place(reader, id, NULL);
    const char *name = get_string(reader, object, "name", TRUE);
    const char *family = name ? get_string(reader, object, "family", reader->table == TABLE_METALS)
                              : NULL;
    if (!name || (!family && reader->table == TABLE_METALS) ||
        !check_members(reader, object, known))
        return NULL;
    row->name = g_strdup(name);
    row->family = g_strdup(family);
    JsonArray *cautions = get_array(object, "cautions");
    JsonObject *values = get_object(object, "values");
    if (!cautions || !values) {
        fail(reader, "\"cautions\" or \"values\" is missing or of the wrong kind");
        return NULL;
    }
    if (!read_cautions(reader, cautions, row) || !read_values(reader, values, row))
        return NULL;
    set_place(reader, row->id, NULL);
    if (!check_order(reader, row))
        return NULL;
    table_row_seal(row);
    return g_steal_pointer(&row);
}

static gboolean
read_rows(Reader *reader, JsonNode *root, GPtrArray *rows)
{
    if (!root || !JSON_NODE_HOLDS_OBJECT(root))
        return fail(reader, "is not an object");
    JsonObject *object = json_node_get_object(root);
    if (!json_object_has_member(object, "format") ||
        json_object_get_int_member_with_default(object, "format", 0) != 1)
        return fail(reader, "\"format\" is not 1");
    JsonArray *array = get_array(object, "rows");
    if (!array || json_array_get_length(array) == 0)
        return fail(reader, "holds no rows");
    g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);
    for (guint i = 0; i < json_array_get_length(array); i++) {
        g_autofree char *place = g_strdup_printf("row %u", i + 1);
        set_place(reader, place, NULL);
        JsonNode *node = json_array_get_element(array, i);
        if (!JSON_NODE_HOLDS_OBJECT(node))
            return fail(reader, "is not an object");
        TableRow *row = read_row(reader, json_node_get_object(node));
        if (!row)
            return FALSE;
        g_ptr_array_add(rows, row);
        if (!g_hash_table_add(seen, row->id))
            return fail(reader, "this id is used twice");
    }
    return TRUE;
}

GPtrArray *
table_rows_parse(TableName table, const char *file, const char *text, gssize length, GError **error)
{
    g_return_val_if_fail(text != NULL, NULL);
    g_autoptr(JsonParser) parser = json_parser_new();
    g_autoptr(GError) json_error = NULL;
    if (!json_parser_load_from_data(parser, text, length, &json_error)) {
        g_strdelimit(json_error->message, "\n", ' ');
        base_error_set(error, BASE_ERROR_FORMAT, file, NULL, json_error->message, remedy);
        return NULL;
    }
    Reader reader = {table, file, NULL, error};
    g_autoptr(GPtrArray) rows = g_ptr_array_new_with_free_func((GDestroyNotify)table_row_free);
    gboolean ok = read_rows(&reader, json_parser_get_root(parser), rows);
    g_free(reader.place);
    return ok ? g_steal_pointer(&rows) : NULL;
}
