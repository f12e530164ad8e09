// SPDX-License-Identifier: GPL-3.0-or-later
// Pieces of sentences about a batch, the same on a terminal, in a calendar and in the window.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "report/batch.h"

char *
report_batch_day(guint32 day)
{
    static const char *const names[] = {N_("Mon"), N_("Tue"), N_("Wed"), N_("Thu"),
                                        N_("Fri"), N_("Sat"), N_("Sun")};
    g_return_val_if_fail(g_date_valid_julian(day), NULL);
    g_autoptr(GDate) date = g_date_new_julian(day);
    g_autofree char *text = days_write_date(day);
    return g_strdup_printf("%s %s", _(names[g_date_get_weekday(date) - 1]), text);
}

char *
report_batch_pour(const BatchPlan *batch, const BatchPour *pour)
{
    g_autofree char *flasks = g_strdup_printf(ngettext("%d flask", "%d flasks", pour->flasks),
                                              pour->flasks);
    g_autofree char *castings = g_strdup_printf(
        ngettext("%d casting", "%d castings", pour->castings), pour->castings);
    g_autofree char *loads = g_strdup_printf(ngettext("%d load", "%d loads", pour->loads),
                                             pour->loads);
    return g_strdup_printf("%s, %s, %s", flasks, castings, loads);
}

const char *
report_batch_crucible(const BatchPlan *batch, const char *id)
{
    const Node *list = node_get(book_root(batch->book), "/shop/crucibles");
    for (guint i = 0; i < node_size(list); i++) {
        const char *name = node_text(node_member(node_at(list, i), "name"));
        if (name && *name && g_strcmp0(node_text(node_member(node_at(list, i), "id")), id) == 0)
            return name;
    }
    return id;
}

static char *
need_ingot(const BatchPlan *batch, const CalendarNeed *need)
{
    const char *name = need->what;
    for (guint i = 0; i < batch->n_jobs; i++)
        if (g_strcmp0(batch->jobs[i].metal, need->what) == 0)
            name = batch->jobs[i].metal_name;
    g_autofree char *mass = quantity_format(QUANTITY_MASS, need->amount, &batch->units);
    g_autofree char *returns = quantity_format(QUANTITY_MASS, need->returns, &batch->units);
    if (need->amount < 1e-6)
        return g_strdup_printf(_("%s: no ingot, %s of returns"), name, returns);
    if (need->returns > 0)
        return g_strdup_printf(_("Ingot, %s: %s, with %s of returns"), name, mass, returns);
    return g_strdup_printf(_("Ingot, %s: %s"), name, mass);
}

static char *
need_patterns(const BatchPlan *batch, const CalendarNeed *need)
{
    const char *name = batch->jobs[need->job].name;
    if (need->begin == 0)
        return g_strdup_printf(_("Patterns of %s printed"), name);
    g_autofree char *day = report_batch_day(need->begin);
    return g_strdup_printf(_("Patterns of %s printed; begin by %s"), name, day);
}

static char *
need_words(const BatchPlan *batch, const CalendarNeed *need)
{
    g_autofree char *mass = NULL;
    switch (need->kind) {
    case NEED_PATTERNS:
        return need_patterns(batch, need);
    case NEED_CRUCIBLE:
        return g_strdup_printf(_("A new crucible for %s, tempered"),
                               report_batch_crucible(batch, need->what));
    case NEED_INGOT:
        return need_ingot(batch, need);
    case NEED_SAND:
    default:
        mass = quantity_format(QUANTITY_MASS, need->amount, &batch->units);
        return g_strdup_printf(_("Moulding sand: %s"), mass);
    }
}

char *
report_batch_need(const BatchPlan *batch, const CalendarNeed *need)
{
    g_return_val_if_fail(batch && need, NULL);
    g_autofree char *words = need_words(batch, need);
    if (!(need->cost > 0))
        return g_steal_pointer(&words);
    g_autofree char *cost = quantity_format(QUANTITY_MONEY, need->cost, &batch->units);
    return g_strdup_printf("%s \u00b7 %s", words, cost);
}

char *
report_batch_end(const BatchJob *job)
{
    if (job->done == 0)
        return g_strdup(_("nothing left to cast"));
    g_autofree char *done = report_batch_day(job->done);
    if (job->late == G_MININT)
        return g_strdup_printf(_("ends %s; no due day"), done);
    g_autofree char *due = report_batch_day(job->due);
    if (job->late > 0) {
        g_autofree char *alone = report_batch_day(job->alone);
        return g_strdup_printf(ngettext("ends %s, due %s: %d day late; %s at the earliest",
                                        "ends %s, due %s: %d days late; %s at the earliest",
                                        job->late),
                               done, due, job->late, alone);
    }
    return g_strdup_printf(ngettext("ends %s, due %s: %d day to spare",
                                    "ends %s, due %s: %d days to spare", -job->late),
                           done, due, -job->late);
}
