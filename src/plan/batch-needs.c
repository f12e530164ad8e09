// SPDX-License-Identifier: GPL-3.0-or-later
// Reads what each job uses off its plan and what the shop has off the book, and has the needs of
// all sessions counted.
#include <math.h>

#include "base/error.h"
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

// `lent` is a book in which `job` uses the crucible.
static CalendarCrucible
read_crucible(const BatchDraft *draft, const Book *lent, const char *job, const char *id)
{
    static const char *const paths[] = {"crucible.firings",         "crucible.price",
                                        "crucible.spares",          "crucible.counts",
                                        "cruciblekind.firings_min", NULL};
    g_autoptr(LearnResult) learn = batch_learn(draft, lent, job);
    g_autoptr(Inputs) in = inputs_resolve(lent, job, draft->tables, learn ? learn->learned : NULL,
                                          paths);
    return (CalendarCrucible){.id = id,
                              .firings = plain(inputs_number(in, "crucible.firings")),
                              .life = inputs_number(in, "cruciblekind.firings_min"),
                              .by_melt = g_strcmp0(inputs_text(in, "crucible.counts"), "melt") == 0,
                              .spares = (int)plain(inputs_number(in, "crucible.spares")),
                              .price = inputs_number(in, "crucible.price")};
}

// All crucibles of the shop. Inputs know the one a job uses, so some job is lent each.
static GArray *
list_crucibles(const BatchDraft *draft)
{
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
        CalendarCrucible crucible = read_crucible(draft, lent, job, id);
        g_array_append_val(crucibles, crucible);
    }
    return crucibles;
}

// Loads each crucible melts in each session. Free.
static int *
list_melts(const BatchPlan *plan, const GArray *crucibles)
{
    int *melts = g_new0(int, plan->n_sessions * crucibles->len + 1);
    for (guint i = 0; i < plan->n_sessions; i++)
        for (guint k = 0; plan->sessions[i].crucibles && plan->sessions[i].crucibles[k]; k++) {
            int crucible = find_crucible(crucibles, plan->sessions[i].crucibles[k]);
            if (crucible >= 0)
                melts[i * crucibles->len + (guint)crucible] = plan->sessions[i].melts[k];
        }
    return melts;
}

static CalendarStuff
read_stuff(const BatchDraft *draft, const BatchJob *job, const GArray *crucibles)
{
    if (!job->plan)
        return (CalendarStuff){.flasks_per_load = 1, .crucible = -1};
    static const char *const paths[] = {"job.charge_from", "job.metal_price", NULL};
    g_autoptr(Inputs) in = inputs_resolve(draft->book, job->id, draft->tables, NULL, paths);
    double per_load = value_of(job, "melt.flasks_per_load");
    return (CalendarStuff){.metal = job->metal,
                           .flasks_per_load = per_load >= 1 && per_load < 1e6 ? (int)per_load : 1,
                           .poured = plain(value_of(job, "mould.metal_mass")),
                           .castings = plain(value_of(job, "mould.castings_mass")),
                           .loss = plain(value_of(job, "melt.loss")),
                           .reserve = plain(value_of(job, "job.reserve")),
                           .reserve_least = plain(value_of(job, "job.reserve_least")),
                           .heel = plain(value_of(job, "job.heel")),
                           .working = value_of(job, "melt.working_mass"),
                           .returns_share = plain(value_of(job, "job.returns_share")),
                           .any = g_strcmp0(inputs_text(in, "job.charge_from"), "any") == 0,
                           .price = inputs_number(in, "job.metal_price"),
                           .sand = plain(value_of(job, "mould.sand_mass")),
                           .boxes = (int)fmin(plain(value_of(job, "flask.count")), 1e6),
                           .crucible = find_crucible(crucibles, job->crucible),
                           .printed = job->poured > 0,
                           .print_time = value_of(job, "board.print_time")};
}

static CalendarSand
read_sand(const BatchDraft *draft)
{
    static const char *const paths[] = {"sand.loss", "sand.box", "sand.price", "shop.sand_ready",
                                        NULL};
    g_autoptr(Inputs) inputs = inputs_resolve(draft->book, NULL, draft->tables, NULL, paths);
    return (CalendarSand){plain(inputs_number(inputs, "sand.loss")),
                          inputs_number(inputs, "sand.box"), inputs_number(inputs, "sand.price"),
                          plain(inputs_number(inputs, "shop.sand_ready"))};
}

// The lots in stock; NULL with an error when they cannot be read.
static GArray *
read_lots(const BatchDraft *draft, GError **error)
{
    static const char *const paths[] = {"shop.stock", NULL};
    g_autoptr(Inputs) inputs = inputs_resolve(draft->book, NULL, draft->tables, NULL, paths);
    const char *wrong = inputs_error(inputs, "shop.stock"), *text = inputs_text(inputs, paths[0]);
    UnitSet units = book_units(draft->book);
    if (!wrong)
        return lots_read(text ? text : "", &units, draft->tables, error);
    base_error_set(error, BASE_ERROR_VALUE, NULL, paths[0], wrong, NULL);
    return NULL;
}

// Hands an array's content on and leaves it empty.
static gpointer
take_array(GArray *array, guint *n)
{
    gsize length = 0;
    gpointer data = g_array_steal(array, &length);
    *n = (guint)length;
    return data;
}

static void
take_needs(BatchPlan *plan, CalendarNeeds *needs, const CalendarStuff *stuff)
{
    plan->needs = take_array(needs->needs, &plan->n_needs);
    plan->shelves = take_array(needs->shelves, &plan->n_shelves);
    plan->totals = needs->totals;
    for (guint i = 0; i < plan->n_sessions; i++) {
        BatchSession *session = &plan->sessions[i];
        session->charge = g_array_index(needs->charges, double, i);
        for (guint k = 0; k < session->n_pours; k++)
            session->pours[k].charge = calendar_needs_charge(&stuff[session->pours[k].job],
                                                             session->pours[k].flasks);
    }
}

gboolean
batch_add_needs(BatchDraft *draft, const CalendarBatch *batch, GError **error)
{
    BatchPlan *plan = draft->plan;
    g_autoptr(GArray) lots = read_lots(draft, error);
    if (!lots)
        return FALSE;
    g_autoptr(GArray) crucibles = list_crucibles(draft);
    g_autofree int *melts = list_melts(plan, crucibles);
    g_autofree CalendarStuff *stuff = g_new0(CalendarStuff, plan->n_jobs + 1);
    for (guint i = 0; i < plan->n_jobs; i++)
        stuff[i] = read_stuff(draft, &plan->jobs[i], crucibles);
    CalendarShop shop = {(const CalendarCrucible *)(gpointer)crucibles->data, crucibles->len, melts,
                         lots, read_sand(draft)};
    g_autoptr(CalendarNeeds) needs = calendar_needs_make(batch->sessions, draft->days, stuff,
                                                         plan->n_jobs, &shop);
    plan->lists_stock = lots->len > 0;
    take_needs(plan, needs, stuff);
    return TRUE;
}
