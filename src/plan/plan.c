// SPDX-License-Identifier: GPL-3.0-or-later
// The immutable Plan: results and figures of every stage for one job of one Book.
#include "plan/plan.h"

#include <glib/gi18n-lib.h>

#include "base/error.h"
#include "book/field.h"
#include "plan/caution.h"
#include "plan/plan-private.h"
#include "plan/walk.h"

static void
clear_plan(gpointer data)
{
    Plan *plan = data;
    book_unref(plan->book);
    g_free(plan->job_id);
    for (int i = 0; i < STAGE_COUNT; i++)
        cache_entry_unref(plan->entries[i]);
    figure_list_unref(plan->figures);
    g_clear_pointer(&plan->computed, g_ptr_array_unref);
    g_strfreev(plan->cautions);
}

static const char *const about_reads[] = {"job.metal", "metal.*", "cruciblekind.*", NULL};

Plan *
plan_new(const Book *book, const char *job_id, const Tables *tables)
{
    Plan *plan = g_atomic_rc_box_new0(Plan);
    plan->book = book_ref(book);
    plan->job_id = g_strdup(job_id);
    plan->units = book_units(book);
    return plan;
}

void
plan_seal(Plan *plan, const Tables *tables)
{
    g_autoptr(Inputs) about = inputs_resolve(plan->book, plan->job_id, tables, NULL, about_reads);
    plan->metal = inputs_row(about, "metal");
    plan->cautions = caution_list(plan->metal, inputs_row(about, "cruciblekind"));
    plan->figures = figure_list_new();
    plan->computed = g_ptr_array_new();
    for (int i = 0; i < STAGE_COUNT; i++) {
        if (!plan->entries[i])
            continue;
        FigureList *list = plan->entries[i]->figures;
        figure_list_see(plan->figures, list);
        for (guint j = 0; j < figure_list_size(list); j++) {
            const Figure *figure = figure_list_at(list, j);
            if (!figure->given)
                g_ptr_array_add(plan->computed, (gpointer)figure);
        }
    }
}

Plan *
plan_ref(const Plan *plan)
{
    return g_atomic_rc_box_acquire((Plan *)plan);
}

void
plan_unref(const Plan *plan)
{
    if (plan)
        g_atomic_rc_box_release_full((Plan *)plan, clear_plan);
}

Plan *
plan_make(const Book *book, const char *job_id, const Tables *tables, Cache *cache,
          Progress *progress, GError **error)
{
    return walk_stages(book, job_id, tables, cache, STAGE_COUNT, NULL, FALSE, progress, NULL, NULL,
                       error);
}

Plan *
plan_make_mould(const Book *book, const char *job_id, const Tables *tables, Progress *progress,
                GError **error)
{
    return walk_stages(book, job_id, tables, NULL, STAGE_MOULD + 1, NULL, FALSE, progress, NULL,
                       NULL, error);
}

const Book *
plan_book(const Plan *plan)
{
    return plan->book;
}

const char *
plan_job(const Plan *plan)
{
    return plan->job_id;
}

UnitSet
plan_units(const Plan *plan)
{
    return plan->units;
}

const TableRow *
plan_metal(const Plan *plan)
{
    return plan->metal;
}

guint
plan_figure_count(const Plan *plan)
{
    return plan->computed->len;
}

const Figure *
plan_figure_at(const Plan *plan, guint index)
{
    g_return_val_if_fail(index < plan->computed->len, NULL);
    return g_ptr_array_index(plan->computed, index);
}

const Figure *
plan_figure(const Plan *plan, const char *id)
{
    return figure_list_find(plan->figures, id);
}

const FigureList *
plan_figures(const Plan *plan)
{
    return plan->figures;
}

static gpointer
result_of(const Plan *plan, StageId id)
{
    return plan->entries[id] ? plan->entries[id]->result : NULL;
}

const PartResult *
plan_part(const Plan *plan)
{
    return result_of(plan, STAGE_PART);
}

const PullResult *
plan_pull(const Plan *plan)
{
    return result_of(plan, STAGE_PULL);
}

const PatternResult *
plan_pattern(const Plan *plan)
{
    return result_of(plan, STAGE_PATTERN);
}

const FeedResult *
plan_feed(const Plan *plan)
{
    return result_of(plan, STAGE_FEED);
}

const MouldLayout *
plan_mould(const Plan *plan)
{
    return result_of(plan, STAGE_MOULD);
}

const BoardResult *
plan_board(const Plan *plan)
{
    return result_of(plan, STAGE_BOARD);
}

const FreezeResult *
plan_freeze(const Plan *plan)
{
    return result_of(plan, STAGE_FREEZE);
}

const MeltResult *
plan_melt(const Plan *plan)
{
    return result_of(plan, STAGE_MELT);
}

const StockResult *
plan_stock(const Plan *plan)
{
    return result_of(plan, STAGE_STOCK);
}

const SessionResult *
plan_session(const Plan *plan)
{
    return result_of(plan, STAGE_SESSION);
}

guint
plan_stage_count(const Plan *plan)
{
    return STAGE_COUNT;
}

PlanStageInfo
plan_stage_info(const Plan *plan, guint index)
{
    const Stage *stage = stage_at(index);
    const CacheEntry *entry = plan->entries[index];
    return (PlanStageInfo){.id = stage->name,
                           .label = _(stage->label),
                           .error = entry ? entry->error : NULL,
                           .stale = plan->stale[index] || !entry,
                           .reused = plan->reused[index],
                           .seconds = entry ? entry->seconds : 0};
}

const FigureList *
plan_stage_figures(const Plan *plan, const char *stage_id)
{
    for (int i = 0; i < STAGE_COUNT; i++)
        if (g_str_equal(stage_at(i)->name, stage_id))
            return plan->entries[i] ? plan->entries[i]->figures : NULL;
    return NULL;
}

const char *const *
plan_cautions(const Plan *plan)
{
    return (const char *const *)plan->cautions;
}
