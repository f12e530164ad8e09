// SPDX-License-Identifier: GPL-3.0-or-later
// The plans of the jobs a batch is made of. A plan is a function of a book, so what differs from
// the book as it stands, fewer parts where some are cast already or another length of day, is put
// into a copy of it; the cache gives back all stages that do not read that.
#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "book/days.h"
#include "book/edit.h"
#include "plan/batch-private.h"
#include "plan/walk.h"

Book *
batch_set_text(const Book *book, const char *job, const char *path, const char *text,
               const Tables *tables, GError **error)
{
    g_autoptr(Edit) edit = edit_field(book, job, field_find(path), text, tables, error);
    return edit ? edit_apply(book, edit, error) : NULL;
}

// The book with the parts the job still wants.
static Book *
book_of_rest(const BatchDraft *draft, const BatchJob *job, GError **error)
{
    if (job->good == 0)
        return book_ref(draft->book);
    g_autofree char *rest = g_strdup_printf("%d", job->wanted - job->good);
    return batch_set_text(draft->book, job->id, "job.quantity", rest, draft->tables, error);
}

BatchHours
batch_hours_of(const BatchDraft *draft, const CalendarDay *day)
{
    gboolean lit = !draft->light_from && !draft->light_to;
    return (BatchHours){.from = lit ? draft->start : day->from, .length = day->to - day->from};
}

gboolean
batch_light_of(const BatchDraft *draft, BatchHours hours, SessionLight *light, GError **error)
{
    return session_light_find(draft->light_from, draft->light_to, hours.from, light, error);
}

// The book with a day's hours in the place of the usual ones.
static Book *
book_of_hours(const BatchDraft *draft, const Book *book, BatchHours hours, GError **error)
{
    g_autoptr(Book) changed = book_ref(book);
    const struct {
        const char *path;
        char *text; // NULL: as it is
    } texts[] = {{"shop.hours",
                  hours.length == draft->hours ? NULL : g_strdup_printf("%d min", hours.length)},
                 {"shop.start", hours.from == draft->start ? NULL : days_write_clock(hours.from)}};
    for (guint i = 0; i < G_N_ELEMENTS(texts); i++) {
        g_autofree char *text = texts[i].text;
        Book *before = changed;
        if (!text || !before)
            continue;
        changed = batch_set_text(before, NULL, texts[i].path, text, draft->tables, error);
        book_unref(before);
    }
    if (!changed)
        g_prefix_error(error, "shop.days: ");
    return g_steal_pointer(&changed);
}

Plan *
batch_plan_job(const BatchDraft *draft, const Book *book, const BatchJob *job, GError **error)
{
    // How long patterns print matters to those that are not there yet.
    return walk_for_days(book, job->id, draft->tables, draft->cache, job->poured == 0,
                         draft->progress, error);
}

Plan *
batch_plan_of_hours(const BatchDraft *draft, guint index, BatchHours hours, GError **error)
{
    const BatchJob *job = &draft->plan->jobs[index];
    g_autoptr(Book) rest = book_of_rest(draft, job, error);
    g_autoptr(Book) changed = rest ? book_of_hours(draft, rest, hours, error) : NULL;
    return changed ? batch_plan_job(draft, changed, job, error) : NULL;
}

// Why there are no flasks to plan with. Free.
static char *
find_why(const Plan *plan, const Figure *figure)
{
    for (guint i = 0; i < plan_stage_count(plan); i++) {
        PlanStageInfo info = plan_stage_info(plan, i);
        if (info.error && !g_str_equal(info.id, "board"))
            return g_strdup(info.error);
    }
    static const char *const telling[] = {"part.closed", "mould.cavities"};
    for (guint i = 0; i < G_N_ELEMENTS(telling); i++) {
        const Figure *check = plan_figure(plan, telling[i]);
        if (check && check->state == FIGURE_FAILS && check->note)
            return g_strdup(check->note);
    }
    const Figure *cause = figure && figure->missing ? plan_figure(plan, figure->missing) : NULL;
    return g_strdup_printf(_("how many flasks to pour is not known; it needs %s; see the job's "
                             "plan"),
                           cause ? _(cause->spec->label) : _("a plan with a casting in a flask"));
}

