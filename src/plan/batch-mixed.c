// SPDX-License-Identifier: GPL-3.0-or-later
// Sessions that pour several jobs, as the shop-wide day plans them: the day is asked for the moulds
// a session has already and for all that is left of one more job, and says how many of those it
// pours. Days are planned over and over with the same question, so answers are kept. A new crucible
// is tempered on the first day it is heated and on no other; days are asked in order, so the engine
// keeps in mind what the days before have heated.
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "plan/batch-private.h"
#include "plan/day.h"

// No little more of one thing brings a session more flasks than it pours already and this.
#define MORE_AT_MOST 8
#define HELD_AT_MOST 60 // flasks of a day; with more the seven searches take too long

typedef struct {
    int most;
    gboolean bound; // the day holds no more, however many are left
} Answer;

typedef struct {
    BatchEngine engine;
    const BatchDraft *draft;
    GPtrArray *plans;    // of the book itself, one a job that has something to pour
    int *place;          // of each job among them, or -1
    GHashTable *answers; // "hours job heated beside..." to Answer
    GHashTable *days;    // the same with moulds, to PlanDay
    GHashTable *helds;   // the same with flasks more of the job, to PlanDayHeld
    guint day;           // asked last
    int *flasks;         // it pours, as far as is known
    char **heated;       // crucibles, before it
} Mixed;

static BatchHours
find_hours(const Mixed *mixed, guint day)
{
    return batch_hours_of(mixed->draft, &g_array_index(mixed->draft->days, CalendarDay, day));
}

// A text for a question. Free.
static char *
make_key(const Mixed *mixed, int job, const int *flasks)
{
    BatchHours hours = find_hours(mixed, mixed->day);
    g_autofree char *heated = g_strjoinv(" ", mixed->heated);
    g_autoptr(GString) key = g_string_new(NULL);
    g_string_append_printf(key, "%d %d %d [%s]", hours.from, hours.length, job, heated);
    for (guint j = 0; j < mixed->draft->plan->n_jobs; j++)
        g_string_append_printf(key, " %d", flasks[j]);
    return g_string_free(g_steal_pointer(&key), FALSE);
}

// The flasks (one a job) as a day counts them, by plan. Free.
static int *
list_moulds(const Mixed *mixed, const int *flasks)
{
    int *moulds = g_new0(int, mixed->plans->len + 1);
    for (guint j = 0; j < mixed->draft->plan->n_jobs; j++)
        if (mixed->place[j] >= 0)
            moulds[mixed->place[j]] = flasks[j];
    return moulds;
}

// What is asked of the day in hand; `moulds` is borrowed.
static gboolean
make_wish(const Mixed *mixed, const int *moulds, PlanDayWish *wish, GError **error)
{
    BatchHours hours = find_hours(mixed, mixed->day);
    SessionLight light;
    if (!batch_light_of(mixed->draft, hours, &light, error))
        return FALSE;
    *wish = (PlanDayWish){.hours = hours.length * 60.0,
                          .light_from = light.from,
                          .light_to = light.to,
                          .heated = (const char *const *)mixed->heated,
                          .moulds = moulds};
    return TRUE;
}

// The day that pours what it can of `flasks` (one a job). Borrowed.
static const PlanDay *
plan_day(Mixed *mixed, const int *flasks, Progress *progress, GError **error)
{
    g_autofree char *key = make_key(mixed, -1, flasks);
    const PlanDay *known = g_hash_table_lookup(mixed->days, key);
    if (known)
        return known;
    g_autofree int *moulds = list_moulds(mixed, flasks);
    PlanDayWish wish;
    if (!make_wish(mixed, moulds, &wish, error))
        return NULL;
    PlanDay *day = plan_day_make((const Plan *const *)mixed->plans->pdata, mixed->plans->len, &wish,
                                 mixed->draft->tables, progress, error);
    if (day)
        g_hash_table_insert(mixed->days, g_steal_pointer(&key), day);
    return day;
}

// How many flasks of `job` the day pours of `flasks`; -1 when it leaves some of the others out.
static int
count_poured(const Mixed *mixed, const PlanDay *day, const int *flasks, guint n, guint job)
{
    for (guint j = 0; j < n; j++)
        if (j != job && mixed->place[j] >= 0 &&
            plan_day_moulds(day, (guint)mixed->place[j]) < flasks[j])
            return -1;
    return mixed->place[job] >= 0 ? plan_day_moulds(day, (guint)mixed->place[job]) : 0;
}

