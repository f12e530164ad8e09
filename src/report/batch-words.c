// SPDX-License-Identifier: GPL-3.0-or-later
// Pieces of sentences about a batch, the same on a terminal, in a calendar and in the window.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "report/batch.h"

#define LEAST_MASS 5e-4 // kg: less is not spoken of

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
    g_autofree char *loads = batch_loads_words(pour->loads, pour->shared);
    return g_strdup_printf("%s, %s, %s", flasks, castings, loads);
}

char *
report_batch_session(const BatchSession *session)
{
    g_autofree char *words = batch_session_words(session);
    return session->held_why ? g_strdup_printf("%s. %s", words, session->held_why)
                             : g_steal_pointer(&words);
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

static const char *
name_metal(const BatchPlan *batch, const char *id)
{
    for (guint i = 0; i < batch->n_jobs; i++)
        if (g_strcmp0(batch->jobs[i].metal, id) == 0)
            return batch->jobs[i].metal_name;
    return id;
}

// Masses of ingot, returns and castings there are, with commas between; "" for none. Free.
static char *
list_metal(const BatchPlan *batch, const double mass[MAKEUP_COUNT])
{
    static const char *const words[MAKEUP_COUNT] = {[MAKEUP_INGOT] = N_("%s of ingot"),
                                                    [MAKEUP_RETURNS] = N_("%s of returns"),
                                                    [MAKEUP_CASTINGS] = N_("%s of castings")};
    static const MakeupGroup order[] = {MAKEUP_INGOT, MAKEUP_RETURNS, MAKEUP_CASTINGS};
    g_autoptr(GString) out = g_string_new(NULL);
    for (guint i = 0; i < G_N_ELEMENTS(order); i++) {
        g_autofree char *text = quantity_format(QUANTITY_MASS, mass[order[i]], &batch->units);
        if (!(mass[order[i]] > LEAST_MASS))
            continue;
        g_string_append(out, out->len > 0 ? ", " : "");
        g_string_append_printf(out, _(words[order[i]]), text);
    }
    return g_string_free(g_steal_pointer(&out), FALSE);
}

static char *
need_ingot(const BatchPlan *batch, const CalendarNeed *need)
{
    const char *name = name_metal(batch, need->what);
    const double there[MAKEUP_COUNT] = {[MAKEUP_INGOT] = need->stock,
                                        [MAKEUP_RETURNS] = need->returns,
                                        [MAKEUP_CASTINGS] = need->castings};
    g_autofree char *mass = quantity_format(QUANTITY_MASS, need->amount, &batch->units);
    g_autofree char *stock = list_metal(batch, there);
    if (need->amount < LEAST_MASS)
        return g_strdup_printf(_("%s: nothing to buy; charge %s"), name, stock);
    if (*stock)
        return g_strdup_printf(_("%s: buy %s of ingot; charge it with %s"), name, mass, stock);
    return g_strdup_printf(_("%s: buy %s of ingot"), name, mass);
}

static char *
need_patterns(const BatchPlan *batch, const CalendarNeed *need)
{
    const char *name = batch->jobs[need->job].name;
    if (need->begin == 0)
        return g_strdup_printf(_("Patterns of %s printed"), name);
    g_autofree char *day = report_batch_day(need->begin);
    if (need->begin < batch->first)
        return g_strdup_printf(_("Patterns of %s printed; should have been begun by %s"), name,
                               day);
    return g_strdup_printf(_("Patterns of %s printed; begin by %s"), name, day);
}

static char *
need_crucible(const BatchPlan *batch, const CalendarNeed *need)
{
    const char *name = report_batch_crucible(batch, need->what);
    int buy = (int)need->amount, spares = (int)need->stock;
    g_autofree char *fresh = g_strdup_printf(ngettext("Buy %d new crucible for %s, and temper it",
                                                      "Buy %d new crucibles for %s, and temper "
                                                      "them",
                                                      buy),
                                             buy, name);
    g_autofree char *spare = g_strdup_printf(
        ngettext("Temper %d spare crucible for %s", "Temper %d spare crucibles for %s", spares),
        spares, name);
    if (buy == 0)
        return g_steal_pointer(&spare);
    return spares == 0 ? g_steal_pointer(&fresh) : g_strdup_printf("%s; %s", spare, fresh);
}

static char *
need_words(const BatchPlan *batch, const CalendarNeed *need)
{
    g_autofree char *mass = NULL;
    switch (need->kind) {
    case NEED_PATTERNS:
        return need_patterns(batch, need);
    case NEED_CRUCIBLE:
        return need_crucible(batch, need);
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
report_batch_shelf(const BatchPlan *batch, const CalendarShelf *shelf)
{
    g_return_val_if_fail(batch && shelf, NULL);
    g_autofree char *before = list_metal(batch, shelf->before);
    g_autofree char *after = list_metal(batch, shelf->after);
    return g_strdup_printf(_("%s: %s; after the last session %s"), name_metal(batch, shelf->metal),
                           *before ? before : _("nothing"), *after ? after : _("nothing"));
}

char *
report_batch_end(const BatchJob *job)
{
    if (job->why)
        return g_strdup_printf(job->left < job->flasks ? _("not finished: %s") : _("left out: %s"),
                               job->why);
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
