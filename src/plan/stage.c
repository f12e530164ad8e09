// SPDX-License-Identifier: GPL-3.0-or-later
// The stage table. Each row hands a stage exactly what it may read; this is the only place that
// knows all stages.
#include "plan/stage.h"

#include <glib/gi18n-lib.h>

#include "board/board.h"
#include "learn/learn.h"
#include "session/cost.h"

#define BIT(id) (1u << (id))

static gpointer
run_learn(StageCall *call, GError **error)
{
    return learn_stage(call->inputs, call->job_id, call->figures, error);
}

static gpointer
run_part(StageCall *call, GError **error)
{
    return part_stage(call->inputs, call->figures, call->progress, error);
}

static gpointer
run_pull(StageCall *call, GError **error)
{
    return pull_stage(call->inputs, call->results[STAGE_PART], call->figures, call->progress,
                      error);
}

static gpointer
run_pattern(StageCall *call, GError **error)
{
    return pattern_stage(call->inputs, call->results[STAGE_PART], call->results[STAGE_PULL],
                         call->figures, call->progress, error);
}

static gpointer
run_feed(StageCall *call, GError **error)
{
    return feed_stage(call->inputs, call->results[STAGE_PATTERN], call->figures, call->progress,
                      error);
}

static gpointer
run_mould(StageCall *call, GError **error)
{
    return mould_stage(call->inputs, call->results[STAGE_PATTERN], call->results[STAGE_FEED],
                       call->guest, call->trouble, call->figures, call->progress, error);
}

static gpointer
run_board(StageCall *call, GError **error)
{
    return board_stage(call->inputs, call->results[STAGE_PATTERN], call->results[STAGE_MOULD],
                       call->figures, call->progress, error);
}

static gpointer
run_freeze(StageCall *call, GError **error)
{
    // Heat flows through the rough casting; without it the rules are left.
    return freeze_stage(call->inputs, call->no_heat_flow ? NULL : call->results[STAGE_PATTERN],
                        call->results[STAGE_FEED], call->results[STAGE_MOULD], call->figures,
                        call->progress, error);
}

static gpointer
run_melt(StageCall *call, GError **error)
{
    return melt_stage(call->inputs, call->results[STAGE_MOULD], call->figures, call->progress,
                      error);
}

static gpointer
run_stock(StageCall *call, GError **error)
{
    return stock_stage(call->inputs, call->results[STAGE_PATTERN], call->results[STAGE_MOULD],
                       call->figures, call->progress, error);
}

static gpointer
run_session(StageCall *call, GError **error)
{
    SessionResult *result = session_stage(call->inputs, call->results[STAGE_LEARN],
                                          call->results[STAGE_MOULD], call->results[STAGE_FREEZE],
                                          call->results[STAGE_MELT], call->figures, call->progress,
                                          error);
    if (result) {
        const char *jobs[] = {call->job_id, NULL};
        result->jobs = g_strdupv((char **)jobs);
    }
    return result;
}

// Makes figures only; what it returns stands for "done".
static gpointer
run_cost(StageCall *call, GError **error)
{
    cost_stage(call->inputs, call->results[STAGE_PART], call->results[STAGE_MOULD],
               call->results[STAGE_MELT], call->results[STAGE_STOCK], call->results[STAGE_SESSION],
               call->figures, call->progress, error);
    return NULL;
}

static const char *
part_digest(gconstpointer result)
{
    return ((const PartResult *)result)->digest;
}

static const char *
pull_digest(gconstpointer result)
{
    return ((const PullResult *)result)->digest;
}

#define RESULT(name) (gpointer(*)(gconstpointer)) name##_ref, (void (*)(gconstpointer))name##_unref

