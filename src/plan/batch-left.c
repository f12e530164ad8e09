// SPDX-License-Identifier: GPL-3.0-or-later
// Jobs of a batch that are left out because no free day could pour one flask of them, or that the
// free days are too few for: the others are planned all the same, and each says why.
#include <glib/gi18n-lib.h>

#include "base/error.h"
#include "plan/batch-private.h"

// The first day with these hours.
static guint
find_day_of_hours(const BatchDraft *draft, BatchHours wanted)
{
    guint i = 0;
    for (; i + 1 < draft->days->len; i++) {
        BatchHours hours = batch_hours_of(draft, &g_array_index(draft->days, CalendarDay, i));
        if (hours.from == wanted.from && hours.length == wanted.length)
            break;
    }
    return i;
}

// Asks a day of all hours there are for the job alone. *why gets the reason when none pours a
// flask, that of the longest; NULL when some does or none is wanted. FALSE only when stopped or
// broken.
static gboolean
find_why_none(const BatchDraft *draft, BatchEngine *engine, guint job, char **why, GError **error)
{
    int flasks = draft->plan->jobs[job].flasks, longest = -1;
    g_autofree int *beside = g_new0(int, draft->plan->n_jobs + 1);
    guint best = 0;
    *why = NULL;
    for (guint k = 0; flasks > 0 && k < draft->lengths->len; k++) {
        BatchHours hours = g_array_index(draft->lengths, BatchHours, k);
        guint day = find_day_of_hours(draft, hours);
        int most = 0;
        if (!engine->most(engine, day, beside, draft->plan->n_jobs, job, flasks, &most,
                          draft->progress, error))
            return FALSE;
        if (most > 0)
            return TRUE;
        best = hours.length > longest ? day : best;
        longest = MAX(longest, hours.length);
    }
    if (flasks == 0)
        return TRUE;
    *why = engine->why_none(engine, best, job);
    if (!*why)
        *why = g_strdup(_("not one flask of it can be poured in the hours of a free day; see what "
                          "fails in its plan, such as the crucible, or give longer hours"));
    return TRUE;
}

CalendarJob *
batch_list_jobs(const BatchDraft *draft, BatchEngine *engine, char **why, GError **error)
{
    const BatchPlan *plan = draft->plan;
    g_autofree CalendarJob *jobs = g_new0(CalendarJob, plan->n_jobs + 1);
    for (guint i = 0; i < plan->n_jobs; i++) {
        if (!find_why_none(draft, engine, i, &why[i], error))
            return NULL;
        jobs[i] = (CalendarJob){why[i] ? 0 : plan->jobs[i].flasks, plan->jobs[i].due};
    }
    return g_steal_pointer(&jobs);
}

void
batch_take_left(BatchPlan *plan, char **why, guint days)
{
    for (guint i = 0; i < plan->n_jobs; i++) {
        BatchJob *job = &plan->jobs[i];
        job->left = job->flasks;
        for (guint k = 0; k < plan->n_sessions; k++)
            for (guint p = 0; p < plan->sessions[k].n_pours; p++)
                if (plan->sessions[k].pours[p].job == (int)i)
                    job->left -= plan->sessions[k].pours[p].flasks;
        if (why[i])
            job->why = g_steal_pointer(&why[i]);
        else if (job->left > 0)
            job->why = g_strdup_printf(
                ngettext("no room on %u free day for %d of its %d flasks; give longer hours or "
                         "more free days",
                         "no room on %u free days for %d of its %d flasks; give longer hours or "
                         "more free days",
                         days),
                days, job->left, job->flasks);
    }
}

gboolean
batch_check_any(const BatchPlan *plan, GError **error)
{
    for (guint i = 0; i < plan->n_jobs && plan->n_sessions == 0; i++)
        if (plan->jobs[i].why)
            return base_error_set(error, BASE_ERROR_VALUE, NULL, plan->jobs[i].id,
                                  plan->jobs[i].why, NULL);
    return TRUE;
}
