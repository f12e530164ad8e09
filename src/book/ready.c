// SPDX-License-Identifier: GPL-3.0-or-later
// The book to start from. Its shop has one of everything, named and otherwise blank: blank fields
// take the defaults of the field table, whose source stays visible beside every figure, and give
// way to what the log teaches. Writing the defaults in as if the person had typed them would hide
// both.
#include <glib/gi18n-lib.h>

#include "book/book.h"

// Adds a text member to a fresh object.
static Node *
add_text(Node *object, const char *name, const char *text)
{
    g_autoptr(Node) before = object;
    g_autoptr(Node) value = node_new_text(text);
    return node_with_member(before, name, value);
}

// Adds a member and takes its value over.
static Node *
add_node(Node *object, const char *name, Node *value)
{
    g_autoptr(Node) before = object;
    g_autoptr(Node) owned = value;
    return node_with_member(before, name, owned);
}

static Node *
make_entries(const char *id, const char *name)
{
    Node *entry = node_new_object();
    entry = add_text(entry, "id", id);
    entry = add_text(entry, "name", name);
    return node_new_list_of(&entry, 1);
}

static Node *
make_shop(void)
{
    Node *shop = node_new_object();
    shop = add_text(shop, "name", _("Shop"));
    shop = add_text(shop, "lengths", "mm");
    shop = add_text(shop, "masses", "kg");
    shop = add_text(shop, "temperatures", "C");
    shop = add_text(shop, "currency", "EUR");
    shop = add_node(shop, "furnaces", make_entries("furnace-1", _("Furnace")));
    shop = add_node(shop, "crucibles", make_entries("crucible-1", _("Crucible")));
    shop = add_node(shop, "flasks", make_entries("flask-1", _("Flask")));
    static const char *const objects[] = {"sand", "people", "rates", "machine", "printer"};
    for (guint i = 0; i < G_N_ELEMENTS(objects); i++)
        shop = add_node(shop, objects[i], node_new_object());
    return shop;
}

Book *
book_new_ready(void)
{
    Node *root = node_new_object();
    root = add_text(root, "format", "castbook");
    root = add_node(root, "version", node_new_number(BOOK_VERSION));
    root = add_node(root, "shop", make_shop());
    root = add_node(root, "jobs", node_new_list());
    root = add_node(root, "log", add_node(node_new_object(), "sessions", node_new_list()));
    Book *book = book_new(root, NULL);
    node_unref(root);
    return book;
}
