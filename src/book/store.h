// SPDX-License-Identifier: GPL-3.0-or-later
// Books in files: versioned JSON, checked by the field table, unknown members kept, written whole
// or not at all.
#pragma once

#include "book/book.h"
#include "metal/tables.h"

G_BEGIN_DECLS

#define STORE_MAX_BYTES (16u << 20)
#define STORE_MAX_DEPTH 32
#define STORE_MAX_JOBS 1000

// Reads a .castbook. On failure NULL and one line: file, line and column or place, what, what to
// do.
Book *store_read(const char *path, const Tables *tables, GError **error);
// The same from text; `name` stands for the file in messages.
Book *store_parse(const char *text, gssize length, const char *name, const char *folder,
                  const Tables *tables, GError **error);
// Pretty-printed JSON, members in the order they were read, numbers never by locale. Free.
char *store_text(const Book *book);
// One node as JSON on one line, without a line's end. Free.
char *store_line(const Node *node);
// Atomic and durable: written beside, synced, renamed. An existing file is replaced only if
// `replace`; else BASE_ERROR_FILE. Keeps the old file whole on any failure.
gboolean store_write(const Book *book, const char *path, gboolean replace, GError **error);

// So that a new name in the folder of `path` survives a power cut. Some file systems cannot; that
// is no failure. FALSE with errno.
gboolean store_sync_folder(const char *path);

G_END_DECLS
