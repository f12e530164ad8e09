// SPDX-License-Identifier: GPL-3.0-or-later
// Making and checking lines. The check is the first half of a SHA-256: no torn or bit-rotten line
// passes by chance.
#include "live/line.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "book/scan.h"
#include "book/store.h"

#define CHECK_DIGITS 16

static char *
make_check(const char *text, gsize length)
{
    g_autofree char *sum = g_compute_checksum_for_data(G_CHECKSUM_SHA256, (const guchar *)text,
                                                       length);
    return g_strndup(sum, CHECK_DIGITS);
}

char *
live_line_make(const Node *node)
{
    g_return_val_if_fail(node_kind(node) == NODE_OBJECT, NULL);
    g_autofree char *text = store_line(node);
    g_autofree char *check = make_check(text, strlen(text));
    return g_strdup_printf("%s %s\n", check, text);
}

// NULL when the line is not whole.
static Node *
read_line(const char *line, gsize length)
{
    if (length <= CHECK_DIGITS + 1 || length > LIVE_LINE_MAX || line[CHECK_DIGITS] != ' ')
        return NULL;
    const char *text = line + CHECK_DIGITS + 1;
    g_autofree char *check = make_check(text, length - CHECK_DIGITS - 1);
    if (strncmp(check, line, CHECK_DIGITS) != 0)
        return NULL;
    g_autoptr(Node)
                  node = scan_text(text, length - CHECK_DIGITS - 1, "line", STORE_MAX_DEPTH, NULL);
    return node_kind(node) == NODE_OBJECT ? g_steal_pointer(&node) : NULL;
}

LiveLines *
live_lines_read(const char *bytes, gsize length)
{
    g_return_val_if_fail(bytes != NULL || length == 0, NULL);
    LiveLines *lines = g_new0(LiveLines, 1);
    lines->nodes = g_ptr_array_new_with_free_func((GDestroyNotify)node_unref);
    lines->faults = g_ptr_array_new_with_free_func(g_free);
    for (gsize at = 0; at < length;) {
        const char *end = memchr(bytes + at, '\n', length - at);
        gsize size = end ? (gsize)(end - bytes) - at : length - at;
        lines->lines++;
        Node *node = read_line(bytes + at, size);
        if (node)
            g_ptr_array_add(lines->nodes, node);
        else if (size > 0)
            g_ptr_array_add(lines->faults,
                            g_strdup_printf(end ? _("line %u is damaged and left out")
                                                : _("line %u was cut off in writing and is left "
                                                    "out"),
                                            lines->lines));
        lines->open_end = !end;
        at += size + (end ? 1 : 0);
    }
    return lines;
}

void
live_lines_free(LiveLines *lines)
{
    if (!lines)
        return;
    g_ptr_array_unref(lines->nodes);
    g_ptr_array_unref(lines->faults);
    g_free(lines);
}
