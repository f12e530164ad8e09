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
find_crucible(const GArray *crucibles, const char *id)
{
    for (guint i = 0; i < crucibles->len; i++)
        if (g_strcmp0(g_array_index(crucibles, CalendarCrucible, i).id, id) == 0)
            return (int)i;
    return -1;
}

// All crucibles of the shop. Inputs know the one a job uses, so some job is lent each.
static GArray *
list_crucibles(const BatchDraft *draft)
{
    static const char *const paths[] = {"crucible.firings", "crucible.price",
                                        "cruciblekind.firings_min", NULL};
    GArray *crucibles = g_array_new(FALSE, FALSE, sizeof(CalendarCrucible));
    const char *job = draft->plan->n_jobs > 0 ? draft->plan->jobs[0].id : NULL;
    const Node *list = node_get(book_root(draft->book), "/shop/crucibles");
    for (guint i = 0; i < node_size(list); i++) {
        const char *id = node_text(node_member(node_at(list, i), "id"));
        g_autoptr(Book) lent = id && job ? batch_set_text(draft->book, job, "job.crucible", id,
                                                          draft->tables, NULL)
                                         : NULL;
        if (!lent)
            continue;
        g_autoptr(Inputs) inputs = inputs_resolve(lent, job, draft->tables, NULL, paths);
        CalendarCrucible crucible = {.id = id,
                                     .firings = plain(inputs_number(inputs, paths[0])),
                                     .life = inputs_number(inputs, paths[2]),
                                     .price = inputs_number(inputs, paths[1])};
        g_array_append_val(crucibles, crucible);
    }
    return crucibles;
}

// Which crucible is heated in which session. Free.
static gboolean *
list_fired(const BatchPlan *plan, const GArray *crucibles)
{
    gboolean *fired = g_new0(gboolean, plan->n_sessions * crucibles->len + 1);
    for (guint i = 0; i < plan->n_sessions; i++)
        for (char **id = plan->sessions[i].crucibles; id && *id; id++) {
            int crucible = find_crucible(crucibles, *id);
            if (crucible >= 0)
                fired[i * crucibles->len + (guint)crucible] = TRUE;
        }
    return fired;
}

static CalendarStuff
read_stuff(const BatchJob *job, const GArray *crucibles)
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
                           .crucible = find_crucible(crucibles, job->crucible),
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
    g_autoptr(GArray) crucibles = list_crucibles(draft);
    g_autofree gboolean *fired = list_fired(plan, crucibles);
    g_autofree CalendarStuff *stuff = g_new0(CalendarStuff, plan->n_jobs + 1);
    for (guint i = 0; i < plan->n_jobs; i++)
        stuff[i] = read_stuff(&plan->jobs[i], crucibles);
    g_autoptr(CalendarNeeds) needs = calendar_needs_make(
        batch->sessions, draft->days, stuff, plan->n_jobs,
        (const CalendarCrucible *)crucibles->data, crucibles->len, fired, &sand);
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
