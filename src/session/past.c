// SPDX-License-Identifier: GPL-3.0-or-later
// Facts of a day: what was told, what must have happened before it, and in which order.
#include "session/past.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"

void
session_facts_free(SessionFacts *facts)
{
    if (!facts)
        return;
    g_free(facts->has);
    g_free(facts->start);
    g_free(facts->end);
    g_free(facts->who);
    g_free(facts->told);
    g_free(facts);
}

static gboolean
refuse(GError **error, const char *key, const char *what, const char *remedy)
{
    return base_error_set(error, BASE_ERROR_VALUE, NULL, key, what, remedy);
}

static int
find_key(GHashTable *places, const char *key)
{
    return key ? (int)GPOINTER_TO_UINT(g_hash_table_lookup(places, key)) - 1 : -1;
}

static gboolean
read_one(SessionFacts *facts, const SessionResult *plan, GHashTable *places,
         const SessionDone *done, double now, GError **error)
{
    int i = find_key(places, done->key);
    const char *key = done->key ? done->key : "";
    if (i < 0)
        return refuse(error, key, _("is no piece of work of this session"),
                      _("take the session the day was begun with"));
    if (facts->has[i])
        return refuse(error, key, _("is told twice"), _("leave one out"));
    if (!isfinite(done->start) || (!isnan(done->end) && !(done->end >= done->start)))
        return refuse(error, key, _("ends before it starts, or its start is not known"),
                      _("correct its times"));
    if (done->who < -1 || done->who >= SESSION_MOST_PEOPLE)
        return refuse(error, key, _("was done by hands that are not there"),
                      _("correct who did it"));
    const SessionTask *task = &plan->tasks[i];
    facts->has[i] = facts->told[i] = TRUE;
    facts->start[i] = done->start;
    facts->end[i] = isnan(done->end) ? MAX(done->start + task->end - task->start, now) : done->end;
    facts->who[i] = done->who >= 0 && task->person ? done->who : task->who;
    return TRUE;
}

// Where the tasks of each mould and load are, by place in the plan; -1 for none.
typedef struct {
    const SessionResult *plan;
    SessionFacts *facts;
} Filling;

// Counts a task as done at `at` unless it is known. TRUE if it was not.
static gboolean
fill(Filling *f, guint i, double at)
{
    if (f->facts->has[i])
        return FALSE;
    f->facts->has[i] = TRUE;
    f->facts->start[i] = f->facts->end[i] = at;
    f->facts->who[i] = f->plan->tasks[i].who;
    return TRUE;
}

// TRUE if `before` must have happened when `task` has.
static gboolean
comes_before(const SessionTask *before, const SessionTask *task)
{
    gboolean step = before->kind >= TASK_RAM_DRAG && before->kind <= TASK_SHUT;
    switch (task->kind) {
    case TASK_RAM_COPE:
    case TASK_DRAW:
    case TASK_SHUT:
        return step && before->flask == task->flask && before->kind < task->kind;
    case TASK_MELT:
    case TASK_SKIM:
        return before->kind == TASK_CHARGE && before->load == task->load;
    case TASK_CHARGE:
        return before->kind == TASK_WARM_UP && before->furnace == task->furnace;
    case TASK_POUR:
        return (step && before->flask == task->flask) ||
               ((before->kind == TASK_CHARGE || before->kind == TASK_SKIM) &&
                before->load == task->load);
    case TASK_COOL:
    case TASK_SHAKE_OUT:
        return before->kind == TASK_POUR && before->flask == task->flask;
    default:
        return FALSE;
    }
}

// A flask rammed again was emptied, a furnace charged again was poured from.
static gboolean
made_room(const SessionTask *before, const SessionTask *task)
{
    if (task->kind == TASK_RAM_DRAG)
        return before->kind == TASK_SHAKE_OUT && before->box == task->box &&
               before->flask != task->flask && before->end <= task->start + 1e-6;
    return task->kind == TASK_CHARGE && before->kind == TASK_POUR &&
           before->furnace == task->furnace && before->load != task->load &&
           before->end <= task->start + 1e-6;
}

// Moulds of a load that has been skimmed were shut.
static gboolean
was_shut(const Filling *f, const SessionTask *before, const SessionTask *task)
{
    if (task->kind != TASK_SKIM || before->kind < TASK_RAM_DRAG || before->kind > TASK_SHUT)
        return FALSE;
    return before->load == task->load;
}

