// SPDX-License-Identifier: GPL-3.0-or-later
// A shop that turns from millimetres to inches has typed "25" in places and meant 25 mm. Every text
// that reads differently under the new units gets its old unit written after it; all others stay
// as they were typed.
#include "book/reunit.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "book/edit-private.h"
#include "book/log-members.h"

typedef struct {
    UnitSet before, after;
} Change;

gboolean
reunit_concerns(const Field *field)
{
    return strcmp(field->path, "shop.lengths") == 0 || strcmp(field->path, "shop.masses") == 0 ||
           strcmp(field->path, "shop.temperatures") == 0;
}

// The text to stand instead of `text`, or NULL when it means the same either way. Free.
static char *
make_text(const Change *change, QuantityKind kind, const char *text)
{
    double before = 0, after = 0;
    if (!quantity_parse(kind, text, &change->before, &before, NULL))
        return NULL;
    if (quantity_parse(kind, text, &change->after, &after, NULL) && after == before)
        return NULL;
    g_autofree char *longer = g_strdup_printf("%s %s", text,
                                              quantity_shop_unit(kind, &change->before));
    if (quantity_parse(kind, longer, &change->after, &after, NULL) && after == before)
        return g_steal_pointer(&longer);
    return quantity_format_exact(kind, before, &change->before);
}

// Takes `object` over; gives it back with one member rewritten where needed.
static Node *
change_member(const Change *change, Node *object, const char *member, QuantityKind kind)
{
    const char *text = node_text(node_member(object, member));
    g_autofree char *better = text ? make_text(change, kind, text) : NULL;
    if (!better)
        return object;
    g_autoptr(Node) before = object;
    g_autoptr(Node) value = node_new_text(better);
    return node_with_member(before, member, value);
}

static Node *
change_section(const Change *change, const Node *object, const char *section)
{
    if (node_kind(object) != NODE_OBJECT)
        return node_ref(object);
    Node *changed = node_ref(object);
    for (guint i = 0; i < field_count(); i++) {
        const Field *field = field_at(i);
        g_autofree char *own = field_section(field->path);
        if (field->type == FIELD_QUANTITY && strcmp(own, section) == 0)
            changed = change_member(change, changed, field_member(field->path), field->kind);
    }
    return changed;
}

// Takes `root` over. Rewrites a section wherever it lies.
static Node *
change_place(const Change *change, Node *root, const char *section)
{
    gboolean in_list = FALSE;
    const char *place = field_section_place(section, &in_list);
    const Node *found = node_get(root, place);
    if (!found)
        return root;
    g_autoptr(Node) changed = node_ref(found);
    if (in_list && node_kind(found) != NODE_LIST)
        return root;
    for (guint i = 0; in_list && i < node_size(found); i++) {
        g_autoptr(Node) item = change_section(change, node_at(found, i), section);
        g_autoptr(Node) before = g_steal_pointer(&changed);
        changed = node_with_item(before, i, item);
    }
    if (!in_list) {
        node_unref(changed);
        changed = change_section(change, found, section);
    }
    g_autoptr(Edit) edit = edit_set(place, changed, NULL);
    g_autoptr(Node) before = root;
    return edit_root(before, edit, NULL);
}

// The log is a tree of sessions, loads and flasks; its quantities are known by member name.
static Node *
change_log(const Change *change, const Node *node)
{
    Node *changed = node_ref(node);
    if (node_kind(node) != NODE_OBJECT && node_kind(node) != NODE_LIST)
        return changed;
    for (guint i = 0; i < node_size(node); i++) {
        g_autoptr(Node) item = change_log(change, node_at(node, i));
        if (item == node_at(node, i))
            continue;
        g_autoptr(Node) before = changed;
        changed = node_with_item(before, i, item);
    }
    for (guint i = 0; node_kind(node) == NODE_OBJECT && i < log_member_count(); i++)
        changed = change_member(change, changed, log_member_at(i)->name, log_member_at(i)->kind);
    return changed;
}

Edit *
reunit_edit(const Book *book, const Field *field, const Node *value)
{
    static const char *const sections[] = {"shop",    "sand",    "people",   "rates", "machine",
                                           "printer", "furnace", "crucible", "flask", "job"};
    g_autofree char *place = edit_field_place(book, NULL, field);
    g_autoptr(Edit) plain = edit_set(place, value, NULL);
    g_autoptr(Node) root = edit_root(book_root(book), plain, NULL);
    g_return_val_if_fail(root != NULL, NULL);
    g_autoptr(Book) after = book_new(root, NULL);
    Change change = {book_units(book), book_units(after)};
    for (guint i = 0; i < G_N_ELEMENTS(sections); i++)
        root = change_place(&change, g_steal_pointer(&root), sections[i]);
    const Node *log = node_member(root, "log");
    if (log) {
        g_autoptr(Node) changed = change_log(&change, log);
        g_autoptr(Node) before = g_steal_pointer(&root);
        root = node_with_member(before, "log", changed);
    }
    return edit_set("", root, _(field->edit));
}
