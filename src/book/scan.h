// SPDX-License-Identifier: GPL-3.0-or-later
// Strict JSON (RFC 8259) from text to Nodes, within limits: depth, number of values, UTF-8.
#pragma once

#include "book/node.h"

G_BEGIN_DECLS

#define SCAN_MAX_NODES 1000000

// Reads the whole of `text`, `length` bytes. On failure NULL and one line with `name`, line and
// column. Numbers keep their digits; a member that stands twice in one object is refused.
Node *scan_text(const char *text, gsize length, const char *name, guint max_depth, GError **error);

G_END_DECLS