// FALSE with job->why when it cannot be read.
static gboolean
read_due(const BatchDraft *draft, BatchJob *job)
{
    static const char *const paths[] = {"job.due", "job.quantity", NULL};
    g_autoptr(Inputs) inputs = inputs_resolve(draft->book, job->id, draft->tables, NULL, paths);
    double wanted = inputs_number(inputs, "job.quantity");
    const char *due = inputs_text(inputs, "job.due");
    for (guint i = 0; paths[i] && !job->why; i++)
        job->why = g_strdup(inputs_error(inputs, paths[i]));
    job->wanted = wanted >= 1 && wanted < G_MAXINT ? (int)wanted : 0;
    g_autoptr(GError) error = NULL;
    if (!job->why && due && !days_read_date(due, &job->due, &error))
        job->why = g_strdup(error->message);
    return !job->why;
}

// FALSE only when stopped; a job that cannot be planned says why.
static gboolean
add_plan(BatchDraft *draft, guint index, GError **error)
{
    BatchJob *job = &draft->plan->jobs[index];
    BatchHours usual = {draft->start, draft->hours};
    g_autoptr(Plan) plan = batch_plan_of_hours(draft, index, usual, error);
    if (!plan)
        return FALSE;
    const Figure *flasks = plan_figure(plan, "run.batch_flasks");
    if (!flasks || !(flasks->value >= 1 && flasks->value < G_MAXINT)) {
        job->why = find_why(plan, flasks);
        return TRUE;
    }
    job->flasks = (int)flasks->value;
    job->castings = (int)figure_list_value(plan_figures(plan), "run.castings_to_start");
    job->cavities = (int)figure_list_value(plan_figures(plan), "mould.cavities");
    job->metal = g_strdup(table_row_id(plan_metal(plan)));
    job->metal_name = g_strdup(table_row_name(plan_metal(plan)));
    job->crucible = g_strdup(book_entry_id(draft->book, job->id, "crucible"));
    job->plan = g_steal_pointer(&plan);
    return TRUE;
}

// Through a stage that needs nothing else, so that what is done needs no mesh.
LearnResult *
batch_learn(const BatchDraft *draft, const Book *book, const char *job)
{
    CacheEntry *entries[STAGE_COUNT] = {NULL};
    gboolean good = walk_until(book, job, draft->tables, draft->cache, STAGE_LEARN + 1,
                               draft->progress, entries, NULL);
    const LearnResult *result = good ? entries[STAGE_LEARN]->result : NULL;
    LearnResult *own = result ? learn_result_ref(result) : NULL;
    cache_entry_unref(entries[STAGE_LEARN]);
    return own;
}

static gboolean
add_job(BatchDraft *draft, const char *id, GError **error)
{
    BatchPlan *plan = draft->plan;
    if (!book_has_job(draft->book, id))
        return base_error_setf(error, BASE_ERROR_NOT_FOUND, NULL, NULL, NULL,
                               _("no job called \"%s\""), id);
    for (guint i = 0; i < plan->n_jobs; i++)
        if (g_str_equal(plan->jobs[i].id, id))
            return TRUE;
    BatchJob *job = &plan->jobs[plan->n_jobs++];
    const char *name = book_job_name(draft->book, id);
    job->id = g_strdup(id);
    job->name = g_strdup(name ? name : id);
    if (!read_due(draft, job))
        return TRUE;
    g_autoptr(LearnResult) learn = batch_learn(draft, draft->book, id);
    job->good = learn ? (int)MIN(learn->good, (guint)G_MAXINT) : 0;
    job->poured = learn ? (int)MIN(learn->poured, (guint)G_MAXINT) : 0;
    return job->good >= job->wanted || add_plan(draft, plan->n_jobs - 1, error);
}

gboolean
batch_add_jobs(BatchDraft *draft, const char *const *jobs, GError **error)
{
    guint n = jobs ? g_strv_length((char **)jobs) : book_job_count(draft->book);
    if (book_job_count(draft->book) == 0)
        return base_error_set(error, BASE_ERROR_NOT_FOUND, NULL, NULL, _("the book has no job"),
                              _("add one, in the window or with new --mesh"));
    if (n > BATCH_MOST_JOBS)
        return base_error_setf(error, BASE_ERROR_LIMIT, NULL, "jobs", _("choose fewer"),
                               _("more than %d jobs are not planned together"), BATCH_MOST_JOBS);
    draft->plan->jobs = g_new0(BatchJob, n + 1);
    for (guint i = 0; i < n; i++)
        if (!add_job(draft, jobs ? jobs[i] : book_job_id(draft->book, i), error))
            return FALSE;
    return TRUE;
}
