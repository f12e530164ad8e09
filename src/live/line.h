// SPDX-License-Identifier: GPL-3.0-or-later
// The lines of a day's journal: sixteen hexadecimal digits that check the rest, a space, JSON on
// one line, a line's end. A line that does not answer to its check was torn or damaged and is told,
// not used.
#pragma once

#include "book/node.h"

G_BEGIN_DECLS

// Longest line that is read.
#define LIVE_LINE_MAX (8u << 20)

// The line of an object, with its end. Free.
char *live_line_make(const Node *node);

// What a journal holds. Lines keep their order.
typedef struct {
    GPtrArray *nodes;  // Node *, the whole lines
    GPtrArray *faults; // char *, one sentence for each line left out
    guint lines;       // lines seen, whole or not
    gboolean open_end; // the last line has no end: one must be written before the next
} LiveLines;

// Reads any bytes; never fails. A last line cut off in writing is a fault like another, but one
// that nobody was told was kept.
LiveLines *live_lines_read(const char *bytes, gsize length);
void live_lines_free(LiveLines *lines); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LiveLines, live_lines_free)

G_END_DECLS
