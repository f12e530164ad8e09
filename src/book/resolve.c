// SPDX-License-Identifier: GPL-3.0-or-later
// Resolving inputs: for every path a stage declares, what the person typed, else the learned value,
// else the default (its text, or a value of a table row), each with its source. Everything a stage
// can see goes into the digest.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "book/inputs-private.h"

typedef struct {
    const Book *book;
    const char *job_id;
    const Tables *tables;
    const Learned *learned;
    Inputs *inputs;
    Digest *digest;
} Resolver;

// Sections whose values are rows of tables, and the field that chooses the row.
static const struct {
    const char *section, *field;
    TableName table;
} row_sections[] = {
    {"metal", "job.metal", TABLE_METALS},
    {"sandkind", "sand.kind", TABLE_SANDS},
    {"cruciblekind", "crucible.kind", TABLE_CRUCIBLE_KINDS},
    {"ratingmetal", "crucible.rating_metal", TABLE_METALS},
};

static Input *resolve_field(Resolver *resolver, const Field *field);

static Input *
make_input(const char *path, const char *label, QuantityKind kind)
{
    Input *item = g_new0(Input, 1);
    item->path = g_strdup(path);
    item->label = label;
    item->kind = kind;
    item->value = NAN;
    return item;
}

static void
keep_error(Input *item, GError *error)
{
    item->value = NAN;
    item->error = g_strdup(error->message);
    g_error_free(error);
}

// Index in row_sections of the section of `path`, or -1.
static int
find_row_section(const char *path)
{
    for (guint i = 0; i < G_N_ELEMENTS(row_sections); i++) {
        gsize n = strlen(row_sections[i].section);
        if (strncmp(path, row_sections[i].section, n) == 0 && path[n] == '.')
            return (int)i;
    }
    return -1;
}

static const TableRow *
find_row(Resolver *resolver, int section)
{
    g_autoptr(Input) choice = resolve_field(resolver, field_find(row_sections[section].field));
    if (!resolver->tables || !choice->text || choice->error)
        return NULL;
    return tables_find(resolver->tables, row_sections[section].table, choice->text);
}

// A value of this key from any row of the table, for its label and kind when the chosen row has
// none.
static const TableValue *
find_any_value(Resolver *resolver, TableName table, const char *key)
{
    for (guint i = 0; resolver->tables && i < tables_size(resolver->tables, table); i++) {
        const TableRow *row = tables_at(resolver->tables, table, i);
        const TableValue *value = table_row_find(row, key);
        if (value)
            return value;
    }
    return NULL;
}

static Input *
resolve_property(Resolver *resolver, int section, const char *key, const TableRow *row)
{
    TableName table = row_sections[section].table;
    const TableValue *any = find_any_value(resolver, table, key);
    const TableValue *value = row ? table_row_find(row, key) : NULL;
    g_autofree char *path = g_strdup_printf("%s.%s", row_sections[section].section, key);
    Input *item = make_input(path, any ? any->label : NULL, any ? any->kind : QUANTITY_NUMBER);
    item->blank = TRUE;
    if (!item->label)
        item->label = g_intern_string(key);
    if (!value)
        return item;
    item->value = value->value;
    item->source = g_strdup(value->source);
    if (value->text)
        item->text = g_strdup(value->text);
    else if (isfinite(value->value))
        item->text = quantity_format(value->kind, value->value, &resolver->inputs->units);
    return item;
}

// "@metal.contraction": the value of a table row, with that value's own source.
static void
take_table_default(Resolver *resolver, const Field *field, Input *item)
{
    const char *path = field->fallback + 1;
    int section = find_row_section(path);
    g_return_if_fail(section >= 0);
    const TableRow *row = find_row(resolver, section);
    g_autoptr(Input) value = resolve_property(resolver, section, field_member(path), row);
    item->value = value->value;
    item->text = g_steal_pointer(&value->text);
    g_free(item->source);
    item->source = g_strdup(value->source ? value->source : field->source);
}

