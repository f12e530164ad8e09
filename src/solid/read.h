// SPDX-License-Identifier: GPL-3.0-or-later
// Mesh files of strangers: STL (binary and ASCII), OBJ, PLY (ASCII, little and big endian), 3MF.
#pragma once

#include "solid/mesh.h"

G_BEGIN_DECLS

#define SOLID_MAX_BYTES (2ull << 30) // of a mesh file

// Reads and welds. `unit` ("mm", "cm", "m", "in", "ft") applies to formats that do not say; 3MF
// says. NULL: millimetre. The kind of file is found from its content, then its ending. On failure
// NULL and one line: file, place (byte, line or entry), what is wrong, what to do.
SolidMesh *solid_read(const char *path, const char *unit, Progress *progress, GError **error);

// The same from memory, for tests and fuzzing; `name` stands for the file in messages and gives
// the ending.
SolidMesh *solid_read_bytes(const guchar *data, gsize length, const char *name, const char *unit,
                            Progress *progress, GError **error);

// "mm" -> 0.001. 0 if not a unit known.
double solid_unit_metres(const char *unit);

// Does the file say its own unit (3MF)? A guess from the size of the box for those that do not:
// "mm", "in" or "m", to be shown as a guess. Static.
const char *solid_guess_unit(const SolidMesh *mesh_in_mm);

G_END_DECLS
