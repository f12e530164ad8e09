// SPDX-License-Identifier: GPL-3.0-or-later
// The day of a whole shop: gathered, paired, planned, handed on.
#include "plan/day.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "melt/charge.h"
#include "plan/day-private.h"
#include "session/curve.h"
#include "session/limits.h"
#include "session/result.h"

static void
clear_day(gpointer data)
{
    PlanDay *day = data;
    for (guint i = 0; i < day->n; i++)
        g_free(day->why[i]);
    g_free(day->why);
    g_free(day->moulds);
    g_free(day->castings);
    if (day->session)
        session_result_unref(day->session);
    figure_list_unref(day->figures);
    g_clear_pointer(&day->metals, g_ptr_array_unref);
    g_clear_pointer(&day->load_furnaces, g_ptr_array_unref);
    g_clear_pointer(&day->load_crucibles, g_ptr_array_unref);
    g_clear_pointer(&day->charges, g_array_unref);
    g_clear_pointer(&day->plans, g_ptr_array_unref);
    book_unref(day->book);
}

PlanDay *
plan_day_ref(const PlanDay *day)
{
    g_return_val_if_fail(day, NULL);
    return g_atomic_rc_box_acquire((PlanDay *)day);
}

void
plan_day_unref(const PlanDay *day)
{
    if (day)
        g_atomic_rc_box_release_full((PlanDay *)day, clear_day);
}

static PlanDay *
new_day(const Day *from)
{
    PlanDay *day = g_atomic_rc_box_new0(PlanDay);
    day->book = book_ref(from->book);
    day->n = from->n_jobs;
    day->moulds = g_new0(int, from->n_jobs);
    day->castings = g_new0(int, from->n_jobs);
    day->why = g_new0(char *, from->n_jobs);
    day->figures = figure_list_new();
    day->session = session_result_new();
    day->metals = g_ptr_array_new_with_free_func(g_free);
    day->load_furnaces = g_ptr_array_new_with_free_func(g_free);
    day->load_crucibles = g_ptr_array_new_with_free_func(g_free);
    day->charges = g_array_new(FALSE, FALSE, sizeof(double));
    day->plans = g_ptr_array_new_with_free_func((GDestroyNotify)plan_unref);
    for (guint j = 0; j < from->n_jobs; j++)
        g_ptr_array_add(day->plans, plan_ref(from->jobs[j].plan));
    return day;
}

static void
describe_shop(const Day *day, SessionResult *session)
{
    const SessionFloor *floor = &day->floor;
    session->hours = floor->hours;
    session->people = floor->people;
    session->furnaces = floor->n_furnaces;
    session->benches = floor->benches;
    session->places = floor->places < 10000 ? floor->places : 0;
    session->confidence = session->good_rate = session->last_length = NAN;
    for (int kind = 0; kind < floor->n_boxes; kind++) {
        session->boxes_of_kind[kind] = floor->boxes[kind];
        session->boxes += floor->boxes[kind];
    }
    session->limits = session_limits_of(floor);
    if (floor->n_furnaces > 1)
        session->furnace_names = g_new0(char *, (gsize)floor->n_furnaces + 1);
    for (int f = 0; f < floor->n_furnaces && session->furnace_names; f++)
        session->furnace_names[f] = g_strdup(floor->furnaces[f].name);
    session->jobs = g_new0(char *, day->n_jobs + 1);
    for (guint j = 0; j < day->n_jobs; j++)
        session->jobs[j] = g_strdup(day->jobs[j].job);
}

// As the stage "melt" charges, for the moulds the load has.
static double
find_charge(const Day *day, const SessionPlan *plan, int load, guint furnace)
{
    double poured = 0.0, most = 0.0;
    for (guint i = 0; i < plan->tasks->len; i++) {
        const SessionTask *task = &g_array_index(plan->tasks, SessionTask, i);
        if (task->kind == TASK_POUR && task->load == load)
            poured += plan_figure(day->jobs[task->job].plan, "mould.metal_mass")->value;
    }
    for (guint i = 0; i < plan->tasks->len; i++) {
        const SessionTask *task = &g_array_index(plan->tasks, SessionTask, i);
        if (task->kind != TASK_POUR || task->load != load)
            continue;
        const FigureList *figures = plan_figures(day->jobs[task->job].plan);
        double reserve = melt_reserve(poured, figure_list_value(figures, "job.reserve"),
                                      figure_list_value(figures, "job.reserve_least"));
        double loss = day_melt(day, furnace, (guint)day->pair[furnace], (guint)task->job)->loss;
        double charge = melt_charge(poured, reserve, figure_list_value(figures, "job.heel"), loss);
        if (isnan(charge))
            return NAN;
        most = MAX(most, charge);
    }
    return most;
}

