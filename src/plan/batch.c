// SPDX-License-Identifier: GPL-3.0-or-later
// Puts a batch together: free days, the plans of the jobs, which job on which day, what is needed.
#include "plan/batch.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "plan/batch-private.h"

static void
drop_sessions(BatchPlan *plan)
{
    for (guint i = 0; i < plan->n_sessions; i++) {
        g_free(plan->sessions[i].pours);
        g_strfreev(plan->sessions[i].crucibles);
        plan_day_unref(plan->sessions[i].planned);
        g_free(plan->sessions[i].melts);
        g_free(plan->sessions[i].held_why);
    }
    g_clear_pointer(&plan->sessions, g_free);
    plan->n_sessions = 0;
}

static void
clear_plan(gpointer data)
{
    BatchPlan *plan = data;
    for (guint i = 0; i < plan->n_jobs; i++) {
        BatchJob *job = &plan->jobs[i];
        plan_unref(job->plan);
        g_free(job->id);
        g_free(job->name);
        g_free(job->metal);
        g_free(job->metal_name);
        g_free(job->crucible);
        g_free(job->why);
    }
    drop_sessions(plan);
    g_free(plan->jobs);
    g_free(plan->needs);
    g_free(plan->shelves);
    g_free(plan->shop);
    book_unref(plan->book);
    figure_list_unref(plan->figures);
}

BatchPlan *
batch_plan_ref(const BatchPlan *batch)
{
    g_return_val_if_fail(batch, NULL);
    return g_atomic_rc_box_acquire((BatchPlan *)batch);
}

void
batch_plan_unref(const BatchPlan *batch)
{
    if (batch)
        g_atomic_rc_box_release_full((BatchPlan *)batch, clear_plan);
}

guint32
batch_today(void)
{
    g_autoptr(GDateTime) now = g_date_time_new_now_local();
    g_autoptr(GDate) today = g_date_new_dmy((GDateDay)g_date_time_get_day_of_month(now),
                                            (GDateMonth)g_date_time_get_month(now),
                                            (GDateYear)g_date_time_get_year(now));
    return g_date_get_julian(today);
}

const char *
batch_need_id(CalendarNeedKind kind)
{
    static const char *const ids[] = {"patterns", "crucible", "ingot", "sand"};
    g_return_val_if_fail(kind < G_N_ELEMENTS(ids), NULL);
    return ids[kind];
}

static gboolean
add_lengths(BatchDraft *draft, GError **error)
{
    for (guint i = 0; i < draft->days->len; i++) {
        const CalendarDay *day = &g_array_index(draft->days, CalendarDay, i);
        BatchHours hours = batch_hours_of(draft, day);
        guint k = 0;
        while (k < draft->lengths->len &&
               memcmp(&g_array_index(draft->lengths, BatchHours, k), &hours, sizeof hours) != 0)
            k++;
        if (k == draft->lengths->len)
            g_array_append_val(draft->lengths, hours);
    }
    if (draft->lengths->len > BATCH_MOST_LENGTHS)
        return base_error_setf(
            error, BASE_ERROR_LIMIT, NULL, "shop.days", _("give days the same hours"),
            draft->light_from || draft->light_to
                ? _("the free days have more than %d different beginnings and lengths")
                : _("the free days have more than %d different lengths"),
            BATCH_MOST_LENGTHS);
    return TRUE;
}

static char *
copy_clock(const Inputs *inputs, const char *path)
{
    const char *text = inputs_text(inputs, path);
    return text && *text ? g_strdup(text) : NULL;
}

static gboolean
find_days(BatchDraft *draft, guint32 first, GError **error)
{
    static const char *const paths[] = {"shop.days",       "shop.start",    "shop.hours",
                                        "shop.light_from", "shop.light_to", NULL};
    g_autoptr(Inputs) inputs = inputs_resolve(draft->book, NULL, draft->tables, NULL, paths);
    for (guint i = 0; paths[i]; i++)
        if (inputs_error(inputs, paths[i]))
            return base_error_set(error, BASE_ERROR_VALUE, NULL, paths[i],
                                  inputs_error(inputs, paths[i]), NULL);
    g_autoptr(GArray) rules = days_read(inputs_text(inputs, "shop.days"), error);
    if (!rules || !days_read_clock(inputs_text(inputs, "shop.start"), &draft->start, error))
        return FALSE;
    draft->light_from = copy_clock(inputs, "shop.light_from");
    draft->light_to = copy_clock(inputs, "shop.light_to");
    draft->hours = (int)floor(inputs_number(inputs, "shop.hours") / 60.0 + 1e-9);
    draft->days = calendar_days_list(rules, draft->start, draft->hours, first, CALENDAR_MOST_DAYS);
    g_autofree char *from = days_write_date(first);
    if (draft->days->len == 0)
        return base_error_setf(error, BASE_ERROR_NOT_FOUND, NULL, "shop.days",
                               _("add some, such as \"sat\""), _("no day is free from %s on"),
                               from);
    return add_lengths(draft, error);
}

static gboolean
take_session(BatchDraft *draft, BatchEngine *engine, const CalendarSession *from, int number,
             BatchSession *session, GError **error)
{
    const CalendarDay *day = &g_array_index(draft->days, CalendarDay, from->day);
    *session = (BatchSession){.number = number,
                              .day = day->day,
                              .from = day->from,
                              .to = day->to,
                              .hours_end = day->to,
                              .pours = g_new0(BatchPour, from->pours->len + 1),
                              .n_pours = from->pours->len};
    for (guint i = 0; i < from->pours->len; i++) {
        const CalendarPour *pour = &g_array_index(from->pours, CalendarPour, i);
        const BatchJob *job = &draft->plan->jobs[pour->job];
        session->pours[i] = (BatchPour){
            .job = pour->job, .flasks = pour->flasks, .castings = pour->flasks * job->cavities};
    }
    return engine->finish(engine, from->day, session, draft->progress, error);
}