static const Stage stages[STAGE_COUNT] = {
    [STAGE_LEARN] = {STAGE_LEARN, "learn", N_("Log"), learn_reads, 0, 0, FALSE, run_learn,
                     RESULT(learn_result), NULL},
    [STAGE_PART] = {STAGE_PART, "part", N_("Part"), part_reads, 0, 0, FALSE, run_part,
                    RESULT(part_result), part_digest},
    [STAGE_PULL] = {STAGE_PULL, "pull", N_("Pull"), pull_reads, BIT(STAGE_PART), BIT(STAGE_PART),
                    FALSE, run_pull, RESULT(pull_result), pull_digest},
    [STAGE_PATTERN] = {STAGE_PATTERN, "pattern", N_("Pattern"), pattern_reads,
                       BIT(STAGE_PART) | BIT(STAGE_PULL), BIT(STAGE_PART), FALSE, run_pattern,
                       RESULT(pattern_result), NULL},
    [STAGE_FEED] = {STAGE_FEED, "feed", N_("Feeding"), feed_reads,
                    BIT(STAGE_PART) | BIT(STAGE_PATTERN), BIT(STAGE_PATTERN), FALSE, run_feed,
                    RESULT(feed_result), NULL},
    [STAGE_MOULD] = {STAGE_MOULD, "mould", N_("Mould"), mould_reads,
                     BIT(STAGE_PART) | BIT(STAGE_PATTERN) | BIT(STAGE_FEED),
                     BIT(STAGE_PATTERN) | BIT(STAGE_FEED), FALSE, run_mould, RESULT(mould_layout),
                     NULL},
    [STAGE_BOARD] = {STAGE_BOARD, "board", N_("Patterns to print"), board_reads,
                     BIT(STAGE_PART) | BIT(STAGE_PATTERN) | BIT(STAGE_FEED) | BIT(STAGE_MOULD),
                     BIT(STAGE_PATTERN) | BIT(STAGE_MOULD), TRUE, run_board, RESULT(board_result),
                     NULL},
    [STAGE_FREEZE] = {STAGE_FREEZE, "freeze", N_("Freezing"), freeze_reads,
                      BIT(STAGE_PART) | BIT(STAGE_PATTERN) | BIT(STAGE_FEED) | BIT(STAGE_MOULD),
                      BIT(STAGE_PATTERN) | BIT(STAGE_FEED) | BIT(STAGE_MOULD), TRUE, run_freeze,
                      RESULT(freeze_result), NULL},
    [STAGE_MELT] = {STAGE_MELT, "melt", N_("Melt"), melt_reads,
                    BIT(STAGE_LEARN) | BIT(STAGE_PATTERN) | BIT(STAGE_MOULD), BIT(STAGE_MOULD),
                    FALSE, run_melt, RESULT(melt_result), NULL},
    [STAGE_STOCK] = {STAGE_STOCK, "stock", N_("Machining"), stock_reads,
                     BIT(STAGE_PART) | BIT(STAGE_PATTERN) | BIT(STAGE_MOULD), BIT(STAGE_PATTERN),
                     FALSE, run_stock, RESULT(stock_result), NULL},
    [STAGE_SESSION] = {STAGE_SESSION, "session", N_("Session"), session_reads,
                       BIT(STAGE_LEARN) | BIT(STAGE_PATTERN) | BIT(STAGE_MOULD) |
                           BIT(STAGE_FREEZE) | BIT(STAGE_MELT),
                       BIT(STAGE_LEARN), FALSE, run_session, RESULT(session_result), NULL},
    [STAGE_COST] = {STAGE_COST, "cost", N_("Cost"), cost_reads,
                    BIT(STAGE_LEARN) | BIT(STAGE_PART) | BIT(STAGE_PATTERN) | BIT(STAGE_MOULD) |
                        BIT(STAGE_MELT) | BIT(STAGE_STOCK) | BIT(STAGE_SESSION),
                    0, FALSE, run_cost, NULL, NULL, NULL},
};

const Stage *
stage_at(StageId id)
{
    g_return_val_if_fail(id < STAGE_COUNT, NULL);
    return &stages[id];
}
