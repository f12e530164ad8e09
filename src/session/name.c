// SPDX-License-Identifier: GPL-3.0-or-later
// Labels, keys and precedences of the tasks of a session.
#include "session/name.h"

#include <glib/gi18n-lib.h>
#include <string.h>

// In the order of TaskKind.
static const char *const words[] = {
    "set-up", "warm-up", "ram",  "ram-drag", "ram-cope", "draw",      "shut",
    "charge", "melt",    "skim", "pour",     "cool",     "shake-out", "close",
};
G_STATIC_ASSERT(G_N_ELEMENTS(words) == TASK_CLOSE + 1);

char *
session_task_label(const SessionTask *task)
{
    switch (task->kind) {
    case TASK_SET_UP:
        return g_strdup(_("Set up"));
    case TASK_WARM_UP:
        if (task->furnace > 0)
            return g_strdup_printf(_("Warm up furnace %d"), task->furnace + 1);
        return g_strdup(_("Warm up the furnace"));
    case TASK_RAM:
        return g_strdup_printf(_("Ram mould %d"), task->flask + 1);
    case TASK_RAM_DRAG:
        return g_strdup_printf(_("Ram drag %d"), task->flask + 1);
    case TASK_RAM_COPE:
        return g_strdup_printf(_("Ram cope %d"), task->flask + 1);
    case TASK_DRAW:
        return g_strdup_printf(_("Draw patterns %d"), task->flask + 1);
    case TASK_SHUT:
        return g_strdup_printf(_("Close mould %d"), task->flask + 1);
    case TASK_SKIM:
        return g_strdup_printf(_("Skim load %d"), task->load + 1);
    case TASK_CHARGE:
        return g_strdup_printf(_("Charge load %d"), task->load + 1);
    case TASK_MELT:
        return g_strdup_printf(_("Melt load %d"), task->load + 1);
    case TASK_POUR:
        return g_strdup_printf(_("Pour mould %d"), task->flask + 1);
    case TASK_COOL:
        return g_strdup_printf(_("Mould %d cools"), task->flask + 1);
    case TASK_SHAKE_OUT:
        return g_strdup_printf(_("Shake out mould %d"), task->flask + 1);
    case TASK_CLOSE:
        return g_strdup(_("Close"));
    }
    return g_strdup("");
}

static int
get_number(const SessionTask *task)
{
    switch (task->kind) {
    case TASK_SET_UP:
    case TASK_CLOSE:
        return 0;
    case TASK_WARM_UP:
        return task->furnace > 0 ? task->furnace + 1 : 0;
    case TASK_CHARGE:
    case TASK_MELT:
    case TASK_SKIM:
        return task->load + 1;
    default:
        return task->flask + 1;
    }
}

char *
session_task_key(const SessionTask *task)
{
    g_return_val_if_fail(task && task->kind <= TASK_CLOSE, NULL);
    int number = get_number(task);
    return number > 0 ? g_strdup_printf("%s-%d", words[task->kind], number)
                      : g_strdup(words[task->kind]);
}

gboolean
session_key_read(const char *key, TaskKind *kind, int *number)
{
    g_return_val_if_fail(key && kind && number, FALSE);
    for (guint i = 0; i < G_N_ELEMENTS(words); i++) {
        gsize length = strlen(words[i]);
        if (strncmp(key, words[i], length) != 0)
            continue;
        gboolean numbered = i != TASK_SET_UP && i != TASK_CLOSE;
        guint64 value = 0;
        if (key[length] == '-' && numbered &&
            g_ascii_string_to_unsigned(key + length + 1, 10, 1, 1000000, &value, NULL)) {
            *kind = (TaskKind)i;
            *number = (int)value;
            return TRUE;
        }
        if (key[length] == '\0' && (!numbered || i == TASK_WARM_UP)) {
            *kind = (TaskKind)i;
            *number = i == TASK_WARM_UP ? 1 : 0;
            return TRUE;
        }
    }
    return FALSE;
}

// Places in the list of the tasks others wait for; -1: none seen. All by growing arrays, since a
// session read from elsewhere may number as it likes.
typedef struct {
    const SessionTask *tasks;
    guint n;
    GHashTable *last_of; // key of what is held ("mould 3") -> place + 1
} Naming;

