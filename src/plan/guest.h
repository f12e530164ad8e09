// SPDX-License-Identifier: GPL-3.0-or-later
// The casting of another job that shares a flask, from that job's own stages.
#pragma once

#include "mould/guest.h"
#include "plan/plan.h"

G_BEGIN_DECLS

typedef struct {
    MouldGuest *guest; // NULL without, or with trouble
    char *trouble;     // why the flask cannot be shared, or NULL
    char *digest;      // of all that: "" when nothing is shared
} PlanGuest;

void plan_guest_clear(PlanGuest *guest);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC(PlanGuest, plan_guest_clear)

// Looks what job.shares_with names; the other job's stages as far as feeding are walked with the
// same cache. Its own plan is left alone, so two jobs may name each other. `learn` is the
// result of the job itself and may be NULL. FALSE only when stopped.
gboolean plan_guest_find(const Book *book, const char *job_id, const Tables *tables, Cache *cache,
                         const LearnResult *learn, Progress *progress, PlanGuest *found,
                         GError **error);

G_END_DECLS