static void
fill_gaps(Filling *f)
{
    gboolean again = TRUE;
    while (again) {
        again = FALSE;
        for (guint i = f->plan->n_tasks; i-- > 0;) {
            const SessionTask *task = &f->plan->tasks[i];
            if (!f->facts->has[i])
                continue;
            for (guint j = 0; j < f->plan->n_tasks; j++) {
                const SessionTask *before = &f->plan->tasks[j];
                if (j != i && !f->facts->has[j] &&
                    (comes_before(before, task) || made_room(before, task) ||
                     was_shut(f, before, task)))
                    again = fill(f, j, f->facts->start[i]) || again;
            }
        }
    }
}

SessionFacts *
session_facts_read(const SessionResult *plan, const SessionDone *done, guint n_done, double now,
                   GError **error)
{
    g_autoptr(SessionFacts) facts = g_new0(SessionFacts, 1);
    g_autoptr(GHashTable) places = g_hash_table_new(g_str_hash, g_str_equal);
    facts->n = plan->n_tasks;
    facts->has = g_new0(gboolean, MAX(facts->n, 1));
    facts->told = g_new0(gboolean, MAX(facts->n, 1));
    facts->start = g_new0(double, MAX(facts->n, 1));
    facts->end = g_new0(double, MAX(facts->n, 1));
    facts->who = g_new0(int, MAX(facts->n, 1));
    for (guint i = 0; i < plan->n_tasks; i++)
        if (plan->tasks[i].key)
            g_hash_table_insert(places, plan->tasks[i].key, GUINT_TO_POINTER(i + 1));
    for (guint i = 0; i < n_done; i++)
        if (!read_one(facts, plan, places, &done[i], now, error))
            return NULL;
    Filling filling = {plan, facts};
    fill_gaps(&filling);
    return g_steal_pointer(&facts);
}

// When the metal of a charge is molten: as told, else its planned time after the charge.
static double
find_molten(const SessionFacts *facts, const SessionResult *plan, int load, double charged,
            const SessionRebuilt *rebuilt)
{
    double molten = charged + g_array_index(rebuilt->loads, SessionLoad, load).melt;
    for (guint i = 0; i < plan->n_tasks; i++)
        if (plan->tasks[i].kind == TASK_MELT && plan->tasks[i].load == load && facts->told[i])
            molten = facts->end[i];
    return molten;
}

static void
add_past(const SessionFacts *facts, const SessionResult *plan, const SessionRebuilt *rebuilt,
         guint i, GArray *past)
{
    const SessionTask *task = &plan->tasks[i];
    int box = task->box >= 0 ? g_array_index(rebuilt->box_at, int, task->box) : -1;
    SessionPast one = {.kind = task->kind,
                       .number = task->flask >= 0 ? task->flask : task->load,
                       .furnace = task->furnace,
                       .box = box,
                       .who = facts->who[i],
                       .start = facts->start[i],
                       .end = facts->end[i]};
    if (task->kind == TASK_CHARGE)
        one.molten = find_molten(facts, plan, task->load, one.end, rebuilt);
    g_array_append_val(past, one);
}

// TRUE when all that must come before task `i` has been added.
static gboolean
is_ready(const SessionFacts *facts, const SessionResult *plan, const gboolean *added, guint i)
{
    for (guint j = 0; j < plan->n_tasks; j++)
        if (j != i && facts->has[j] && !added[j] && plan->tasks[j].kind != TASK_MELT &&
            plan->tasks[j].kind != TASK_COOL &&
            (comes_before(&plan->tasks[j], &plan->tasks[i]) ||
             made_room(&plan->tasks[j], &plan->tasks[i])))
            return FALSE;
    return TRUE;
}

GArray *
session_facts_past(const SessionFacts *facts, const SessionResult *plan,
                   const SessionRebuilt *rebuilt)
{
    GArray *past = g_array_new(FALSE, FALSE, sizeof(SessionPast));
    g_autofree gboolean *added = g_new0(gboolean, MAX(plan->n_tasks, 1));
    // True times need not be in order: what comes before another is added before it.
    gboolean again = TRUE;
    while (again) {
        again = FALSE;
        for (guint i = 0; i < plan->n_tasks; i++) {
            TaskKind kind = plan->tasks[i].kind;
            if (!facts->has[i] || added[i] || kind == TASK_MELT || kind == TASK_COOL ||
                !is_ready(facts, plan, added, i))
                continue;
            add_past(facts, plan, rebuilt, i, past);
            added[i] = again = TRUE;
        }
    }
    return past;
}
