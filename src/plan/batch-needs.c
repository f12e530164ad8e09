// SPDX-License-Identifier: GPL-3.0-or-later
// Reads what each job uses off its plan, and has the needs of all sessions counted.
#include <math.h>

#include "plan/batch-private.h"

static double
value_of(const BatchJob *job, const char *id)
{
    return figure_list_value(plan_figures(job->plan), id);
}

// NAN or less than nothing as 0.
static double
plain(double value)
{
    return value > 0 ? value : 0;
}

static int
find_crucible(GArray *crucibles, const BatchJob *job)
{
    for (guint i = 0; i < crucibles->len; i++)
        if (g_strcmp0(g_array_index(crucibles, CalendarCrucible, i).id, job->crucible) == 0)
            return (int)i;
    CalendarCrucible crucible = {.id = job->crucible,
                                 .firings = plain(value_of(job, "crucible.firings")),
                                 .life = value_of(job, "cruciblekind.firings_min"),
                                 .price = value_of(job, "crucible.price")};
    g_array_append_val(crucibles, crucible);
    return (int)crucibles->len - 1;
}

static CalendarStuff
read_stuff(const BatchJob *job, GArray *crucibles)
{
    if (!job->plan)
        return (CalendarStuff){.flasks_per_load = 1, .crucible = -1};
    double per_load = value_of(job, "melt.flasks_per_load");
    return (CalendarStuff){.metal = job->metal,
                           .flasks_per_load = per_load >= 1 && per_load < 1e6 ? (int)per_load : 1,
                           .cavities = job->cavities,
                           .poured = plain(value_of(job, "mould.metal_mass")),
                           .casting = plain(value_of(job, "casting.mass")),
                           .loss = plain(value_of(job, "job.melt_loss")),
                           .reserve = plain(value_of(job, "job.reserve")),
                           .reserve_least = plain(value_of(job, "job.reserve_least")),
                           .heel = plain(value_of(job, "job.heel")),
                           .price = value_of(job, "job.metal_price"),
                           .sand = plain(value_of(job, "mould.sand_mass")),
                           .boxes = (int)fmin(plain(value_of(job, "flask.count")), 1e6),
                           .crucible = job->crucible ? find_crucible(crucibles, job) : -1,
                           .print_time = value_of(job, "board.print_time")};
}

void
batch_add_needs(BatchDraft *draft, const CalendarBatch *batch)
{
    static const char *const paths[] = {"sand.loss", "sand.box", "sand.price", NULL};
    BatchPlan *plan = draft->plan;
    g_autoptr(Inputs) inputs = inputs_resolve(draft->book, NULL, draft->tables, NULL, paths);
    CalendarSand sand = {plain(inputs_number(inputs, "sand.loss")),
                         inputs_number(inputs, "sand.box"), inputs_number(inputs, "sand.price")};
    g_autoptr(GArray) crucibles = g_array_new(FALSE, FALSE, sizeof(CalendarCrucible));
    g_autofree CalendarStuff *stuff = g_new0(CalendarStuff, plan->n_jobs + 1);
    for (guint i = 0; i < plan->n_jobs; i++)
        stuff[i] = read_stuff(&plan->jobs[i], crucibles);
    g_autoptr(CalendarNeeds) needs = calendar_needs_make(
        batch->sessions, draft->days, stuff, plan->n_jobs,
        (const CalendarCrucible *)crucibles->data, crucibles->len, &sand);
    plan->n_needs = needs->needs->len;
    plan->needs = (CalendarNeed *)g_array_free(g_steal_pointer(&needs->needs), FALSE);
    needs->needs = g_array_new(FALSE, FALSE, 1);
    plan->totals = needs->totals;
    for (guint i = 0; i < plan->n_sessions; i++) {
        BatchSession *session = &plan->sessions[i];
        session->charge = g_array_index(needs->charges, double, i);
        for (guint k = 0; k < session->n_pours; k++)
            session->pours[k].charge = calendar_needs_charge(&stuff[session->pours[k].job],
                                                             session->pours[k].flasks);
    }
}
