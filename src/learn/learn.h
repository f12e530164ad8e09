// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "learn": what the log teaches. Runs first; its values fill blank fields.
#pragma once

#include "book/inputs.h"

G_BEGIN_DECLS

typedef struct {
    guint good, poured; // castings of the job (all jobs of the book when job_id is NULL)
    guint sessions;
    Learned *learned; // values for blank fields: "furnace.efficiency", "people.ram_time", ...
} LearnResult;

LearnResult *learn_result_ref(const LearnResult *result);
void learn_result_unref(const LearnResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LearnResult, learn_result_unref)

extern const char *const learn_reads[];
LearnResult *learn_stage(const Inputs *inputs, const char *job_id, FigureList *figures,
                         GError **error);

G_END_DECLS