static void
take_default(Resolver *resolver, const Field *field, Input *item)
{
    const LearnedValue *learned = learned_find(resolver->learned, field->path);
    item->blank = TRUE;
    item->source = g_strdup(field->source);
    if (learned && field->type == FIELD_QUANTITY) {
        g_free(item->source);
        item->value = learned->value;
        item->text = quantity_format(field->kind, learned->value, &resolver->inputs->units);
        item->source = g_strdup(learned->source);
    } else if (field->type == FIELD_ENTRY && strcmp(field->choices, "jobs") == 0) {
        item->text = NULL; // no other job
    } else if (field->type == FIELD_ENTRY) {
        const char *section = field_member(field->path);
        item->text = g_strdup(book_entry_id(resolver->book, resolver->job_id, section));
    } else if (field->fallback && *field->fallback == '@') {
        take_table_default(resolver, field, item);
    } else if (field->fallback) {
        item->text = g_strdup(field->fallback);
        GError *error = NULL;
        if (!field_check(field, field->fallback, &resolver->inputs->units, resolver->tables,
                         &item->value, &error))
            keep_error(item, error);
    }
}

static void
take_typed(Resolver *resolver, const Field *field, Input *item)
{
    GError *error = NULL;
    item->source = g_strdup("user");
    if (!field_check(field, item->text, &resolver->inputs->units, resolver->tables, &item->value,
                     &error))
        keep_error(item, error);
    else if (field->type == FIELD_ENTRY && strcmp(field->choices, "jobs") != 0) {
        book_section(resolver->book, resolver->job_id, field_member(field->path), NULL, &error);
        if (error)
            keep_error(item, error);
    }
}

static Input *
resolve_field(Resolver *resolver, const Field *field)
{
    Input *item = make_input(field->path, field->label, field->kind);
    g_autofree char *section = field_section(field->path);
    GError *error = NULL;
    const Node *entry = book_section(resolver->book, resolver->job_id, section, NULL, &error);
    if (error) {
        keep_error(item, error);
        return item;
    }
    const Node *node = node_member(entry, field_member(field->path));
    if (!field_node_text(field, node, &item->text, &error))
        keep_error(item, error);
    else if (item->text)
        take_typed(resolver, field, item);
    else
        take_default(resolver, field, item);
    return item;
}

static void
digest_input(Digest *digest, const Input *item)
{
    digest_add_string(digest, item->path);
    digest_add_double(digest, item->value);
    digest_add_string(digest, item->text);
    digest_add_string(digest, item->source);
    digest_add_string(digest, item->error);
    digest_add_int(digest, item->blank);
}

static void
add_input(Resolver *resolver, Input *item)
{
    digest_input(resolver->digest, item);
    inputs_add(resolver->inputs, item);
}

// "metal.*": every key any row of the table has, so that what the chosen row lacks is unknown and
// not undeclared.
static void
add_row(Resolver *resolver, int section)
{
    TableName table = row_sections[section].table;
    const TableRow *row = find_row(resolver, section);
    InputRow kept = {g_strdup(row_sections[section].section), row};
    g_array_append_val(resolver->inputs->rows, kept);
    digest_add_string(resolver->digest, row ? table_row_id(row) : NULL);
    digest_add_string(resolver->digest, row ? table_row_digest(row) : NULL);
    for (guint i = 0; resolver->tables && i < tables_size(resolver->tables, table); i++) {
        const TableRow *other = tables_at(resolver->tables, table, i);
        for (guint k = 0; k < table_row_size(other); k++) {
            const char *key = table_row_at(other, k)->key;
            g_autofree char *path = g_strdup_printf("%s.%s", row_sections[section].section, key);
            if (!g_hash_table_contains(resolver->inputs->index, path))
                add_input(resolver, resolve_property(resolver, section, key, row));
        }
    }
}

static void
digest_node(Digest *digest, const Node *node)
{
    digest_add_int(digest, node_kind(node));
    digest_add_int(digest, node_size(node));
    if (node_kind(node) == NODE_NUMBER) {
        g_autofree char *text = node_number_text(node);
        digest_add_string(digest, text);
    } else if (node_kind(node) == NODE_BOOL) {
        digest_add_int(digest, node_bool(node));
    } else {
        digest_add_string(digest, node_text(node));
    }
    for (guint i = 0; i < node_size(node); i++) {
        digest_add_string(digest, node_member_name(node, i));
        digest_node(digest, node_at(node, i));
    }
}

static void
add_log(Resolver *resolver)
{
    const Node *log = node_member(book_root(resolver->book), "log");
    guint sessions = node_size(node_member(log, "sessions"));
    Input *item = make_input("log", N_("Log"), QUANTITY_TEXT);
    item->text = g_strdup_printf(ngettext("%u session", "%u sessions", sessions), sessions);
    item->source = g_strdup("user");
    add_input(resolver, item);
    digest_node(resolver->digest, log);
    resolver->inputs->log = log ? node_ref(log) : NULL;
}

