// SPDX-License-Identifier: GPL-3.0-or-later
// From the batch to the day to be worked next, and whether there is more than one job to choose
// from.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "learn/tally.h"
#include "plan/batch.h"

// Where a session pours one job, the day of that job alone.
static PlanDay *
make_single(const BatchPlan *batch, const BatchSession *session, const Tables *tables,
            Progress *progress, GError **error)
{
    const BatchPour *pour = &session->pours[0];
    const Plan *plan = batch->jobs[pour->job].plan;
    PlanDayWish wish = {.hours = (session->hours_end - session->from) * 60.0,
                        .light_from = NAN,
                        .light_to = NAN,
                        .begins = &session->from,
                        .moulds = &pour->flasks};
    return plan_day_make(&plan, 1, &wish, tables, progress, error);
}

PlanDay *
batch_plan_next_day(const BatchPlan *batch, const Tables *tables, Progress *progress,
                    GError **error)
{
    g_return_val_if_fail(batch && tables, NULL);
    const BatchSession *session = batch->sessions;
    if (batch->n_sessions == 0) {
        base_error_set(error, BASE_ERROR_VALUE, NULL, _("jobs of the day"),
                       _("all castings wanted are in the log as good"),
                       _("raise a quantity, or start the day of one job"));
        return NULL;
    }
    return session->planned ? plan_day_ref(session->planned)
                            : make_single(batch, session, tables, progress, error);
}

static gboolean
is_open(const Book *book, const char *job, const Tables *tables)
{
    static const char *const paths[] = {"job.quantity", NULL};
    g_autoptr(Inputs) inputs = inputs_resolve(book, job, tables, NULL, paths);
    UnitSet units = book_units(book);
    LearnFurnace none = {.heat_content = NAN, .power = NAN};
    g_autoptr(LearnTally)
                  tally = learn_tally_new(node_get(book_root(book), "/log"), job, &none, &units);
    return inputs_number(inputs, "job.quantity") > tally->good;
}

guint
batch_open_jobs(const Book *book, const Tables *tables)
{
    g_return_val_if_fail(book && tables, 0);
    guint open = 0;
    for (guint i = 0; i < book_job_count(book); i++)
        open += is_open(book, book_job_id(book, i), tables);
    return open;
}
