// SPDX-License-Identifier: GPL-3.0-or-later
// How a book names its meshes: relative to the book's folder when the file lies in or below it,
// else by full path.
#pragma once

#include "book/book.h"

G_BEGIN_DECLS

// The path to store for a mesh file; `folder` NULL: full path. Free.
char *mesh_path_stored(const char *mesh_path, const char *folder);

// The same book as it must read when it lives in `folder`: every mesh still found.
Book *mesh_path_rebase(const Book *book, const char *folder);

G_END_DECLS
