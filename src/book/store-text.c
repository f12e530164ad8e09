// SPDX-License-Identifier: GPL-3.0-or-later
// Nodes to JSON text: two spaces a level or all on one line, members in their order, numbers as
// they came or with the fewest digits. Nothing here looks at the locale.
#include <string.h>

#include "book/store.h"

#define ONE_LINE G_MAXUINT // a level at which no line is started

static void
write_text(GString *out, const char *text)
{
    static const char plain[] = "\"\\\b\f\n\r\t", escaped[] = "\"\\bfnrt";
    g_string_append_c(out, '"');
    for (const char *p = text; *p; p++) {
        const char *found = strchr(plain, *p);
        if (found) {
            g_string_append_c(out, '\\');
            g_string_append_c(out, escaped[found - plain]);
        } else if ((guchar)*p < 0x20) {
            g_string_append_printf(out, "\\u%04x", (guchar)*p);
        } else {
            g_string_append_c(out, *p);
        }
    }
    g_string_append_c(out, '"');
}

static void
start_line(GString *out, guint level)
{
    if (level == ONE_LINE)
        return;
    g_string_append_c(out, '\n');
    for (guint i = 0; i < level; i++)
        g_string_append(out, "  ");
}

static void write_node(GString *out, const Node *node, guint level);

static void
write_parent(GString *out, const Node *node, guint level)
{
    gboolean object = node_kind(node) == NODE_OBJECT;
    guint inside = level == ONE_LINE ? ONE_LINE : level + 1;
    g_string_append_c(out, object ? '{' : '[');
    for (guint i = 0; i < node_size(node); i++) {
        if (i > 0)
            g_string_append_c(out, ',');
        start_line(out, inside);
        if (object) {
            write_text(out, node_member_name(node, i));
            g_string_append(out, level == ONE_LINE ? ":" : ": ");
        }
        write_node(out, node_at(node, i), inside);
    }
    if (node_size(node) > 0)
        start_line(out, level);
    g_string_append_c(out, object ? '}' : ']');
}

static void
write_node(GString *out, const Node *node, guint level)
{
    g_autofree char *number = NULL;
    switch (node_kind(node)) {
    case NODE_NULL:
        g_string_append(out, "null");
        break;
    case NODE_BOOL:
        g_string_append(out, node_bool(node) ? "true" : "false");
        break;
    case NODE_NUMBER:
        number = node_number_text(node);
        g_string_append(out, number);
        break;
    case NODE_TEXT:
        write_text(out, node_text(node));
        break;
    case NODE_LIST:
    case NODE_OBJECT:
        write_parent(out, node, level);
        break;
    }
}

char *
store_text(const Book *book)
{
    g_return_val_if_fail(book != NULL, NULL);
    g_autoptr(GString) out = g_string_new(NULL);
    write_node(out, book_root(book), 0);
    g_string_append_c(out, '\n');
    return g_strdup(out->str);
}

char *
store_line(const Node *node)
{
    g_autoptr(GString) out = g_string_new(NULL);
    write_node(out, node, ONE_LINE);
    return g_strdup(out->str);
}
