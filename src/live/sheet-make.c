// SPDX-License-Identifier: GPL-3.0-or-later
// A sheet from the plan of a job or of a day of all jobs. Tasks that were laid out without a key
// get one by kind and number; on a day of several jobs each says which it is for.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "book/days.h"
#include "live/clock.h"
#include "live/sheet.h"
#include "live/task.h"
#include "session/limits.h"

static double
find_figure(const Plan *plan, const char *id)
{
    return figure_list_value(plan_figures(plan), id);
}

static void
fill_job(LiveJob *job, const Plan *plan)
{
    const Book *book = plan_book(plan);
    const MouldLayout *mould = plan_mould(plan);
    const MeltResult *melt = plan_melt(plan);
    const TableRow *metal = plan_metal(plan);
    job->metal = g_strdup(metal ? table_row_id(metal) : NULL);
    job->flask = g_strdup(book_entry_id(book, job->id, "flask"));
    job->pouring_temperature = melt ? melt->pouring_temperature : NAN;
    job->solidus = metal ? table_row_value(metal, "solidus") : NAN;
    job->pour_from = find_figure(plan, "melt.pour_from");
    job->pour_to = find_figure(plan, "melt.pour_to");
    job->casting_mass = find_figure(plan, "casting.mass");
    job->mould_mass = find_figure(plan, "mould.metal_mass");
    job->cavities = mould ? mould->n_cavities - mould->n_guests : 0;
    if (mould && mould->guest && mould->n_guests > 0) {
        job->guest = g_strdup(mould->guest->job);
        job->guest_mass = mould->guest->mass;
        job->guests = mould->n_guests;
    }
}

// `plan` NULL: known by its id alone.
static void
add_job(LiveSheet *sheet, const Book *book, const char *id, const Plan *plan)
{
    LiveJob *job = &sheet->jobs[sheet->n_jobs++];
    const char *name = book_job_name(book, id);
    live_job_init(job);
    job->id = g_strdup(id);
    job->name = g_strdup(name ? name : id);
    if (plan)
        fill_job(job, plan);
}

// The light of a day that begins at `start` (UTC, s), by the book's clock times: whatever hour it
// was planned for, the sun keeps its own. FALSE when they cannot be read.
static gboolean
find_light(const Book *book, double start, SessionLight *light)
{
    const char *from = node_text(node_get(book_root(book), "/shop/light_from"));
    const char *to = node_text(node_get(book_root(book), "/shop/light_to"));
    g_autoptr(GDateTime) at = g_date_time_new_from_unix_local((gint64)start);
    if (!at)
        return FALSE;
    int now = g_date_time_get_hour(at) * 60 + g_date_time_get_minute(at), dusk = G_MAXINT;
    if (!session_light_find(from, to, now, light, NULL))
        return FALSE;
    // After dusk it is gone; nobody begins a day to wait for the morning.
    if (to && *to && days_read_clock(to, &dusk, NULL) && now >= dusk)
        *light = (SessionLight){0.0, 0.0};
    return TRUE;
}

static LiveSheet *
make_sheet(const SessionResult *session, const Book *book, const char *book_path, double start)
{
    g_autofree char *utc = live_clock_utc(start);
    LiveSheet *sheet = g_new0(LiveSheet, 1);
    SessionLight light;
    sheet->id = g_strdup_printf("%s-%08x", utc, g_random_int());
    sheet->start = start;
    sheet->book = g_strdup(book_path);
    sheet->session = live_session_keyed(session);
    if (find_light(book, start, &light)) {
        session_limits_unref(sheet->session->limits);
        sheet->session->limits = session_limits_lit(session->limits, &light);
    }
    sheet->charge_mass = NAN;
    return sheet;
}

