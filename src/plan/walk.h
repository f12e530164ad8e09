// SPDX-License-Identifier: GPL-3.0-or-later
// Walking the stage table for one Book and job: what plan_make() and the worker share.
#pragma once

#include "plan/plan.h"

G_BEGIN_DECLS

// Called after each stage with a fresh Plan (a reference is handed over) on the walking thread.
typedef void (*WalkPost)(Plan *plan, gboolean last, gpointer data);

// As plan_make(), as far as `stages` of the table. `before` (may be NULL) lends the results of
// stages not reached yet, which are then stale. With `quick`, slow stages that are not in the
// cache, and what depends on them, stay stale. `post` may be NULL.
Plan *walk_stages(const Book *book, const char *job_id, const Tables *tables, Cache *cache,
                  guint stages, const Plan *before, gboolean quick, Progress *progress,
                  WalkPost post, gpointer data, GError **error);

// As plan_make(), as far as laying jobs out over days asks: without the heat flow, from which no
// time of a session follows, without machining and cost, and without the patterns to print unless
// `boards`. What is left out is unknown or missing.
Plan *walk_for_days(const Book *book, const char *job_id, const Tables *tables, Cache *cache,
                    gboolean boards, Progress *progress, GError **error);

// The first `stages` of the table for one job, into `entries` (of STAGE_COUNT); the caller unrefs
// them. FALSE only when stopped, with what was reached.
gboolean walk_until(const Book *book, const char *job_id, const Tables *tables, Cache *cache,
                    guint stages, Progress *progress, CacheEntry **entries, GError **error);

G_END_DECLS
