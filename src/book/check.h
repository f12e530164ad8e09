// SPDX-License-Identifier: GPL-3.0-or-later
// Whether a tree of Nodes is a book: the right kinds in the right places, every field readable.
#pragma once

#include "book/node.h"
#include "metal/tables.h"

G_BEGIN_DECLS

// `name` is the file in messages. FALSE with one line that names the place ("jobs[0].quantity").
gboolean check_book(const Node *root, const char *name, const Tables *tables, GError **error);

// The same after a change at `place` ("/jobs/0/draft"), for the part that it can have spoilt only.
// Without tables: ids of their rows are taken as they are.
gboolean check_change(const Node *root, const char *place, GError **error);

// Format and version: refuses what is no book and what a newer program made.
gboolean version_check(const Node *root, const char *name, GError **error);

G_END_DECLS
