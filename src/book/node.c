// SPDX-License-Identifier: GPL-3.0-or-later
// An immutable tree of values with an atomic count on every node. A change copies the nodes on the
// way down to it and shares all the rest, so that a step of the history costs a few pointers.
#include "book/node.h"

#include <math.h>
#include <string.h>

struct Node {
    NodeKind kind;
    gboolean truth;
    double number;
    char *text;   // of a text; of a number as the file had it, else NULL
    guint size;   // of a list or an object
    Node **items; // its values
    char **names; // of an object, as many as there are values
};

static Node *
make_node(NodeKind kind)
{
    Node *node = g_atomic_rc_box_new0(Node);
    node->kind = kind;
    node->number = NAN;
    return node;
}

static Node *
make_parent(NodeKind kind, guint size)
{
    Node *node = make_node(kind);
    node->size = size;
    node->items = g_new0(Node *, size);
    if (kind == NODE_OBJECT)
        node->names = g_new0(char *, size);
    return node;
}

static void
clear_node(gpointer data)
{
    Node *node = data;
    for (guint i = 0; i < node->size; i++) {
        node_unref(node->items[i]);
        if (node->names)
            g_free(node->names[i]);
    }
    g_free(node->items);
    g_free(node->names);
    g_free(node->text);
}

Node *
node_ref(const Node *node)
{
    g_return_val_if_fail(node != NULL, NULL);
    return g_atomic_rc_box_acquire((Node *)node);
}

void
node_unref(const Node *node)
{
    if (node)
        g_atomic_rc_box_release_full((Node *)node, clear_node);
}

Node *
node_new_null(void)
{
    return make_node(NODE_NULL);
}

Node *
node_new_bool(gboolean value)
{
    Node *node = make_node(NODE_BOOL);
    node->truth = value != FALSE;
    return node;
}

// `value` must be finite: a file has no other numbers.
Node *
node_new_number(double value)
{
    g_return_val_if_fail(isfinite(value), NULL);
    Node *node = make_node(NODE_NUMBER);
    node->number = value;
    return node;
}

Node *
node_new_number_text(const char *text)
{
    g_return_val_if_fail(text != NULL, NULL);
    Node *node = make_node(NODE_NUMBER);
    node->number = g_ascii_strtod(text, NULL);
    node->text = g_strdup(text);
    return node;
}

Node *
node_new_text(const char *text)
{
    g_return_val_if_fail(text != NULL, NULL);
    Node *node = make_node(NODE_TEXT);
    node->text = g_strdup(text);
    return node;
}

Node *
node_new_list(void)
{
    return make_parent(NODE_LIST, 0);
}

Node *
node_new_object(void)
{
    return make_parent(NODE_OBJECT, 0);
}

Node *
node_new_list_of(Node **values, guint size)
{
    Node *node = make_parent(NODE_LIST, size);
    for (guint i = 0; i < size; i++)
        node->items[i] = values[i];
    return node;
}

Node *
node_new_object_of(char **names, Node **values, guint size)
{
    Node *node = make_parent(NODE_OBJECT, size);
    for (guint i = 0; i < size; i++) {
        node->items[i] = values[i];
        node->names[i] = names[i];
    }
    return node;
}

NodeKind
node_kind(const Node *node)
{
    return node ? node->kind : NODE_NULL;
}

gboolean
node_bool(const Node *node)
{
    return node && node->truth;
}

double
node_number(const Node *node)
{
    return node ? node->number : NAN;
}

// The text the number had in its file, else the fewest digits that read back to the same double.
// Free; NULL if the node is no number.
char *
node_number_text(const Node *node)
{
    if (node_kind(node) != NODE_NUMBER)
        return NULL;
    if (node->text)
        return g_strdup(node->text);
    char buffer[G_ASCII_DTOSTR_BUF_SIZE];
    for (int digits = 1; digits <= 17; digits++) {
        char format[8];
        g_snprintf(format, sizeof format, "%%.%dg", digits);
        g_ascii_formatd(buffer, sizeof buffer, format, node->number);
        if (g_ascii_strtod(buffer, NULL) == node->number)
            break;
    }
    return g_strdup(buffer);
}

const char *
node_text(const Node *node)
{
    return node && node->kind == NODE_TEXT ? node->text : NULL;
}

guint
node_size(const Node *node)
{
    return node ? node->size : 0;
}

const Node *
node_at(const Node *node, guint index)
{
    return node && index < node->size ? node->items[index] : NULL;
}

const char *
node_member_name(const Node *node, guint index)
{
    return node && node->names && index < node->size ? node->names[index] : NULL;
}

