// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "cost": what one good part costs, beside cutting it from bar and buying it in.
#pragma once

#include "session/schedule.h"
#include "stock/stock.h"

G_BEGIN_DECLS

extern const char *const cost_reads[];
// Makes figures only. Any of the results may be NULL: what depends on it is unknown.
gboolean cost_stage(const Inputs *inputs, const PartResult *part, const MouldLayout *layout,
                    const MeltResult *melt, const StockResult *stock, const SessionResult *run,
                    FigureList *figures, Progress *progress, GError **error);

G_END_DECLS
