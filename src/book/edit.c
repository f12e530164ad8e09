// SPDX-License-Identifier: GPL-3.0-or-later
// Applying an edit: the nodes on the way to the place are copied with the one change, all others
// shared. A place that is not there is an error, except that setting makes missing objects and
// inserting makes the missing list. What would not be read from a file is not made by an edit
// either, else a person could save a book and never open it again.
#include "book/edit.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "book/check.h"
#include "book/edit-private.h"

static Edit *
make_edit(EditKind kind, const char *place, const Node *value, const char *label)
{
    g_return_val_if_fail(place != NULL && (*place == '\0' || *place == '/'), NULL);
    Edit *edit = g_new0(Edit, 1);
    edit->kind = kind;
    edit->place = g_strdup(place);
    edit->value = value ? node_ref(value) : NULL;
    edit->label = g_strdup(label);
    return edit;
}

// Place "" is the whole book.
Edit *
edit_set(const char *place, const Node *value, const char *label)
{
    g_return_val_if_fail(value != NULL, NULL);
    return make_edit(EDIT_SET, place, value, label);
}

Edit *
edit_insert(const char *place, const Node *value, const char *label)
{
    g_return_val_if_fail(value != NULL, NULL);
    return make_edit(EDIT_INSERT, place, value, label);
}

Edit *
edit_remove(const char *place, const char *label)
{
    return make_edit(EDIT_REMOVE, place, NULL, label);
}

void
edit_free(Edit *edit)
{
    if (!edit)
        return;
    g_free(edit->place);
    node_unref(edit->value);
    g_free(edit->label);
    g_free(edit);
}

static Node *
fail_no_place(const Edit *edit, GError **error)
{
    base_error_set(error, BASE_ERROR_NOT_FOUND, NULL, edit->place,
                   _("there is no such place in the book"), _("look at the book again"));
    return NULL;
}

// Index named by a word in a list of `size`; "-" is its end. G_MAXUINT if it is none.
static guint
read_index(const char *word, guint size)
{
    guint64 index = 0;
    if (strcmp(word, "-") == 0)
        return size;
    if (!g_ascii_string_to_unsigned(word, 10, 0, G_MAXUINT - 1, &index, NULL))
        return G_MAXUINT;
    return (guint)index;
}

static gboolean
clears(const Edit *edit)
{
    return edit->kind == EDIT_REMOVE ||
           (edit->kind == EDIT_SET && node_kind(edit->value) == NODE_NULL);
}

static Node *
change_member(const Node *object, const char *name, const Edit *edit, GError **error)
{
    gboolean there = node_member(object, name) != NULL;
    if (edit->kind == EDIT_INSERT || (edit->kind == EDIT_REMOVE && !there))
        return fail_no_place(edit, error);
    return node_with_member(object, name, clears(edit) ? NULL : edit->value);
}

static Node *
change_item(const Node *list, const char *word, const Edit *edit, GError **error)
{
    guint index = read_index(word, node_size(list));
    if (edit->kind == EDIT_INSERT && index <= node_size(list))
        return node_with_insert(list, index, edit->value);
    if (edit->kind == EDIT_INSERT || index >= node_size(list))
        return fail_no_place(edit, error);
    if (edit->kind == EDIT_REMOVE)
        return node_with_remove(list, index);
    return node_with_item(list, index, edit->value);
}

// What stands in for a missing member on the way; NULL if nothing may.
static Node *
make_missing(char **words, const Edit *edit)
{
    if (edit->kind == EDIT_REMOVE)
        return NULL;
    gboolean list = edit->kind == EDIT_INSERT && words[1] && !words[2];
    return list ? node_new_list() : node_new_object();
}

static Node *
change_node(const Node *node, char **words, const Edit *edit, GError **error)
{
    NodeKind kind = node_kind(node);
    if (kind != NODE_OBJECT && kind != NODE_LIST)
        return fail_no_place(edit, error);
    if (!words[1] && kind == NODE_OBJECT)
        return change_member(node, words[0], edit, error);
    if (!words[1])
        return change_item(node, words[0], edit, error);
    guint index = kind == NODE_LIST ? read_index(words[0], node_size(node)) : 0;
    const Node *child = kind == NODE_LIST ? node_at(node, index) : node_member(node, words[0]);
    g_autoptr(Node) made = NULL;
    if (!child && kind == NODE_OBJECT && edit->kind == EDIT_SET && clears(edit))
        return node_ref(node);
    if (!child && kind == NODE_OBJECT)
        child = made = make_missing(words, edit);
    if (!child)
        return fail_no_place(edit, error);
    g_autoptr(Node) changed = change_node(child, words + 1, edit, error);
    if (!changed)
        return NULL;
    return kind == NODE_LIST ? node_with_item(node, index, changed)
                             : node_with_member(node, words[0], changed);
}

Node *
edit_root(const Node *root, const Edit *edit, GError **error)
{
    if (*edit->place == '\0') {
        gboolean whole = edit->kind == EDIT_SET && node_kind(edit->value) == NODE_OBJECT;
        return whole ? node_ref(edit->value) : fail_no_place(edit, error);
    }
    g_auto(GStrv) words = g_strsplit(edit->place + 1, "/", -1);
    return words[0] ? change_node(root, words, edit, error) : fail_no_place(edit, error);
}

Book *
edit_apply(const Book *book, const Edit *edit, GError **error)
{
    g_return_val_if_fail(book != NULL && edit != NULL, NULL);
    g_autoptr(Node) root = edit_root(book_root(book), edit, error);
    if (!root || !check_change(root, edit->place, error))
        return NULL;
    return book_new(root, book_folder(book));
}