// Index of a member, or G_MAXUINT.
static guint
find_member(const Node *object, const char *name)
{
    if (node_kind(object) != NODE_OBJECT)
        return G_MAXUINT;
    for (guint i = 0; i < object->size; i++)
        if (strcmp(object->names[i], name) == 0)
            return i;
    return G_MAXUINT;
}

const Node *
node_member(const Node *node, const char *name)
{
    return node_at(node, find_member(node, name));
}

// Copies items [from, from + count) of `source` to `target` starting at `to`.
static void
copy_items(Node *target, guint to, const Node *source, guint from, guint count)
{
    for (guint i = 0; i < count; i++) {
        target->items[to + i] = node_ref(source->items[from + i]);
        if (target->names)
            target->names[to + i] = g_strdup(source->names[from + i]);
    }
}

static Node *
copy_without(const Node *parent, guint index)
{
    Node *copy = make_parent(parent->kind, parent->size - 1);
    copy_items(copy, 0, parent, 0, index);
    copy_items(copy, index, parent, index + 1, parent->size - 1 - index);
    return copy;
}

// A member that exists keeps its place among the others; a new one comes last.
Node *
node_with_member(const Node *object, const char *name, const Node *value)
{
    g_return_val_if_fail(node_kind(object) == NODE_OBJECT, NULL);
    guint index = find_member(object, name);
    if (!value)
        return index == G_MAXUINT ? node_ref(object) : copy_without(object, index);
    if (index != G_MAXUINT)
        return node_with_item(object, index, value);
    Node *copy = make_parent(NODE_OBJECT, object->size + 1);
    copy_items(copy, 0, object, 0, object->size);
    copy->items[object->size] = node_ref(value);
    copy->names[object->size] = g_strdup(name);
    return copy;
}

Node *
node_with_item(const Node *list, guint index, const Node *value)
{
    g_return_val_if_fail(list != NULL && index < list->size && value != NULL, NULL);
    Node *copy = make_parent(list->kind, list->size);
    copy_items(copy, 0, list, 0, list->size);
    node_unref(copy->items[index]);
    copy->items[index] = node_ref(value);
    return copy;
}

Node *
node_with_insert(const Node *list, guint index, const Node *value)
{
    g_return_val_if_fail(node_kind(list) == NODE_LIST && value != NULL, NULL);
    index = MIN(index, list->size);
    Node *copy = make_parent(NODE_LIST, list->size + 1);
    copy_items(copy, 0, list, 0, index);
    copy->items[index] = node_ref(value);
    copy_items(copy, index + 1, list, index, list->size - index);
    return copy;
}

Node *
node_with_remove(const Node *list, guint index)
{
    g_return_val_if_fail(list != NULL && index < list->size, NULL);
    return copy_without(list, index);
}

// Members whose name holds a '/' cannot be named by a place; they are kept, not edited.
const Node *
node_get(const Node *root, const char *place)
{
    g_return_val_if_fail(place != NULL, NULL);
    g_auto(GStrv) words = g_strsplit(*place == '/' ? place + 1 : place, "/", -1);
    const Node *node = root;
    for (char **word = words; *word && node; word++) {
        guint64 index = 0;
        if (node->kind == NODE_OBJECT)
            node = node_member(node, *word);
        else if (node->kind == NODE_LIST &&
                 g_ascii_string_to_unsigned(*word, 10, 0, G_MAXUINT - 1, &index, NULL))
            node = node_at(node, (guint)index);
        else
            node = NULL;
    }
    return node;
}

// Two numbers are equal when they have the same value; beyond 2^53, where one double stands for
// several whole numbers, also the same text.
static gboolean
same_number(const Node *a, const Node *b)
{
    if (a->number != b->number)
        return FALSE;
    if (fabs(a->number) < 9007199254740992.0)
        return TRUE;
    g_autofree char *text_a = node_number_text(a);
    g_autofree char *text_b = node_number_text(b);
    return strcmp(text_a, text_b) == 0;
}

// The order of an object's members counts: it is written to the file.
gboolean
node_equal(const Node *a, const Node *b)
{
    if (a == b)
        return TRUE;
    if (!a || !b || a->kind != b->kind || a->size != b->size)
        return FALSE;
    if (a->kind == NODE_NUMBER)
        return same_number(a, b);
    if (a->truth != b->truth || g_strcmp0(a->text, b->text) != 0)
        return FALSE;
    for (guint i = 0; i < a->size; i++) {
        if (a->names && strcmp(a->names[i], b->names[i]) != 0)
            return FALSE;
        if (!node_equal(a->items[i], b->items[i]))
            return FALSE;
    }
    return TRUE;
}