// The file is hashed anew each time: a cached hash could stand for an older content.
static void
add_mesh(Resolver *resolver)
{
    Inputs *inputs = resolver->inputs;
    Input *item = make_input("mesh", N_("Finished part"), QUANTITY_TEXT);
    GError *error = NULL;
    item->source = g_strdup("user");
    inputs->mesh_path = book_mesh_path(resolver->book, resolver->job_id);
    if (inputs->mesh_path) {
        item->text = g_path_get_basename(inputs->mesh_path);
        inputs->mesh_sha256 = digest_of_file(inputs->mesh_path, &error);
    } else {
        item->blank = TRUE;
        base_error_set(&error, BASE_ERROR_NOT_FOUND, NULL, NULL, _("the job names no mesh"),
                       _("choose the mesh of the finished part"));
    }
    if (error)
        keep_error(item, error);
    add_input(resolver, item);
    g_autoptr(Input) unit = resolve_field(resolver, field_find("job.mesh_unit"));
    digest_input(resolver->digest, unit);
    digest_add_string(resolver->digest, inputs->mesh_path);
    digest_add_string(resolver->digest, inputs->mesh_sha256);
}

// Every metal and every crucible kind, for a stage that has to name others than those chosen.
static void
add_tables(Resolver *resolver)
{
    static const TableName names[] = {TABLE_METALS, TABLE_CRUCIBLE_KINDS};
    Input *item = make_input("tables", N_("Tables"), QUANTITY_TEXT);
    item->text = g_strdup(_("metals and crucible kinds"));
    item->source = g_strdup("table");
    add_input(resolver, item);
    for (guint i = 0; resolver->tables && i < G_N_ELEMENTS(names); i++)
        for (guint k = 0; k < tables_size(resolver->tables, names[i]); k++)
            digest_add_string(resolver->digest,
                              table_row_digest(tables_at(resolver->tables, names[i], k)));
    resolver->inputs->tables = resolver->tables;
}

static void
add_jobs(Resolver *resolver)
{
    guint count = book_job_count(resolver->book);
    Input *item = make_input("jobs", N_("Jobs"), QUANTITY_COUNT);
    item->value = count;
    item->source = g_strdup("user");
    add_input(resolver, item);
    for (guint i = 0; i < count; i++)
        digest_add_string(resolver->digest, book_job_id(resolver->book, i));
}

static void
add_path(Resolver *resolver, const char *path)
{
    int section = find_row_section(path);
    const Field *field = NULL;
    digest_add_string(resolver->digest, path);
    if (g_hash_table_contains(resolver->inputs->index, path))
        return;
    if (section >= 0 && g_str_has_suffix(path, ".*"))
        add_row(resolver, section);
    else if (section >= 0)
        add_input(resolver, resolve_property(resolver, section, field_member(path),
                                             find_row(resolver, section)));
    else if (strcmp(path, "log") == 0)
        add_log(resolver);
    else if (strcmp(path, "mesh") == 0)
        add_mesh(resolver);
    else if (strcmp(path, "jobs") == 0)
        add_jobs(resolver);
    else if (strcmp(path, "tables") == 0)
        add_tables(resolver);
    else if ((field = field_find(path)))
        add_input(resolver, resolve_field(resolver, field));
    else
        g_critical("no field or table value is called \"%s\"", path);
}

Inputs *
inputs_resolve(const Book *book, const char *job_id, const Tables *tables, const Learned *learned,
               const char *const *paths)
{
    g_return_val_if_fail(book != NULL && paths != NULL, NULL);
    g_autoptr(Digest) digest = digest_new();
    Resolver resolver = {book, job_id, tables, learned, inputs_new(), digest};
    UnitSet *units = &resolver.inputs->units;
    *units = book_units(book);
    digest_add_int(digest, units->inches);
    digest_add_int(digest, units->pounds);
    digest_add_int(digest, units->fahrenheit);
    digest_add_string(digest, units->currency);
    for (const char *const *path = paths; *path; path++)
        add_path(&resolver, *path);
    resolver.inputs->digest = digest_end(digest);
    return resolver.inputs;
}
