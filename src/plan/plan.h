// SPDX-License-Identifier: GPL-3.0-or-later
// One immutable Plan: everything computed from a Book for one job. plan = f(book, job).
#pragma once

#include "base/progress.h"
#include "board/board.h"
#include "book/book.h"
#include "plan/cache.h"
#include "plan/stage.h"
#include "session/cost.h"

G_BEGIN_DECLS

typedef struct Plan Plan;

Plan *plan_ref(const Plan *plan);
void plan_unref(const Plan *plan);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(Plan, plan_unref)

// The synchronous f. `cache` may be NULL. NULL only when stopped (BASE_ERROR_CANCELLED) or when the
// book has no such job. A stage that fails leaves its message and its figures unknown.
Plan *plan_make(const Book *book, const char *job_id, const Tables *tables, Cache *cache,
                Progress *progress, GError **error);

// As far as the mould, for what only draws or prints it; all that comes after is missing.
Plan *plan_make_mould(const Book *book, const char *job_id, const Tables *tables,
                      Progress *progress, GError **error);

const Book *plan_book(const Plan *plan);
const char *plan_job(const Plan *plan);
UnitSet plan_units(const Plan *plan);
const TableRow *plan_metal(const Plan *plan); // NULL if not chosen

// Figures in the order of the stages; givens (field and table values) are found by id only.
guint plan_figure_count(const Plan *plan);
const Figure *plan_figure_at(const Plan *plan, guint index);
const Figure *plan_figure(const Plan *plan, const char *id);
const FigureList *plan_figures(const Plan *plan); // sees all, for figure/explain.h

// Results; NULL when the stage has none (its message says why). Borrowed.
const PartResult *plan_part(const Plan *plan);
const PullResult *plan_pull(const Plan *plan);
const PatternResult *plan_pattern(const Plan *plan);
const FeedResult *plan_feed(const Plan *plan);
const MouldLayout *plan_mould(const Plan *plan);
const BoardResult *plan_board(const Plan *plan); // coarse facets: see board/board.h
const FreezeResult *plan_freeze(const Plan *plan);
const MeltResult *plan_melt(const Plan *plan);
const StockResult *plan_stock(const Plan *plan);
const SessionResult *plan_session(const Plan *plan);

typedef struct {
    const char *id, *label; // stage
    const char *error;      // message, or NULL
    gboolean stale;         // carried over from an earlier plan, being recomputed
    gboolean reused;        // came from the cache
    double seconds;         // it took, when it ran
} PlanStageInfo;
guint plan_stage_count(const Plan *plan);
PlanStageInfo plan_stage_info(const Plan *plan, guint index);
// Figures of one stage.
const FigureList *plan_stage_figures(const Plan *plan, const char *stage_id);

// Sentences of caution that apply: molten metal, moisture, fume, lifting, and the alloy's own.
// NULL-terminated, owned by the plan.
const char *const *plan_cautions(const Plan *plan);

G_END_DECLS
