// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "stock": what is left to cut on each face once contraction, mismatch, tolerance and bow
// have taken theirs.
#pragma once

#include "mould/layout.h"

G_BEGIN_DECLS

typedef struct {
    double min, max;       // m
    Vec3 where;            // mould axes, where it is least
    double chip_volume;    // m3 per casting
    double machining_time; // s per casting
    double taken;          // m, what tolerance, mismatch and contraction may take
} StockResult;

StockResult *stock_result_ref(const StockResult *result);
void stock_result_unref(const StockResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(StockResult, stock_result_unref)

extern const char *const stock_reads[];
StockResult *stock_stage(const Inputs *inputs, const PatternResult *pattern,
                         const MouldLayout *layout, FigureList *figures, Progress *progress,
                         GError **error);

G_END_DECLS
