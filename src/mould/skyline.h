// SPDX-License-Identifier: GPL-3.0-or-later
// A symmetric, positive system that is full only near its diagonal, as networks with neighbouring
// numbers are: kept and solved within its skyline, row by row from the first entry to the diagonal.
#pragma once

#include <glib.h>

G_BEGIN_DECLS

typedef struct MouldSkyline MouldSkyline;

MouldSkyline *mould_skyline_new(guint size);
void mould_skyline_free(MouldSkyline *matrix); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(MouldSkyline, mould_skyline_free)

// First reserve every pair that will be joined, then seal.
void mould_skyline_reserve(MouldSkyline *matrix, guint a, guint b);
void mould_skyline_seal(MouldSkyline *matrix);

void mould_skyline_clear(MouldSkyline *matrix);
// A conductance between rows a and b; -1 stands for what is known and moved to the right side.
void mould_skyline_join(MouldSkyline *matrix, int a, int b, double conductance);
// Solves in place: `right` becomes the solution. The matrix is used up: clear it before the next.
void mould_skyline_solve(MouldSkyline *matrix, double *right);

G_END_DECLS
