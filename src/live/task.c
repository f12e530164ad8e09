// SPDX-License-Identifier: GPL-3.0-or-later
// Kinds of task, and copies of a session with something changed.
#include "live/task.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "session/limits.h"

// The cautions follow the safety pages of The Aluminum Association (moisture, preheated tools) and
// of the HSE (clothing, floors, lifting), in our own words; see plan/caution.c.
static const char of_metal[] = N_("Face shield, dry gloves, nothing damp near the metal: water "
                                  "under it bursts. Others stay back.");
static const char of_charge[] = N_("Charge only what is dry, clean and warm; lower it in, never "
                                   "drop it. Face shield and gloves on.");
static const char of_ramming[] = N_("Sand dust harms the lungs: ventilate and wear the respirator. "
                                    "Lift full flasks with two, or with a hoist.");
static const char of_heat[] = N_("Crucible and chamber must be dry before they are hot. Keep the "
                                 "lid on and nothing that burns near.");
static const char of_shake_out[] = N_("Castings are hot long after they look cold. Gloves, glasses "
                                      "and respirator on.");
static const char of_closing[] = N_("Power off, lid on, metal and floor left safe, nobody left "
                                    "alone with the heat.");

static const struct {
    const char *word;
    gboolean ticked, begun;
    const char *caution;
} kinds[] = {
    [TASK_SET_UP] = {"set-up", TRUE, FALSE, NULL},
    [TASK_WARM_UP] = {"warm-up", TRUE, FALSE, of_heat},
    [TASK_RAM] = {"ram", TRUE, TRUE, of_ramming},
    [TASK_RAM_DRAG] = {"ram-drag", TRUE, TRUE, of_ramming},
    [TASK_RAM_COPE] = {"ram-cope", TRUE, FALSE, of_ramming},
    [TASK_DRAW] = {"draw", TRUE, FALSE, NULL},
    [TASK_SHUT] = {"shut", TRUE, FALSE, of_ramming},
    [TASK_CHARGE] = {"charge", TRUE, FALSE, of_charge},
    [TASK_MELT] = {"melt", TRUE, FALSE, of_metal},
    [TASK_SKIM] = {"skim", TRUE, FALSE, of_metal},
    [TASK_POUR] = {"pour", TRUE, FALSE, of_metal},
    [TASK_COOL] = {"cool", FALSE, FALSE, NULL},
    [TASK_SHAKE_OUT] = {"shake-out", TRUE, FALSE, of_shake_out},
    [TASK_CLOSE] = {"close", TRUE, FALSE, of_closing},
};

const char *
live_task_word(TaskKind kind)
{
    return (guint)kind < G_N_ELEMENTS(kinds) ? kinds[kind].word : NULL;
}

gboolean
live_task_kind(const char *word, TaskKind *kind)
{
    for (guint i = 0; word && i < G_N_ELEMENTS(kinds); i++)
        if (strcmp(kinds[i].word, word) == 0) {
            *kind = (TaskKind)i;
            return TRUE;
        }
    return FALSE;
}

gboolean
live_task_is_ticked(const SessionTask *task)
{
    return (guint)task->kind < G_N_ELEMENTS(kinds) && kinds[task->kind].ticked;
}

gboolean
live_task_is_begun(const SessionTask *task)
{
    return (guint)task->kind < G_N_ELEMENTS(kinds) && kinds[task->kind].begun;
}

const char *
live_task_caution(TaskKind kind)
{
    const char *caution = (guint)kind < G_N_ELEMENTS(kinds) ? kinds[kind].caution : NULL;
    return caution ? _(caution) : NULL;
}

static void
copy_task(SessionTask *to, const SessionTask *from)
{
    *to = *from;
    to->label = g_strdup(from->label);
    to->key = g_strdup(from->key);
    to->after = g_memdup2(from->after, from->n_after * sizeof *from->after);
}

static SessionResult *
copy_session(const SessionResult *from)
{
    SessionResult *to = g_atomic_rc_box_new0(SessionResult);
    *to = *from;
    to->tasks = g_new0(SessionTask, from->n_tasks);
    for (guint i = 0; i < from->n_tasks; i++)
        copy_task(&to->tasks[i], &from->tasks[i]);
    to->curve = g_new0(SessionFurnacePoint, from->n_curve);
    for (guint i = 0; i < from->n_curve; i++) {
        to->curve[i] = from->curve[i];
        to->curve[i].prompt = g_strdup(from->curve[i].prompt);
    }
    to->jobs = g_strdupv(from->jobs);
    to->furnace_names = g_strdupv(from->furnace_names);
    to->bottleneck = g_strdup(from->bottleneck);
    to->limits = session_limits_ref(from->limits);
    memcpy(to->boxes_of_kind, from->boxes_of_kind, sizeof to->boxes_of_kind);
    return to;
}

static char *
make_key(const SessionTask *task)
{
    int number = task->flask >= 0 ? task->flask : task->load;
    return number < 0 ? g_strdup(live_task_word(task->kind))
                      : g_strdup_printf("%s-%d", live_task_word(task->kind), number + 1);
}

SessionResult *
live_session_keyed(const SessionResult *session)
{
    g_return_val_if_fail(session != NULL, NULL);
    SessionResult *keyed = copy_session(session);
    g_autoptr(GHashTable) seen = g_hash_table_new(g_str_hash, g_str_equal);
    for (guint i = 0; i < keyed->n_tasks; i++) {
        SessionTask *task = &keyed->tasks[i];
        if (!task->key)
            task->key = make_key(task);
        if (!task->label)
            task->label = g_strdup(task->key);
        for (guint n = 2; g_hash_table_contains(seen, task->key); n++) {
            g_free(task->key);
            g_autofree char *key = make_key(task);
            task->key = g_strdup_printf("%s.%u", key, n);
        }
        g_hash_table_add(seen, task->key);
    }
    return keyed;
}

SessionResult *
live_session_timed(const SessionResult *session, const double *start, const double *end)
{
    g_return_val_if_fail(session != NULL && start != NULL && end != NULL, NULL);
    SessionResult *timed = copy_session(session);
    timed->length = 0;
    for (guint i = 0; i < timed->n_tasks; i++) {
        timed->tasks[i].start = start[i];
        timed->tasks[i].end = end[i];
        if (timed->tasks[i].kind != TASK_COOL)
            timed->length = MAX(timed->length, end[i]);
    }
    return timed;
}
