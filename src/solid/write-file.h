// SPDX-License-Identifier: GPL-3.0-or-later
// Writing a file beside its place and moving it there when it is whole and on the disk, so that a
// failure leaves what was there before. Inside solid/ only.
#pragma once

#include "solid/mesh.h"

G_BEGIN_DECLS

// FALSE with errno set.
gboolean solid_write_bytes(int fd, const guchar *data, gsize length);

typedef gboolean (*SolidWriteBody)(int fd, gconstpointer data); // FALSE with errno set

// Calls `body` with the file to fill. An existing file is replaced only if `replace`.
gboolean solid_write_file(const char *path, gboolean replace, SolidWriteBody body,
                          gconstpointer data, GError **error);

// Has the mesh triangles, and places that are numbers a file can hold?
gboolean solid_write_check(const SolidMesh *mesh, const char *path, GError **error);

G_END_DECLS
