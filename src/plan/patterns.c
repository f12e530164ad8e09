// SPDX-License-Identifier: GPL-3.0-or-later
// Why a plan has no patterns, and with which options they are made.
#include "plan/patterns.h"

#include <glib/gi18n-lib.h>

#include "base/error.h"
#include "learn/learn.h"
#include "plan/plan-private.h"

// The first stage that says why there are none.
static gboolean
fail_plan(const Plan *plan, const char *file, GError **error)
{
    const char *why = NULL;
    for (guint i = 0; i < plan_stage_count(plan) && !why; i++)
        why = plan_stage_info(plan, i).error;
    const Figure *closed = plan_figure(plan, "part.closed");
    if (!why && closed && closed->state == FIGURE_FAILS)
        return base_error_set(error, BASE_ERROR_VALUE, file, plan_job(plan),
                              closed->note ? closed->note : _("the part is no closed solid"), NULL);
    return base_error_set(error, BASE_ERROR_VALUE, file, plan_job(plan),
                          why ? why : _("the plan has no casting in a flask"),
                          why ? NULL : _("see the plan's figures for what is missing"));
}

gboolean
plan_pattern_options(const Plan *plan, const Tables *tables, const char *file,
                     BoardOptions *options, GError **error)
{
    if (!plan_pattern(plan) || !plan_mould(plan))
        return fail_plan(plan, file, error);
    for (int i = 0; i <= STAGE_MOULD; i++)
        if (plan->stale[i])
            return base_error_set(error, BASE_ERROR_VALUE, file, plan_job(plan),
                                  _("the plan is older than its inputs"),
                                  _("wait until it is computed"));
    const CacheEntry *learnt = plan->entries[STAGE_LEARN];
    const LearnResult *log = learnt ? learnt->result : NULL;
    g_autoptr(Inputs) inputs = inputs_resolve(plan->book, plan->job_id, tables,
                                              log ? log->learned : NULL, board_reads);
    return board_options(inputs, options, error);
}

char **
plan_pattern_words(const Plan *plan)
{
    g_autoptr(GStrvBuilder) all = g_strv_builder_new();
    g_strv_builder_addv(all, (const char **)plan_part(plan)->findings);
    static const char *const ids[] = {"pattern.skin_outside", "pattern.peg_slenderness"};
    for (guint i = 0; i < G_N_ELEMENTS(ids); i++) {
        const Figure *figure = plan_figure(plan, ids[i]);
        if (figure && figure->state == FIGURE_FAILS && figure->note)
            g_strv_builder_add(all, figure->note);
    }
    return g_strv_builder_end(all);
}