// Metal, furnace, crucible and charge of each load, from the pours.
static void
describe_loads(const Day *day, const SessionPlan *plan, PlanDay *made)
{
    for (int load = 0; load < plan->loads; load++) {
        const SessionTask *pour = NULL;
        for (guint i = 0; i < plan->tasks->len && !pour; i++) {
            const SessionTask *task = &g_array_index(plan->tasks, SessionTask, i);
            if (task->kind == TASK_POUR && task->load == load)
                pour = task;
        }
        if (!pour)
            continue;
        int furnace = day->furnace_of[pour->furnace];
        const TableRow *metal = plan_metal(day->jobs[pour->job].plan);
        g_ptr_array_add(made->metals, g_strdup(table_row_id(metal)));
        g_ptr_array_add(made->load_furnaces, g_strdup(g_ptr_array_index(day->furnaces, furnace)));
        g_ptr_array_add(made->load_crucibles,
                        g_strdup(g_ptr_array_index(day->crucibles, day->pair[furnace])));
        double charge = find_charge(day, plan, load, (guint)furnace);
        g_array_append_val(made->charges, charge);
    }
}

// The job of the first mould poured from a furnace of the floor, or -1.
static int
find_first_job(const SessionPlan *plan, int furnace)
{
    for (guint i = 0; i < plan->tasks->len; i++) {
        const SessionTask *task = &g_array_index(plan->tasks, SessionTask, i);
        if (task->kind == TASK_POUR && task->furnace == furnace)
            return task->job;
    }
    return -1;
}

// The temperature of each furnace, warmed up as for the first job it pours.
static void
add_curves(const Day *day, const SessionPlan *plan, SessionResult *session)
{
    const Figure *ambient = plan_figure(day->jobs[0].plan, "shop.ambient");
    SessionHeat heats[SESSION_MOST_FURNACES] = {{0}};
    for (int f = 0; f < day->floor.n_furnaces; f++) {
        int job = find_first_job(plan, f), furnace = day->furnace_of[f];
        if (job < 0)
            continue;
        const MeltResult
            *melt = day_melt(day, (guint)furnace, (guint)day->pair[furnace], (guint)job)->result;
        heats[f] = (SessionHeat){session_furnace_name(session, f), melt->warmup, melt->n_warmup,
                                 melt->pouring_temperature};
    }
    gsize n = 0;
    g_autoptr(GArray) curve = session_curve_make(plan, heats, (guint)day->floor.n_furnaces,
                                                 ambient ? ambient->value : 20.0);
    session->curve = g_array_steal(curve, &n);
    session->n_curve = (guint)n;
}

// Why the jobs that got no mould did not.
static void
describe_jobs(Day *day, const SessionMost *most, PlanDay *made)
{
    for (guint j = 0; j < day->n_jobs; j++) {
        DayJob *job = &day->jobs[j];
        int moulds = most && job->kind >= 0 ? most->counts[job->kind] : 0;
        made->moulds[j] = moulds;
        made->castings[j] = moulds * job->cavities;
        if (moulds > 0)
            continue;
        made->why[j] = job->why ? g_steal_pointer(&job->why)
                                : g_strdup(most && most->moulds > 0
                                               ? _("no room beside the other jobs; give it more "
                                                   "hours or another day")
                                               : _("not even one flask can be poured in the "
                                                   "hours; give more"));
    }
}

// Plans what there is to pour. *plan stays NULL when nothing can be.
static gboolean
plan_moulds(const Day *day, SessionMost *most, SessionPlan **plan, Progress *progress,
            GError **error)
{
    SessionFloor free_floor = day->floor;
    free_floor.n_pins = 0; // pins move work; they do not drop moulds
    if (day->floor.n_kinds == 0 || !session_floor_most(&free_floor, most, progress, error))
        return day->floor.n_kinds == 0;
    if (most->moulds == 0)
        return TRUE;
    *plan = session_floor_plan(&day->floor, most->counts, SESSION_CALM, TRUE, progress, error);
    return *plan != NULL;
}