static gboolean
take_batch(BatchDraft *draft, BatchEngine *engine, const CalendarJob *jobs,
           const CalendarBatch *batch, GError **error)
{
    BatchPlan *plan = draft->plan;
    g_autofree int *left = g_new0(int, plan->n_jobs + 1);
    for (guint i = 0; i < plan->n_jobs; i++)
        left[i] = jobs[i].flasks;
    int before = (int)node_size(node_get(book_root(draft->book), "/log/sessions"));
    plan->sessions = g_new0(BatchSession, batch->sessions->len + 1);
    for (guint i = 0; i < batch->sessions->len; i++) {
        const CalendarSession *from = &g_array_index(batch->sessions, CalendarSession, i);
        plan->n_sessions++;
        if (!take_session(draft, engine, from, before + (int)i + 1, &plan->sessions[i], error) ||
            !batch_find_held(draft, engine, from->day, &plan->sessions[i], left, error))
            return FALSE;
    }
    for (guint i = 0; i < plan->n_jobs; i++) {
        plan->jobs[i].done = batch->done[i];
        plan->jobs[i].alone = batch->alone[i];
        plan->jobs[i].late = batch->late[i];
    }
    plan->latest = batch->latest;
    plan->proof = batch->proof;
    plan->mixed = engine->kind == CALENDAR_MIXED;
    return TRUE;
}

// Sessions are mixed where there are jobs to mix and the shop does not mind.
static gboolean
is_mixed(const BatchDraft *draft)
{
    static const char *const paths[] = {"shop.mix", NULL};
    g_autoptr(Inputs) inputs = inputs_resolve(draft->book, NULL, draft->tables, NULL, paths);
    guint open = 0;
    for (guint i = 0; i < draft->plan->n_jobs; i++)
        open += draft->plan->jobs[i].flasks > 0;
    return open > 1 && g_strcmp0(inputs_text(inputs, "shop.mix"), "one") != 0;
}

static CalendarBatch *
lay_with(BatchDraft *draft, BatchEngine *engine, GError **error)
{
    guint n = draft->plan->n_jobs;
    if (!engine)
        return NULL;
    g_autofree char **why = g_new0(char *, n + 1);
    g_autofree CalendarJob *jobs = batch_list_jobs(draft, engine, why, error);
    g_autoptr(CalendarBatch)
                  batch = jobs ? calendar_batch_make(jobs, n, draft->days, engine->kind,
                                                     engine->most, engine, draft->progress, error)
                               : NULL;
    gboolean ok = batch && take_batch(draft, engine, jobs, batch, error);
    if (ok)
        batch_take_left(draft->plan, why, draft->days->len);
    for (guint i = 0; i < n; i++)
        g_free(why[i]);
    engine->free(engine);
    return ok ? g_steal_pointer(&batch) : NULL;
}

static gboolean
lay_out(BatchDraft *draft, GError **error)
{
    g_autoptr(GError) own = NULL;
    g_autoptr(CalendarBatch) batch = NULL;
    if (is_mixed(draft)) {
        batch = lay_with(draft, batch_engine_mixed(draft, &own), &own);
        // A shop with more of something than a mixed day is planned for does one job at a time.
        if (!batch && !g_error_matches(own, BASE_ERROR, BASE_ERROR_LIMIT)) {
            g_propagate_error(error, g_steal_pointer(&own));
            return FALSE;
        }
        if (!batch)
            drop_sessions(draft->plan);
    }
    if (!batch)
        batch = lay_with(draft, batch_engine_single(draft, error), error);
    if (!batch || !batch_check_any(draft->plan, error) || !batch_add_needs(draft, batch, error))
        return FALSE;
    batch_add_figures(draft);
    return TRUE;
}

BatchPlan *
batch_plan_make(const Book *book, const char *const *jobs, const Tables *tables, Cache *cache,
                guint32 first, Progress *progress, GError **error)
{
    g_return_val_if_fail(book && tables && g_date_valid_julian(first), NULL);
    g_autoptr(BatchPlan) plan = g_atomic_rc_box_new0(BatchPlan);
    g_autoptr(GArray) lengths = g_array_new(FALSE, FALSE, sizeof(BatchHours));
    g_autoptr(Cache) own = cache ? cache_ref(cache) : cache_new(400);
    const char *shop = node_text(node_get(book_root(book), "/shop/name"));
    plan->book = book_ref(book);
    plan->shop = g_strdup(shop);
    plan->first = first;
    plan->units = book_units(book);
    plan->latest = G_MININT;
    BatchDraft draft = {.book = book,
                        .tables = tables,
                        .cache = own,
                        .progress = progress,
                        .plan = plan,
                        .lengths = lengths};
    gboolean ok = find_days(&draft, first, error) && batch_add_jobs(&draft, jobs, error) &&
                  lay_out(&draft, error);
    g_clear_pointer(&draft.days, g_array_unref);
    g_free(draft.light_from);
    g_free(draft.light_to);
    return ok ? g_steal_pointer(&plan) : NULL;
}
