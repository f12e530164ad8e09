// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "stock": what is left to cut on each face once contraction, mismatch, tolerance and bow
// have taken theirs.
#pragma once

#include "mould/layout.h"

G_BEGIN_DECLS

typedef struct {
    double min, max;       // m; min after what may be taken, NAN when that is unknown
    Vec3 where;            // mould axes, where it is least
    double chip_volume;    // m3 per casting
    double machining_time; // s per casting
    double taken;          // m, what tolerance, mismatch and bow may take
} StockResult;

StockResult *stock_result_ref(const StockResult *result);
void stock_result_unref(const StockResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(StockResult, stock_result_unref)

// Figures stock.*. `layout` is not read: the mismatch comes as the figure "mould.mismatch". Without
// a pattern NULL and every figure unknown.
extern const char *const stock_reads[];
StockResult *stock_stage(const Inputs *inputs, const PatternResult *pattern,
                         const MouldLayout *layout, FigureList *figures, Progress *progress,
                         GError **error);

// Least and most way (m) from the faces of the finished part to the surface of the casting, given
// as mesh and as distance field, all in the same axes, and where it is least. What sticks out
// counts as 0. FALSE with an error when stopped.
gboolean stock_look(const SolidMesh *part, const SolidMesh *casting, const SolidGrid *field,
                    double *least, double *most, Vec3 *where, Progress *progress, GError **error);

G_END_DECLS