static void
keep_day(Mixed *mixed, const int *flasks, const PlanDay *day)
{
    char *key = make_key(mixed, -1, flasks);
    if (g_hash_table_contains(mixed->days, key))
        g_free(key);
    else
        g_hash_table_insert(mixed->days, key, plan_day_ref(day));
}

// Asks for `left` at once. A day that would rather pour those than what the session has is asked
// for fewer, by halves.
static gboolean
find_most(Mixed *mixed, int *flasks, guint n, guint job, int left, int *most, Progress *progress,
          GError **error)
{
    int low = 0, high = left, asked = left;
    while (low < high) {
        flasks[job] = asked;
        const PlanDay *day = plan_day(mixed, flasks, progress, error);
        if (!day)
            return FALSE;
        int poured = count_poured(mixed, day, flasks, n, job);
        if (poured >= 0) {
            // It pours all it can, so more would not have been poured either. Whoever asks for
            // just these gets this same day.
            low = flasks[job] = poured;
            keep_day(mixed, flasks, day);
            break;
        }
        high = asked - 1;
        asked = low + (high - low + 1) / 2;
    }
    *most = low;
    return TRUE;
}

static gboolean
has_part(const SessionResult *result, int load, int place)
{
    for (guint i = 0; i < result->n_tasks; i++) {
        const SessionTask *task = &result->tasks[i];
        if (task->kind == TASK_POUR && task->load == load && task->job == place)
            return TRUE;
    }
    return FALSE;
}

// Each load once for the session, and once for every job that has a part in it.
static void
count_loads(const Mixed *mixed, const SessionResult *result, BatchSession *session)
{
    g_autofree gboolean *part = g_new0(gboolean, session->n_pours + 1);
    for (int load = 0; load < result->loads; load++) {
        int jobs = 0;
        for (guint i = 0; i < session->n_pours; i++)
            jobs += part[i] = has_part(result, load, mixed->place[session->pours[i].job]);
        for (guint i = 0; i < session->n_pours; i++) {
            session->pours[i].loads += part[i];
            session->pours[i].shared += part[i] && jobs > 1;
        }
        session->loads++;
        session->shared += jobs > 1;
    }
}

// The crucibles heated, each once, in the order of the book, and how many loads each melts.
static void
list_crucibles(const Mixed *mixed, const PlanDay *day, BatchSession *session)
{
    g_autoptr(GStrvBuilder) all = g_strv_builder_new();
    g_autoptr(GArray) melts = g_array_new(FALSE, TRUE, sizeof(int));
    const Node *list = node_get(book_root(mixed->draft->book), "/shop/crucibles");
    for (guint i = 0; i < node_size(list); i++) {
        const char *id = node_text(node_member(node_at(list, i), "id"));
        int loads = 0;
        for (int load = 0; load < plan_day_session(day)->loads; load++)
            loads += g_strcmp0(plan_day_load_crucible(day, load), id) == 0;
        if (!id || loads == 0)
            continue;
        g_strv_builder_add(all, id);
        g_array_append_val(melts, loads);
    }
    session->crucibles = g_strv_builder_end(all);
    session->melts = (int *)(gpointer)g_array_free(g_steal_pointer(&melts), FALSE);
}

// Those of the day and of the days before it, each once. Free.
static char **
list_heated(const Mixed *mixed, const PlanDay *day)
{
    g_autoptr(GStrvBuilder) all = g_strv_builder_new();
    g_strv_builder_addv(all, (const char **)mixed->heated);
    for (int load = 0; load < plan_day_session(day)->loads; load++) {
        const char *id = plan_day_load_crucible(day, load);
        gboolean first = id && !g_strv_contains((const char *const *)mixed->heated, id);
        for (int i = 0; first && i < load; i++)
            first = g_strcmp0(plan_day_load_crucible(day, i), id) != 0;
        if (first)
            g_strv_builder_add(all, id);
    }
    return g_strv_builder_end(all);
}

static void
begin_anew(Mixed *mixed)
{
    g_strfreev(mixed->heated);
    mixed->heated = g_new0(char *, 1);
    mixed->day = 0;
    memset(mixed->flasks, 0, sizeof(int) * mixed->draft->plan->n_jobs);
}

// Turns to a day: what the one before it heats is not new after it. An earlier day begins anew.
static gboolean
go_to_day(Mixed *mixed, guint day, Progress *progress, GError **error)
{
    if (day < mixed->day)
        begin_anew(mixed);
    if (day == mixed->day)
        return TRUE;
    const PlanDay *before = plan_day(mixed, mixed->flasks, progress, error);
    if (!before)
        return FALSE;
    char **heated = list_heated(mixed, before);
    begin_anew(mixed);
    g_strfreev(mixed->heated);
    mixed->heated = heated;
    mixed->day = day;
    return TRUE;
}

