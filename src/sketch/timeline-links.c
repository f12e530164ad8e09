// SPDX-License-Identifier: GPL-3.0-or-later
// What waits for what: as the plan of the session says it, or, where it says nothing, by the order
// of the work: a mould goes from ramming to shake-out, a load from charging to its pours, a box and
// a furnace take one thing after another. The life of one mould.
#include <math.h>
#include <string.h>

#include "sketch/timeline-kit.h"

#define ROUNDING 1e-6 // s

typedef struct {
    guint task, needs;
} Link;

static gboolean
tells_links(const SessionResult *session)
{
    for (guint i = 0; i < session->n_tasks; i++)
        if (session->tasks[i].n_after > 0)
            return TRUE;
    return FALSE;
}

static void
add_link(const SessionResult *session, GArray *links, guint task, guint needs)
{
    Link link = {task, needs};
    if (needs == G_MAXUINT || needs >= session->n_tasks || needs == task ||
        !timeline_is_drawn(&session->tasks[needs]))
        return;
    for (guint i = links->len; i > 0 && g_array_index(links, Link, i - 1).task == task; i--)
        if (g_array_index(links, Link, i - 1).needs == needs)
            return;
    g_array_append_val(links, link);
}

// The last task before `task` for which the number `which` is the same; it must have ended.
static guint
take_last(GHashTable *last, const SessionResult *session, int which, guint task)
{
    gpointer found;
    if (which < 0)
        return G_MAXUINT;
    gboolean known = g_hash_table_lookup_extended(last, GINT_TO_POINTER(which), NULL, &found);
    g_hash_table_insert(last, GINT_TO_POINTER(which), GUINT_TO_POINTER(task));
    if (!known || session->tasks[GPOINTER_TO_UINT(found)].end > session->tasks[task].start + 1e-6)
        return G_MAXUINT;
    return GPOINTER_TO_UINT(found);
}

// Tasks come in order of their start.
static void
guess_links(const SessionResult *session, GArray *links)
{
    g_autoptr(GHashTable) box = g_hash_table_new(NULL, NULL),
                          furnace = g_hash_table_new(NULL, NULL);
    g_autoptr(GHashTable) flask = g_hash_table_new(NULL, NULL), melt = g_hash_table_new(NULL, NULL);
    guint set_up = G_MAXUINT;
    for (guint i = 0; i < session->n_tasks; i++) {
        const SessionTask *task = &session->tasks[i];
        if (!timeline_is_drawn(task))
            continue;
        guint in_box = take_last(box, session, task->box, i);
        guint in_furnace = take_last(furnace, session, task->furnace, i);
        guint of_flask = take_last(flask, session, task->flask, i);
        add_link(session, links, i, of_flask);
        if (of_flask == G_MAXUINT)
            add_link(session, links, i, in_box);
        add_link(session, links, i, in_furnace);
        gpointer molten;
        if ((task->kind == TASK_POUR || task->kind == TASK_SKIM) &&
            g_hash_table_lookup_extended(melt, GINT_TO_POINTER(task->load), NULL, &molten))
            add_link(session, links, i, GPOINTER_TO_UINT(molten));
        if (task->kind == TASK_MELT)
            g_hash_table_insert(melt, GINT_TO_POINTER(task->load), GUINT_TO_POINTER(i));
        if (task->kind == TASK_WARM_UP || (task->kind <= TASK_RAM_DRAG && in_box == G_MAXUINT))
            add_link(session, links, i, set_up);
        if (task->kind == TASK_SET_UP)
            set_up = i;
    }
}

static void
read_links(const SessionResult *session, GArray *links)
{
    for (guint i = 0; i < session->n_tasks; i++)
        for (guint k = 0; k < session->tasks[i].n_after; k++)
            add_link(session, links, i, session->tasks[i].after[k]);
}

// Sorts the links by one end into rows: those of task i are list[start[i]] .. list[start[i + 1]].
static void
sort_links(const GArray *links, guint n_tasks, gboolean by_needs, guint **start, guint **list)
{
    *start = g_new0(guint, n_tasks + 2);
    *list = g_new0(guint, links->len + 1);
    for (guint i = 0; i < links->len; i++) {
        const Link *link = &g_array_index(links, Link, i);
        (*start)[(by_needs ? link->needs : link->task) + 2]++;
    }
    for (guint i = 2; i < n_tasks + 2; i++)
        (*start)[i] += (*start)[i - 1];
    for (guint i = 0; i < links->len; i++) {
        const Link *link = &g_array_index(links, Link, i);
        guint from = by_needs ? link->needs : link->task;
        (*list)[(*start)[from + 1]++] = by_needs ? link->task : link->needs;
    }
}

void
timeline_chart_link(TimelineChart *chart)
{
    const SessionResult *session = chart->session;
    g_autoptr(GArray) links = g_array_new(FALSE, FALSE, sizeof(Link));
    if (tells_links(session))
        read_links(session, links);
    else
        guess_links(session, links);
    sort_links(links, session->n_tasks, FALSE, &chart->needs_start, &chart->needs);
    sort_links(links, session->n_tasks, TRUE, &chart->users_start, &chart->users);
}

double
timeline_earliest(const TimelineChart *chart, guint task, guint *last)
{
    g_return_val_if_fail(task < chart->session->n_tasks, 0.0);
    double earliest = 0.0;
    guint which = G_MAXUINT;
    for (guint i = chart->needs_start[task]; i < chart->needs_start[task + 1]; i++) {
        const SessionTask *need = &chart->session->tasks[chart->needs[i]];
        if (which == G_MAXUINT || need->end > earliest) {
            earliest = fmax(earliest, need->end);
            which = chart->needs[i];
        }
    }
    if (last)
        *last = which;
    return earliest;
}

GArray *
timeline_life(const TimelineChart *chart, int flask)
{
    GArray *life = g_array_new(FALSE, FALSE, sizeof(guint));
    for (guint i = 0; flask >= 0 && i < chart->session->n_tasks; i++)
        if (chart->session->tasks[i].flask == flask && chart->first_bar[i] != G_MAXUINT)
            g_array_append_val(life, i);
    return life;
}

char *
timeline_key(const SessionTask *task)
{
    static const char *const names[] = {
        [TASK_SET_UP] = "set-up",       [TASK_WARM_UP] = "warm-up",   [TASK_RAM] = "ram",
        [TASK_RAM_DRAG] = "ram-drag",   [TASK_RAM_COPE] = "ram-cope", [TASK_DRAW] = "draw",
        [TASK_SHUT] = "shut",           [TASK_CHARGE] = "charge",     [TASK_MELT] = "melt",
        [TASK_SKIM] = "skim",           [TASK_POUR] = "pour",         [TASK_COOL] = "cool",
        [TASK_SHAKE_OUT] = "shake-out", [TASK_CLOSE] = "close",
    };
    if (task->key)
        return g_strdup(task->key);
    int number = task->flask >= 0 ? task->flask : task->load;
    if (number < 0)
        return g_strdup(names[task->kind]);
    return g_strdup_printf("%s-%d", names[task->kind], MIN(number, G_MAXINT - 1) + 1);
}

guint
timeline_find_key(const TimelineChart *chart, const char *key)
{
    for (guint i = 0; key && i < chart->session->n_tasks; i++) {
        g_autofree char *own = timeline_key(&chart->session->tasks[i]);
        if (g_str_equal(own, key))
            return i;
    }
    return G_MAXUINT;
}
