// SPDX-License-Identifier: GPL-3.0-or-later
// Sessions that pour one job each, as the stage "session" plans them: what a day holds is read off
// the job's plan for hours as long as that day's. A new crucible is tempered once: where all jobs
// are melted in the same one, the first day tempers it and the days after it hold more. Where there
// are several, it is not known beforehand which day that is, and every day is taken to hold what it
// holds with the longer warm-up.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "plan/batch-private.h"

typedef struct {
    int flasks, loads; // most in a session of these hours
    int per_load;
    double length, last_length;    // s: of a full session; of the job's last
    int last_flasks;               // that one pours
    int later_flasks, later_loads; // the same of a session that tempers no crucible; 0: alike
    double later_length;
    Plan *plan, *later_plan; // the latter is made when it is asked for
} Capacity;

typedef struct {
    BatchEngine engine;
    guint n_jobs, n_lengths;
    Capacity *capacities; // [length * n_jobs + job]
    gboolean tempers;     // the first day, and no other
    const BatchDraft *draft;
} Single;

static guint
find_length(const Single *single, guint day)
{
    const CalendarDay *d = &g_array_index(single->draft->days, CalendarDay, day);
    BatchHours hours = batch_hours_of(single->draft, d);
    guint i = 0;
    while (i + 1 < single->n_lengths &&
           memcmp(&g_array_index(single->draft->lengths, BatchHours, i), &hours, sizeof hours) != 0)
        i++;
    return i;
}

static Capacity *
find_capacity(const Single *single, guint day, guint job)
{
    return &single->capacities[find_length(single, day) * single->n_jobs + job];
}

static gboolean
is_later(const Single *single, guint day, const Capacity *capacity)
{
    return single->tempers && day > 0 && capacity->later_flasks > 0;
}

static int
find_flasks(const Single *single, guint day, guint job)
{
    const Capacity *capacity = find_capacity(single, day, job);
    return is_later(single, day, capacity) ? capacity->later_flasks : capacity->flasks;
}

static gboolean
ask_most(gpointer data, guint day, const int *beside, guint n, guint job, int left, int *most,
         Progress *progress, GError **error)
{
    const Single *single = data;
    *most = MIN(left, find_flasks(single, day, job));
    for (guint j = 0; j < n; j++)
        if (beside[j] > 0)
            *most = 0;
    return TRUE;
}

// A session that is not full and not the last one planned is taken to last as long as a full one.
static gboolean
finish_session(BatchEngine *engine, guint day, BatchSession *session, Progress *progress,
               GError **error)
{
    const Single *single = (const Single *)engine;
    BatchPour *pour = &session->pours[0];
    const Capacity *capacity = find_capacity(single, day, (guint)pour->job);
    gboolean later = is_later(single, day, capacity);
    gboolean full = pour->flasks >= find_flasks(single, day, (guint)pour->job);
    gboolean last = !full && pour->flasks == capacity->last_flasks;
    double length = last && isfinite(capacity->last_length) ? capacity->last_length
                    : later                                 ? capacity->later_length
                                                            : capacity->length;
    pour->loads = full ? (later ? capacity->later_loads : capacity->loads)
                       : (pour->flasks + capacity->per_load - 1) / MAX(1, capacity->per_load);
    session->to = MIN(session->hours_end, session->from + (int)ceil(length / 60.0));
    const char *const crucibles[] = {single->draft->plan->jobs[pour->job].crucible, NULL};
    session->crucibles = g_strdupv((char **)crucibles);
    session->melts = g_memdup2(&pour->loads, sizeof(int));
    session->loads = pour->loads;
    return TRUE;
}

// The job's plan as it is once the crucible has been fired. NULL when it cannot be made.
static const Plan *
find_later_plan(const Single *single, guint day, guint job, GError **error)
{
    Capacity *capacity = find_capacity(single, day, job);
    BatchDraft used = *single->draft;
    if (capacity->later_plan)
        return capacity->later_plan;
    g_autoptr(Book) fired = batch_set_text(used.book, used.plan->jobs[job].id, "crucible.firings",
                                           "1", used.tables, error);
    used.book = fired;
    if (fired)
        capacity->later_plan = batch_plan_of_hours(
            &used, job, g_array_index(used.lengths, BatchHours, find_length(single, day)), error);
    return capacity->later_plan;
}

// What a figure "Held back by" says.
static void
take_held(BatchSession *session, const Figure *figure)
{
    for (SessionMore i = 0; figure && i < SESSION_MORE_COUNT; i++)
        if (g_strcmp0(figure->text, session_bottleneck_word(i)) == 0) {
            session->held = session_bottleneck_word(i);
            session->held_why = g_strdup(figure->note);
        }
}