static gboolean
ask_most(gpointer data, guint day, const int *beside, guint n, guint job, int left, int *most,
         Progress *progress, GError **error)
{
    Mixed *mixed = data;
    if (!go_to_day(mixed, day, progress, error))
        return FALSE;
    g_autofree char *key = make_key(mixed, (int)job, beside);
    Answer *answer = g_hash_table_lookup(mixed->answers, key);
    g_autofree int *flasks = g_memdup2(beside, sizeof(int) * n);
    if (answer && left >= answer->most && (answer->bound || left == answer->most)) {
        *most = answer->most;
    } else {
        if (!find_most(mixed, flasks, n, job, left, most, progress, error))
            return FALSE;
        answer = g_new0(Answer, 1);
        *answer = (Answer){*most, *most < left};
        g_hash_table_replace(mixed->answers, g_steal_pointer(&key), answer);
    }
    flasks[job] = *most;
    memcpy(mixed->flasks, flasks, sizeof(int) * n);
    return TRUE;
}

static gboolean
finish_session(BatchEngine *engine, guint day, BatchSession *session, Progress *progress,
               GError **error)
{
    Mixed *mixed = (Mixed *)engine;
    g_autofree int *flasks = g_new0(int, mixed->draft->plan->n_jobs + 1);
    for (guint i = 0; i < session->n_pours; i++)
        flasks[session->pours[i].job] = session->pours[i].flasks;
    if (mixed->draft->plan->n_sessions == 1)
        begin_anew(mixed);
    if (!go_to_day(mixed, day, progress, error))
        return FALSE;
    const PlanDay *planned = plan_day(mixed, flasks, progress, error);
    if (!planned)
        return FALSE;
    memcpy(mixed->flasks, flasks, sizeof(int) * mixed->draft->plan->n_jobs);
    const SessionResult *result = plan_day_session(planned);
    count_loads(mixed, result, session);
    list_crucibles(mixed, planned, session);
    session->planned = plan_day_ref(planned);
    if (isfinite(result->length))
        session->to = MIN(session->hours_end, session->from + (int)ceil(result->length / 60.0));
    return TRUE;
}

// Of the jobs that have flasks left beside `flasks` and are not `done` with, the one due first; -1
// when there is none.
static int
find_waiting(const Mixed *mixed, const int *flasks, const int *left, const gboolean *done)
{
    const BatchPlan *plan = mixed->draft->plan;
    int best = -1;
    for (guint j = 0; j < plan->n_jobs; j++) {
        // Jobs without a due day come last: their day wraps to the greatest there is.
        gboolean sooner = best < 0 || plan->jobs[j].due - 1 < plan->jobs[best].due - 1;
        if (left[j] > flasks[j] && !done[j] && sooner)
            best = (int)j;
    }
    return best;
}

// What keeps the day in hand, which pours `flasks`, from pouring `more` of `job`. Borrowed.
static const PlanDayHeld *
find_held(Mixed *mixed, const int *flasks, guint job, int more, Progress *progress, GError **error)
{
    g_autofree char *question = make_key(mixed, (int)job, flasks);
    g_autofree char *key = g_strdup_printf("%s +%d", question, more);
    const PlanDayHeld *known = g_hash_table_lookup(mixed->helds, key);
    if (known)
        return known;
    g_autofree int *moulds = list_moulds(mixed, flasks);
    PlanDayWish wish;
    PlanDayHeld held;
    if (!make_wish(mixed, moulds, &wish, error) ||
        !plan_day_find_held((const Plan *const *)mixed->plans->pdata, mixed->plans->len, &wish,
                            (guint)mixed->place[job], more, mixed->draft->tables, &held, progress,
                            error))
        return NULL;
    PlanDayHeld *kept = g_memdup2(&held, sizeof held);
    g_hash_table_insert(mixed->helds, g_steal_pointer(&key), kept);
    return kept;
}

static void
take_held(const Mixed *mixed, const PlanDayHeld *held, int job, BatchSession *session)
{
    const char *name = mixed->draft->plan->jobs[job].name;
    session->held = session_bottleneck_word(held->which);
    session->held_why = held->gain > 0
                            ? g_strdup_printf(
                                  ngettext("%s would bring %d more flask of %s.",
                                           "%s would bring %d more flasks of %s.", held->gain),
                                  session_bottleneck_more(held->which), held->gain, name)
                            : g_strdup_printf(_("No single change brings another flask of %s."),
                                              name);
}

