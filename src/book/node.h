// SPDX-License-Identifier: GPL-3.0-or-later
// The stuff a Book is made of: an immutable tree of values, shared between Books. Unknown members
// are nodes like any other, which is how they survive a round trip.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef enum {
    NODE_NULL,
    NODE_BOOL,
    NODE_NUMBER,
    NODE_TEXT,
    NODE_LIST,
    NODE_OBJECT
} NodeKind;

// Reference-counted with an atomic count; may cross threads.
typedef struct Node Node;

Node *node_ref(const Node *node);
void node_unref(const Node *node); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Node, node_unref)

Node *node_new_null(void);
Node *node_new_bool(gboolean value);
Node *node_new_number(double value); // written back with the fewest digits that read the same
Node *node_new_text(const char *text);
Node *node_new_list(void);
Node *node_new_object(void);
// A number written in a file, kept as it stands there so that nothing is lost on the way back;
// `text` must be a number in the grammar of JSON.
Node *node_new_number_text(const char *text);
// A list or object of `size` values at once; takes the values and names over (not the arrays).
Node *node_new_list_of(Node **values, guint size);
Node *node_new_object_of(char **names, Node **values, guint size);

NodeKind node_kind(const Node *node); // NODE_NULL for NULL
gboolean node_bool(const Node *node);
double node_number(const Node *node);                        // NAN if not a number
char *node_number_text(const Node *node);                    // as a file has it; never by locale
const char *node_text(const Node *node);                     // NULL if not a text
guint node_size(const Node *node);                           // members or items
const Node *node_at(const Node *node, guint index);          // item or member value
const char *node_member_name(const Node *node, guint index); // of an object
const Node *node_member(const Node *node, const char *name); // NULL if absent

// Copies with one change; everything else is shared. Adopt nothing: the new value is referenced.
Node *node_with_member(const Node *object, const char *name, const Node *value); // NULL removes
Node *node_with_item(const Node *list, guint index, const Node *value);          // replace
Node *node_with_insert(const Node *list, guint index, const Node *value);        // G_MAXUINT: end
Node *node_with_remove(const Node *list, guint index);

// "/jobs/0/allowance": a place in the tree. Items by number, members by name. NULL if absent.
const Node *node_get(const Node *root, const char *place);

gboolean node_equal(const Node *a, const Node *b);

G_END_DECLS
