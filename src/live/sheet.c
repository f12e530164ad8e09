// SPDX-License-Identifier: GPL-3.0-or-later
// A sheet from a plan. Tasks that were laid out without a key get one by kind and number.
#include "live/sheet.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "book/days.h"
#include "live/clock.h"
#include "live/task.h"
#include "session/limits.h"

void
live_sheet_free(LiveSheet *sheet)
{
    if (!sheet)
        return;
    for (guint i = 0; i < sheet->n_jobs; i++) {
        g_free(sheet->jobs[i].id);
        g_free(sheet->jobs[i].name);
        g_free(sheet->jobs[i].metal);
        g_free(sheet->jobs[i].flask);
    }
    g_free(sheet->jobs);
    g_free(sheet->id);
    g_free(sheet->book);
    g_free(sheet->furnace);
    g_free(sheet->crucible);
    session_result_unref(sheet->session);
    g_free(sheet);
}

const LiveJob *
live_sheet_job(const LiveSheet *sheet, const SessionTask *task)
{
    g_return_val_if_fail(sheet != NULL && task != NULL, NULL);
    if (task->job >= 0 && (guint)task->job < sheet->n_jobs)
        return &sheet->jobs[task->job];
    return sheet->n_jobs == 1 ? &sheet->jobs[0] : NULL;
}

int
live_sheet_find(const LiveSheet *sheet, const char *key)
{
    g_return_val_if_fail(sheet != NULL && key != NULL, -1);
    for (guint i = 0; i < sheet->session->n_tasks; i++)
        if (g_str_equal(sheet->session->tasks[i].key, key))
            return (int)i;
    return -1;
}

static double
find_figure(const Plan *plan, const char *id)
{
    const Figure *figure = plan_figure(plan, id);
    return figure ? figure->value : NAN;
}

static void
fill_own_job(LiveJob *job, const Plan *plan)
{
    const Book *book = plan_book(plan);
    const MouldLayout *mould = plan_mould(plan);
    const MeltResult *melt = plan_melt(plan);
    const TableRow *metal = plan_metal(plan);
    job->metal = g_strdup(metal ? table_row_id(metal) : NULL);
    job->flask = g_strdup(book_entry_id(book, job->id, "flask"));
    job->pouring_temperature = melt ? melt->pouring_temperature : NAN;
    job->casting_mass = find_figure(plan, "casting.mass");
    job->mould_mass = find_figure(plan, "mould.metal_mass");
    job->cavities = mould ? mould->n_cavities : 0;
}

static void
fill_jobs(LiveSheet *sheet, const Plan *const *plans, guint n_plans)
{
    const char *own[] = {plan_job(plans[0]), NULL};
    const char *const *ids = (const char *const *)sheet->session->jobs;
    if (!ids || !ids[0])
        ids = own;
    sheet->n_jobs = g_strv_length((char **)ids);
    sheet->jobs = g_new0(LiveJob, sheet->n_jobs);
    for (guint i = 0; i < sheet->n_jobs; i++) {
        LiveJob *job = &sheet->jobs[i];
        job->id = g_strdup(ids[i]);
        job->name = g_strdup(book_job_name(plan_book(plans[0]), ids[i]));
        job->pouring_temperature = job->casting_mass = job->mould_mass = NAN;
        for (guint p = 0; p < n_plans; p++)
            if (g_strcmp0(ids[i], plan_job(plans[p])) == 0 && !job->flask)
                fill_own_job(job, plans[p]);
    }
}

// How much later by the clock the day begins than sessions of the shop do, s; the nearer of two
// midnights counts.
static double
find_late(const Plan *plan, double start)
{
    const Figure *figure = plan_figure(plan, "shop.start");
    g_autoptr(GDateTime) at = g_date_time_new_from_unix_local((gint64)start);
    int planned = 0;
    if (!at || !figure || !figure->text || !days_read_clock(figure->text, &planned, NULL))
        return 0.0;
    int now = g_date_time_get_hour(at) * 60 + g_date_time_get_minute(at);
    int late = (now - planned + 1440) % 1440;
    return (late > 720 ? late - 1440 : late) * 60.0;
}

LiveSheet *
live_sheet_of(const SessionResult *session, const Plan *const *plans, guint n_plans,
              const char *book_path, double start, GError **error)
{
    g_return_val_if_fail(plans != NULL && n_plans > 0 && isfinite(start), NULL);
    if (!session || session->n_tasks == 0) {
        base_error_set(error, BASE_ERROR_VALUE, book_path, plan_job(plans[0]),
                       _("the plan has no session to work by"),
                       _("look at the step Session for what is missing"));
        return NULL;
    }
    const Book *book = plan_book(plans[0]);
    const MeltResult *melt = plan_melt(plans[0]);
    g_autofree char *utc = live_clock_utc(start);
    LiveSheet *sheet = g_new0(LiveSheet, 1);
    sheet->id = g_strdup_printf("%s-%08x", utc, g_random_int());
    sheet->start = start;
    sheet->book = g_strdup(book_path);
    sheet->session = live_session_keyed(session);
    session_limits_unref(sheet->session->limits);
    sheet->session->limits = session_limits_later(session->limits, find_late(plans[0], start));
    sheet->furnace = g_strdup(book_entry_id(book, plan_job(plans[0]), "furnace"));
    sheet->crucible = g_strdup(book_entry_id(book, plan_job(plans[0]), "crucible"));
    sheet->charge_mass = melt ? melt->charge_mass : NAN;
    fill_jobs(sheet, plans, n_plans);
    return sheet;
}

LiveSheet *
live_sheet_new(const Plan *plan, const char *book_path, double start, GError **error)
{
    g_return_val_if_fail(plan != NULL, NULL);
    return live_sheet_of(plan_session(plan), &plan, 1, book_path, start, error);
}