LiveSheet *
live_sheet_new(const Plan *plan, const char *book_path, double start, GError **error)
{
    g_return_val_if_fail(plan != NULL && isfinite(start), NULL);
    const SessionResult *session = plan_session(plan);
    const MeltResult *melt = plan_melt(plan);
    const Book *book = plan_book(plan);
    const char *own[] = {plan_job(plan), NULL};
    if (!session || session->n_tasks == 0) {
        base_error_set(error, BASE_ERROR_VALUE, book_path, plan_job(plan),
                       _("the plan has no session to work by"),
                       _("look at the step Session for what is missing"));
        return NULL;
    }
    const char *const *ids = session->jobs && session->jobs[0] ? (const char *const *)session->jobs
                                                               : own;
    LiveSheet *sheet = make_sheet(session, book, book_path, start);
    sheet->furnace = g_strdup(book_entry_id(book, plan_job(plan), "furnace"));
    sheet->crucible = g_strdup(book_entry_id(book, plan_job(plan), "crucible"));
    sheet->charge_mass = melt ? melt->charge_mass : NAN;
    sheet->jobs = g_new0(LiveJob, g_strv_length((char **)ids));
    for (guint i = 0; ids[i]; i++)
        add_job(sheet, book, ids[i], g_str_equal(ids[i], plan_job(plan)) ? plan : NULL);
    return sheet;
}

// The jobs that have a mould on the day, and the tasks numbered by them.
static void
take_jobs(LiveSheet *sheet, const PlanDay *day)
{
    SessionResult *session = sheet->session;
    guint n = g_strv_length(session->jobs);
    g_autofree int *place = g_new(int, n + 1);
    char **ids = g_new0(char *, n + 1);
    sheet->jobs = g_new0(LiveJob, n);
    for (guint i = 0; i < n; i++) {
        const Plan *plan = plan_day_plan(day, i);
        place[i] = -1;
        if (plan_day_moulds(day, i) == 0)
            continue;
        place[i] = (int)sheet->n_jobs;
        ids[sheet->n_jobs] = g_strdup(session->jobs[i]);
        add_job(sheet, plan_book(plan), session->jobs[i], plan);
    }
    for (guint i = 0; i < session->n_tasks; i++)
        if (session->tasks[i].job >= 0)
            session->tasks[i].job = place[session->tasks[i].job];
    const SessionLimits *limits = session->limits;
    session->limits = session_limits_of_jobs(limits, place, sheet->n_jobs);
    session_limits_unref(limits);
    g_strfreev(session->jobs);
    session->jobs = ids;
}

static char *
copy_id(const char *id)
{
    return id && *id ? g_strdup(id) : NULL; // "": the furnace by default, which has no id
}

static void
take_loads(LiveSheet *sheet, const PlanDay *day)
{
    sheet->n_loads = (guint)MAX(0, plan_day_session(day)->loads);
    sheet->loads = g_new0(LiveLoad, sheet->n_loads);
    for (guint i = 0; i < sheet->n_loads; i++) {
        int load = (int)i;
        sheet->loads[i] = (LiveLoad){
            .metal = g_strdup(plan_day_load_metal(day, load)),
            .furnace = copy_id(plan_day_load_furnace(day, load)),
            .crucible = copy_id(plan_day_load_crucible(day, load)),
            .charge_mass = plan_day_load_charge(day, load),
        };
    }
}

static const char *
find_furnace_name(const Book *book, const char *id)
{
    const Node *list = node_get(book_root(book), "/shop/furnaces");
    for (guint i = 0; id && i < node_size(list); i++) {
        const Node *one = node_at(list, i);
        const char *name = node_text(node_member(one, "name"));
        if (g_strcmp0(node_text(node_member(one, "id")), id) == 0)
            return name && *name ? name : id;
    }
    return id;
}

static const char *
find_metal_name(const LiveSheet *sheet, const PlanDay *day, int load)
{
    const SessionResult *session = plan_day_session(day);
    for (guint i = 0; i < session->n_tasks; i++)
        if (session->tasks[i].kind == TASK_POUR && session->tasks[i].load == load)
            return table_row_name(plan_metal(plan_day_plan(day, (guint)session->tasks[i].job)));
    return sheet->loads[load].metal;
}

