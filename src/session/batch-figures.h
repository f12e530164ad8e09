// SPDX-License-Identifier: GPL-3.0-or-later
// Figures of the batch: the good rate, where it comes from, and how many castings to start.
#pragma once

#include "session/batch.h"
#include "session/schedule.h"

G_BEGIN_DECLS

// Adds run.good_rate, run.good_rate_low, run.good_rate_high, run.castings_to_start, run.confidence
// and run.batch_flasks, and fills castings_to_start, confidence and good_rate of the result. The
// inputs must have been given to the list. FALSE only when stopped.
gboolean session_add_batch(const Inputs *inputs, const LearnResult *learn, SessionResult *result,
                           FigureList *figures, Progress *progress, GError **error);

G_END_DECLS