static PlanDay *
make_day(Day *day, Progress *progress, GError **error)
{
    SessionMost most = {0};
    g_autoptr(SessionPlan) plan = NULL;
    if (!session_floor_check_shop(&day->floor, error) ||
        !plan_moulds(day, &most, &plan, progress, error))
        return NULL;
    g_autoptr(PlanDay) made = new_day(day);
    gboolean some = day->floor.n_kinds > 0;
    if (!day_add_figures(day, some ? &most : NULL, plan, made->figures, progress, error))
        return NULL;
    describe_shop(day, made->session);
    if (plan) {
        const Figure *held_back = figure_list_find(made->figures, "day.bottleneck");
        made->session->bottleneck = held_back ? g_strdup(held_back->text) : NULL;
        made->session->loads = plan->loads;
        made->session->flasks = plan->flasks;
        describe_loads(day, plan, made);
        add_curves(day, plan, made->session);
        session_result_take(made->session, plan);
    }
    describe_jobs(day, some ? &most : NULL, made);
    for (guint j = 0; j < made->n; j++)
        made->session->castings += made->castings[j];
    return g_steal_pointer(&made);
}

PlanDay *
plan_day_make(const Plan *const *plans, guint n, const PlanDayWish *wish, const Tables *tables,
              Progress *progress, GError **error)
{
    g_return_val_if_fail((plans || n == 0) && tables, NULL);
    Day day = {.tables = tables,
               .wish = wish ? *wish
                            : (PlanDayWish){.hours = NAN, .light_from = NAN, .light_to = NAN},
               .n_jobs = n};
    PlanDay *made = NULL;
    if (day_gather(&day, plans, progress, error) && day_pair(&day, progress, error))
        made = make_day(&day, progress, error);
    day_clear(&day);
    return made;
}

PlanDay *
plan_day_of_book(const Book *book, const char *const *jobs, const PlanDayWish *wish,
                 const Tables *tables, Cache *cache, Progress *progress, GError **error)
{
    g_return_val_if_fail(book && tables, NULL);
    g_autoptr(GPtrArray) plans = g_ptr_array_new_with_free_func((GDestroyNotify)plan_unref);
    guint n = jobs ? g_strv_length((char **)jobs) : book_job_count(book);
    for (guint i = 0; i < n; i++) {
        const char *job = jobs ? jobs[i] : book_job_id(book, i);
        Plan *plan = plan_make(book, job, tables, cache, progress, error);
        if (!plan)
            return NULL;
        g_ptr_array_add(plans, plan);
    }
    return plan_day_make((const Plan *const *)plans->pdata, n, wish, tables, progress, error);
}

const SessionResult *
plan_day_session(const PlanDay *day)
{
    g_return_val_if_fail(day, NULL);
    return day->session;
}

const FigureList *
plan_day_figures(const PlanDay *day)
{
    g_return_val_if_fail(day, NULL);
    return day->figures;
}

int
plan_day_moulds(const PlanDay *day, guint job)
{
    g_return_val_if_fail(day && job < day->n, 0);
    return day->moulds[job];
}

int
plan_day_castings(const PlanDay *day, guint job)
{
    g_return_val_if_fail(day && job < day->n, 0);
    return day->castings[job];
}

const char *
plan_day_why_not(const PlanDay *day, guint job)
{
    g_return_val_if_fail(day && job < day->n, NULL);
    return day->why[job];
}

static const char *
get_of_load(const GPtrArray *array, int load)
{
    return load >= 0 && load < (int)array->len ? g_ptr_array_index(array, load) : NULL;
}

const char *
plan_day_load_metal(const PlanDay *day, int load)
{
    g_return_val_if_fail(day, NULL);
    return get_of_load(day->metals, load);
}

const char *
plan_day_load_furnace(const PlanDay *day, int load)
{
    g_return_val_if_fail(day, NULL);
    return get_of_load(day->load_furnaces, load);
}

const char *
plan_day_load_crucible(const PlanDay *day, int load)
{
    g_return_val_if_fail(day, NULL);
    return get_of_load(day->load_crucibles, load);
}

double
plan_day_load_charge(const PlanDay *day, int load)
{
    g_return_val_if_fail(day, NAN);
    return load >= 0 && load < (int)day->charges->len ? g_array_index(day->charges, double, load)
                                                      : NAN;
}

const Plan *
plan_day_plan(const PlanDay *day, guint job)
{
    g_return_val_if_fail(day && job < day->n, NULL);
    return g_ptr_array_index(day->plans, job);
}
