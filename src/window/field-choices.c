// SPDX-License-Identifier: GPL-3.0-or-later
// Choices come from the field's own words, a table of the program, or a list of the book.
#include "window/field-choices.h"

#include <glib/gi18n.h>

// What is being put together.
typedef struct {
    Desk *desk;
    const Field *field;
    GtkStringList *names;
    GPtrArray *ids;
} Choices;

static void
add_choice(Choices *choices, const char *id, const char *name)
{
    g_ptr_array_add(choices->ids, g_strdup(id));
    gtk_string_list_append(choices->names, name && *name ? name : id);
}

static TableName
table_of(const Field *field)
{
    if (g_str_equal(field->choices, "metals"))
        return TABLE_METALS;
    return g_str_equal(field->choices, "sands") ? TABLE_SANDS : TABLE_CRUCIBLE_KINDS;
}

static void
add_table_rows(Choices *choices)
{
    const Tables *tables = desk_tables(choices->desk);
    TableName name = table_of(choices->field);
    for (guint i = 0; i < tables_size(tables, name); i++) {
        const TableRow *row = tables_at(tables, name, i);
        add_choice(choices, table_row_id(row), table_row_name(row));
    }
}

static void
add_book_entries(Choices *choices)
{
    const Book *book = desk_book(choices->desk);
    gboolean jobs = g_str_equal(choices->field->choices, "jobs");
    g_autofree char *place = jobs ? g_strdup("/jobs")
                                  : g_strdup_printf("/shop/%s", choices->field->choices);
    const Node *list = book ? node_get(book_root(book), place) : NULL;
    for (guint i = 0; i < node_size(list); i++) {
        const char *id = node_text(node_member(node_at(list, i), "id"));
        if (id && !(jobs && g_strcmp0(id, desk_job(choices->desk)) == 0))
            add_choice(choices, id, node_text(node_member(node_at(list, i), "name")));
    }
}

static void
add_words(Choices *choices)
{
    g_auto(GStrv) pairs = g_strsplit(choices->field->choices, "/", -1);
    for (char **pair = pairs; *pair; pair++) {
        g_auto(GStrv) sides = g_strsplit(*pair, "=", 2);
        add_choice(choices, sides[0], sides[1] ? _(sides[1]) : NULL);
    }
}

// The name of what an untouched choice stands for.
static const char *
default_name(const Choices *choices)
{
    const Tables *tables = desk_tables(choices->desk);
    const char *id = choices->field->fallback;
    if (choices->field->type == FIELD_ROW && id) {
        const TableRow *row = tables_find(tables, table_of(choices->field), id);
        return row ? table_row_name(row) : id;
    }
    if (choices->field->type == FIELD_ENTRY) {
        g_autofree char *place = g_strdup_printf("/shop/%s/0", choices->field->choices);
        const Book *book = desk_book(choices->desk);
        const Node *first = book ? node_get(book_root(book), place) : NULL;
        const char *name = node_text(node_member(first, "name"));
        return name && *name ? name : node_text(node_member(first, "id"));
    }
    g_auto(GStrv) pairs = g_strsplit(choices->field->choices, "/", -1);
    for (char **pair = pairs; id && *pair; pair++) {
        g_auto(GStrv) sides = g_strsplit(*pair, "=", 2);
        if (g_str_equal(sides[0], id) && sides[1])
            return g_intern_string(_(sides[1]));
    }
    return id;
}

static char *
default_choice(const Choices *choices)
{
    if (choices->field->type == FIELD_ENTRY && g_str_equal(choices->field->choices, "jobs"))
        return g_strdup(_("no other job"));
    const char *name = default_name(choices);
    return name ? g_strdup_printf(_("default: %s"), name) : g_strdup(_("as by default"));
}

GtkStringList *
fw_field_choices(Desk *desk, const Field *field, GPtrArray *ids)
{
    Choices choices = {desk, field, gtk_string_list_new(NULL), ids};
    g_ptr_array_set_size(ids, 0);
    g_autofree char *blank = default_choice(&choices);
    add_choice(&choices, "", blank);
    if (field->type == FIELD_ROW)
        add_table_rows(&choices);
    else if (field->type == FIELD_ENTRY)
        add_book_entries(&choices);
    else
        add_words(&choices);
    return choices.names;
}