static void
remember(Naming *naming, char what, int index, guint place)
{
    gint64 key = ((gint64)what << 32) | (guint32)index;
    gint64 *slot = g_new(gint64, 1);
    *slot = key;
    g_hash_table_replace(naming->last_of, slot, GUINT_TO_POINTER(place + 1));
}

static int
recall(const Naming *naming, char what, int index)
{
    gint64 key = ((gint64)what << 32) | (guint32)index;
    return (int)GPOINTER_TO_UINT(g_hash_table_lookup(naming->last_of, &key)) - 1;
}

static void
add_after(GArray *after, int place)
{
    guint value = (guint)place;
    for (guint i = 0; i < after->len; i++)
        if (g_array_index(after, guint, i) == value)
            return;
    if (place >= 0)
        g_array_append_val(after, value);
}

// What the load's own moulds do last before skimming: 's' of each mould.
static void
add_moulds_of_load(const Naming *naming, int load, GArray *after)
{
    for (guint i = 0; i < naming->n; i++)
        if (naming->tasks[i].kind == TASK_POUR && naming->tasks[i].load == load)
            add_after(after, recall(naming, 'm', naming->tasks[i].flask));
}

// The last thing of every pair of hands, and the last pours.
static void
add_last(const Naming *naming, const SessionTask *task, GArray *after)
{
    for (int who = 0; who < 64; who++)
        add_after(after, recall(naming, 'h', who));
}

static void
find_after(const Naming *naming, const SessionTask *task, GArray *after)
{
    switch (task->kind) {
    case TASK_SET_UP:
        break;
    case TASK_WARM_UP:
        add_after(after, recall(naming, 'u', 0));
        break;
    case TASK_RAM:
    case TASK_RAM_DRAG:
        add_after(after, recall(naming, 'b', task->box));
        break;
    case TASK_CHARGE:
        add_after(after, recall(naming, 'f', task->furnace));
        break;
    case TASK_MELT:
        add_after(after, recall(naming, 'f', task->furnace));
        break;
    case TASK_SKIM:
        add_after(after, recall(naming, 'l', task->load));
        add_moulds_of_load(naming, task->load, after);
        break;
    case TASK_POUR:
        add_after(after, recall(naming, 'l', task->load));
        add_after(after, recall(naming, 'm', task->flask));
        break;
    case TASK_CLOSE:
        add_last(naming, task, after);
        break;
    default:
        add_after(after, recall(naming, 'm', task->flask));
        break;
    }
}

static void
remember_task(Naming *naming, guint place)
{
    const SessionTask *task = &naming->tasks[place];
    if (task->kind == TASK_SET_UP)
        remember(naming, 'u', 0, place);
    if (task->furnace >= 0)
        remember(naming, 'f', task->furnace, place);
    if (task->load >= 0 && task->furnace >= 0)
        remember(naming, 'l', task->load, place);
    if (task->flask >= 0)
        remember(naming, 'm', task->flask, place);
    if (task->kind == TASK_SHAKE_OUT && task->box >= 0)
        remember(naming, 'b', task->box, place);
    if (task->person && task->who >= 0)
        remember(naming, 'h', task->who, place);
}

void
session_tasks_name(SessionTask *tasks, guint n)
{
    g_return_if_fail(tasks || n == 0);
    Naming naming = {.tasks = tasks,
                     .n = n,
                     .last_of = g_hash_table_new_full(g_int64_hash, g_int64_equal, g_free, NULL)};
    g_autoptr(GArray) after = g_array_new(FALSE, FALSE, sizeof(guint));
    for (guint i = 0; i < n; i++) {
        g_array_set_size(after, 0);
        find_after(&naming, &tasks[i], after);
        g_free(tasks[i].label);
        g_free(tasks[i].key);
        g_free(tasks[i].after);
        tasks[i].label = session_task_label(&tasks[i]);
        tasks[i].key = session_task_key(&tasks[i]);
        tasks[i].n_after = after->len;
        tasks[i].after = after->len > 0 ? g_memdup2(after->data, sizeof(guint) * after->len) : NULL;
        remember_task(&naming, i);
    }
    g_hash_table_unref(naming.last_of);
}

void
session_plan_name(SessionPlan *session, const SessionFloor *floor)
{
    g_return_if_fail(session);
    session_tasks_name((SessionTask *)(gpointer)session->tasks->data, session->tasks->len);
}