// The first load that is melted in the furnace of a task; -1: none.
static int
find_load(const SessionResult *session, const SessionTask *task)
{
    if (task->load >= 0 || task->kind != TASK_WARM_UP)
        return task->load;
    for (guint i = 0; i < session->n_tasks; i++)
        if (session->tasks[i].kind == TASK_CHARGE && session->tasks[i].furnace == task->furnace)
            return session->tasks[i].load;
    return -1;
}

// What is to be told apart: the job of a mould; of a load, metal and furnace where they differ on
// the day. NULL: nothing. Free.
static char *
find_whose(const LiveSheet *sheet, const PlanDay *day, const SessionTask *task)
{
    int load = find_load(sheet->session, task);
    gboolean metals = FALSE, furnaces = FALSE;
    if (task->flask >= 0)
        return sheet->n_jobs > 1 && task->job >= 0 ? g_strdup(sheet->jobs[task->job].name) : NULL;
    if (load < 0 || (guint)load >= sheet->n_loads)
        return NULL;
    for (guint i = 1; i < sheet->n_loads; i++) {
        metals = metals || g_strcmp0(sheet->loads[i].metal, sheet->loads[0].metal) != 0;
        furnaces = furnaces || g_strcmp0(sheet->loads[i].furnace, sheet->loads[0].furnace) != 0;
    }
    const char *metal = metals ? find_metal_name(sheet, day, load) : NULL;
    const char *furnace = furnaces ? find_furnace_name(plan_book(plan_day_plan(day, 0)),
                                                       sheet->loads[load].furnace)
                                   : NULL;
    if (metal && furnace && task->kind != TASK_WARM_UP)
        return g_strdup_printf("%s, %s", metal, furnace);
    return g_strdup(furnace ? furnace : task->kind == TASK_WARM_UP ? NULL : metal);
}

static void
name_tasks(LiveSheet *sheet, const PlanDay *day)
{
    for (guint i = 0; i < sheet->session->n_tasks; i++) {
        SessionTask *task = &sheet->session->tasks[i];
        g_autofree char *whose = find_whose(sheet, day, task);
        if (!whose)
            continue;
        g_autofree char *plain = task->label;
        // Translators: a task of the day and whose it is: "Pour mould 3: Pawl".
        task->label = g_strdup_printf(_("%s: %s"), plain, whose);
    }
}

// Why nothing is poured, by the first job that says so.
static void
fail_day(const PlanDay *day, const char *book_path, GError **error)
{
    char **jobs = plan_day_session(day)->jobs;
    for (guint i = 0; jobs[i]; i++)
        if (plan_day_why_not(day, i)) {
            base_error_set(error, BASE_ERROR_VALUE, book_path, jobs[i], plan_day_why_not(day, i),
                           NULL);
            return;
        }
    base_error_set(error, BASE_ERROR_VALUE, book_path, _("jobs of the day"),
                   _("nothing can be poured on this day"), _("look at the calendar"));
}

LiveSheet *
live_sheet_of_day(const PlanDay *day, const char *book_path, double start, GError **error)
{
    g_return_val_if_fail(day != NULL && isfinite(start), NULL);
    const SessionResult *session = plan_day_session(day);
    if (session->n_tasks == 0) {
        fail_day(day, book_path, error);
        return NULL;
    }
    LiveSheet *sheet = make_sheet(session, plan_book(plan_day_plan(day, 0)), book_path, start);
    take_jobs(sheet, day);
    take_loads(sheet, day);
    if (sheet->n_loads > 0) {
        sheet->furnace = g_strdup(sheet->loads[0].furnace);
        sheet->crucible = g_strdup(sheet->loads[0].crucible);
        sheet->charge_mass = sheet->loads[0].charge_mass;
    }
    name_tasks(sheet, day);
    return sheet;
}