static gboolean
hold_session(BatchEngine *engine, guint day, BatchSession *session, const int *left,
             Progress *progress, GError **error)
{
    const Single *single = (const Single *)engine;
    const BatchPour *pour = &session->pours[0];
    if (pour->flasks == left[pour->job]) {
        batch_take_alone(session);
        return TRUE;
    }
    const Capacity *capacity = find_capacity(single, day, (guint)pour->job);
    const Plan *plan = is_later(single, day, capacity)
                           ? find_later_plan(single, day, (guint)pour->job, error)
                           : capacity->plan;
    if (plan)
        take_held(session, plan_figure(plan, "run.bottleneck"));
    return plan != NULL;
}

static char *
find_why_none(BatchEngine *engine, guint day, guint job)
{
    const Single *single = (const Single *)engine;
    const Figure *flasks = plan_figure(single->draft->plan->jobs[job].plan, "melt.flasks_per_load");
    return flasks && flasks->state == FIGURE_FAILS ? g_strdup(flasks->note) : NULL;
}

static void
free_single(BatchEngine *engine)
{
    Single *single = (Single *)engine;
    for (guint i = 0; i < single->n_lengths * single->n_jobs; i++) {
        plan_unref(single->capacities[i].plan);
        plan_unref(single->capacities[i].later_plan);
    }
    g_free(single->capacities);
    g_free(single);
}

static int
read_count(const Plan *plan, const char *id)
{
    double value = figure_list_value(plan_figures(plan), id);
    return value >= 1 && value < 1e6 ? (int)value : 0;
}

static gboolean
measure(const BatchDraft *draft, guint job, BatchHours hours, Capacity *capacity, GError **error)
{
    if (draft->plan->jobs[job].flasks == 0) // all cast
        return TRUE;
    g_autoptr(Plan) plan = batch_plan_of_hours(draft, job, hours, error);
    if (!plan)
        return FALSE;
    const FigureList *figures = plan_figures(plan);
    int sessions = read_count(plan, "run.sessions");
    capacity->flasks = read_count(plan, "run.flasks_per_session");
    capacity->loads = read_count(plan, "run.loads_per_session");
    capacity->per_load = read_count(plan, "melt.flasks_per_load");
    capacity->length = figure_list_value(figures, "run.session_length");
    capacity->last_length = figure_list_value(figures, "run.last_session_length");
    capacity->last_flasks = draft->plan->jobs[job].flasks - (sessions - 1) * capacity->flasks;
    capacity->later_flasks = read_count(plan, "run.later_flasks");
    capacity->later_loads = read_count(plan, "run.later_loads");
    capacity->later_length = figure_list_value(figures, "run.later_length");
    if (capacity->later_flasks > 0 && sessions > 1)
        capacity->last_flasks = draft->plan->jobs[job].flasks - capacity->flasks -
                                (sessions - 2) * capacity->later_flasks;
    capacity->plan = g_steal_pointer(&plan);
    return TRUE;
}

// Does the first day temper the one crucible there is, whichever job it pours?
static gboolean
find_tempers(const Single *single)
{
    const BatchPlan *plan = single->draft->plan;
    const char *crucible = NULL;
    gboolean found = FALSE;
    for (guint j = 0; j < plan->n_jobs && single->draft->days->len > 0; j++) {
        const Capacity *first = find_capacity(single, 0, j);
        if (plan->jobs[j].flasks == 0)
            continue;
        if (first->flasks == 0 || first->later_flasks == 0 ||
            (found && g_strcmp0(crucible, plan->jobs[j].crucible) != 0))
            return FALSE;
        crucible = plan->jobs[j].crucible;
        found = TRUE;
    }
    return found;
}

BatchEngine *
batch_engine_single(const BatchDraft *draft, GError **error)
{
    guint n = draft->plan->n_jobs, lengths = draft->lengths->len;
    Single *single = g_new0(Single, 1);
    *single = (Single){.engine = {lengths > 1 ? CALENDAR_SINGLE : CALENDAR_ALIKE, ask_most,
                                  finish_session, hold_session, find_why_none, free_single},
                       .n_jobs = n,
                       .n_lengths = lengths,
                       .capacities = g_new0(Capacity, lengths * n + 1),
                       .draft = draft};
    for (guint i = 0; i < lengths; i++)
        for (guint j = 0; j < n; j++)
            if (!measure(draft, j, g_array_index(draft->lengths, BatchHours, i),
                         &single->capacities[i * n + j], error)) {
                free_single(&single->engine);
                return NULL;
            }
    single->tempers = find_tempers(single);
    if (single->tempers)
        single->engine.kind = CALENDAR_SINGLE;
    return &single->engine;
}