// The job due first that could be poured on that day too and is not, or not all of it.
static gboolean
hold_session(BatchEngine *engine, guint day, BatchSession *session, const int *left,
             Progress *progress, GError **error)
{
    Mixed *mixed = (Mixed *)engine;
    g_autofree gboolean *done = g_new0(gboolean, mixed->draft->plan->n_jobs + 1);
    int poured = 0, job;
    for (guint i = 0; i < session->n_pours; i++)
        poured += session->pours[i].flasks;
    if (poured > HELD_AT_MOST) {
        session->held_why = g_strdup_printf(_("What holds back a day of more than %d flasks is "
                                              "not looked for."),
                                            HELD_AT_MOST);
        return TRUE;
    }
    while ((job = find_waiting(mixed, mixed->flasks, left, done)) >= 0) {
        // A little more of one thing brings no more; so days alike mostly are one question.
        int more = MIN(left[job] - mixed->flasks[job], poured + MORE_AT_MOST);
        const PlanDayHeld *held = find_held(mixed, mixed->flasks, (guint)job, more, progress,
                                            error);
        if (!held)
            return FALSE;
        if (held->poured) {
            take_held(mixed, held, job, session);
            return TRUE;
        }
        done[job] = TRUE;
    }
    batch_take_alone(session);
    return TRUE;
}

static char *
find_why_none(BatchEngine *engine, guint day, guint job)
{
    Mixed *mixed = (Mixed *)engine;
    g_autofree int *flasks = g_new0(int, mixed->draft->plan->n_jobs + 1);
    flasks[job] = 1;
    const PlanDay *planned = go_to_day(mixed, day, NULL, NULL) ? plan_day(mixed, flasks, NULL, NULL)
                                                               : NULL;
    const char *why = planned ? plan_day_why_not(planned, (guint)mixed->place[job]) : NULL;
    g_autofree char *name = g_strdup_printf("%s: ", mixed->draft->plan->jobs[job].name);
    // Whoever tells it names the job.
    return g_strdup(why && g_str_has_prefix(why, name) ? why + strlen(name) : why);
}

static void
free_mixed(BatchEngine *engine)
{
    Mixed *mixed = (Mixed *)engine;
    g_ptr_array_unref(mixed->plans);
    g_hash_table_unref(mixed->answers);
    g_hash_table_unref(mixed->days);
    g_hash_table_unref(mixed->helds);
    g_free(mixed->place);
    g_free(mixed->flasks);
    g_strfreev(mixed->heated);
    g_free(mixed);
}

// A day wants plans of one book; those of the jobs may be of books with fewer parts.
static gboolean
add_plans(Mixed *mixed, GError **error)
{
    const BatchDraft *draft = mixed->draft;
    for (guint j = 0; j < draft->plan->n_jobs; j++) {
        const BatchJob *job = &draft->plan->jobs[j];
        mixed->place[j] = -1;
        if (job->flasks == 0)
            continue;
        Plan *plan = batch_plan_job(draft, draft->book, job, error);
        if (!plan)
            return FALSE;
        mixed->place[j] = (int)mixed->plans->len;
        g_ptr_array_add(mixed->plans, plan);
    }
    return TRUE;
}

BatchEngine *
batch_engine_mixed(const BatchDraft *draft, GError **error)
{
    Mixed *mixed = g_new0(Mixed, 1);
    mixed->engine = (BatchEngine){CALENDAR_MIXED, ask_most,      finish_session,
                                  hold_session,   find_why_none, free_mixed};
    mixed->draft = draft;
    mixed->plans = g_ptr_array_new_with_free_func((GDestroyNotify)plan_unref);
    mixed->place = g_new0(int, draft->plan->n_jobs + 1);
    mixed->flasks = g_new0(int, draft->plan->n_jobs + 1);
    mixed->heated = g_new0(char *, 1);
    mixed->answers = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, g_free);
    mixed->days = g_hash_table_new_full(g_str_hash, g_str_equal, g_free,
                                        (GDestroyNotify)plan_day_unref);
    mixed->helds = g_hash_table_new_full(g_str_hash, g_str_equal, g_free, g_free);
    if (add_plans(mixed, error))
        return &mixed->engine;
    free_mixed(&mixed->engine);
    return NULL;
}
