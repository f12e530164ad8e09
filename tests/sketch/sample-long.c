// SPDX-License-Identifier: GPL-3.0-or-later
// A long session made by hand: everybody does the next thing as soon as all it needs is there.
#include <stdlib.h>
#include <string.h>

#include "sample.h"

#define MINUTE 60.0

typedef struct {
    GArray *tasks;
    double people[16], furnaces[8], boxes[600];
    int n_people, n_furnaces, n_boxes;
} Shop;

static guint
add(Shop *s, TaskKind kind, int load, int flask, int furnace, int who, double start, double minutes)
{
    SessionTask task = {.kind = kind,
                        .load = load,
                        .flask = flask,
                        .box = flask < 0 ? -1 : flask % s->n_boxes,
                        .job = 0,
                        .person = who >= 0,
                        .who = who,
                        .furnace = furnace,
                        .start = start,
                        .end = start + minutes * MINUTE};
    g_array_append_val(s->tasks, task);
    if (who >= 0)
        s->people[who] = task.end;
    if (furnace >= 0)
        s->furnaces[furnace] = task.end;
    if (task.box >= 0)
        s->boxes[task.box] = task.end;
    return s->tasks->len - 1;
}

static void
make_mould(Shop *s, int load, int flask)
{
    static const struct {
        TaskKind kind;
        double minutes;
    } steps[] = {{TASK_RAM_DRAG, 9.5}, {TASK_RAM_COPE, 11.25}, {TASK_DRAW, 6.5}, {TASK_SHUT, 3.75}};
    int who = flask % s->n_people, box = flask % s->n_boxes;
    for (guint i = 0; i < G_N_ELEMENTS(steps); i++) {
        double start = MAX(s->people[who], s->boxes[box]);
        add(s, steps[i].kind, load, flask, -1, who, start, steps[i].minutes);
    }
}

static void
pour_load(Shop *s, int load, int first, int n)
{
    int furnace = load % s->n_furnaces, who = load % s->n_people;
    add(s, TASK_CHARGE, load, -1, furnace, who, MAX(s->people[who], s->furnaces[furnace]), 5.5);
    add(s, TASK_MELT, load, -1, furnace, -1, s->furnaces[furnace], 42.25);
    double ready = MAX(s->people[who], s->furnaces[furnace]);
    for (int i = first; i < first + n; i++)
        ready = MAX(ready, s->boxes[i % s->n_boxes]);
    add(s, TASK_SKIM, load, -1, furnace, who, ready, 2.25);
    for (int i = first; i < first + n; i++)
        add(s, TASK_POUR, load, i, furnace, who, s->people[who], 2.5);
    for (int i = first; i < first + n; i++) {
        add(s, TASK_COOL, load, i, -1, -1, s->boxes[i % s->n_boxes], 31.5);
        add(s, TASK_SHAKE_OUT, load, i, -1, who, MAX(s->people[who], s->boxes[i % s->n_boxes]),
            7.5);
    }
}

static int
compare_tasks(gconstpointer a, gconstpointer b)
{
    const SessionTask *p = a, *q = b;
    if (p->start != q->start)
        return p->start < q->start ? -1 : 1;
    if (p->kind != q->kind)
        return p->kind < q->kind ? -1 : 1;
    return (p->flask > q->flask) - (p->flask < q->flask);
}

// Each task of a mould needs the one before it, a pour its load's melting too.
static void
tell_needs(SessionResult *session)
{
    for (guint i = 0; i < session->n_tasks; i++) {
        SessionTask *task = &session->tasks[i];
        g_autoptr(GArray) after = g_array_new(FALSE, FALSE, sizeof(guint));
        guint last = G_MAXUINT;
        for (guint k = 0; k < i; k++) {
            if (task->flask >= 0 && session->tasks[k].flask == task->flask)
                last = k;
            if (task->kind == TASK_POUR && session->tasks[k].kind == TASK_MELT &&
                session->tasks[k].load == task->load)
                g_array_append_val(after, k);
        }
        if (last != G_MAXUINT)
            g_array_append_val(after, last);
        task->n_after = after->len;
        task->after = (guint *)(gpointer)g_array_free(g_steal_pointer(&after), FALSE);
    }
}

static void
draw_curve(SessionResult *session)
{
    static const char *const prompts[] = {"Set 300 °C and hold 45 min", "Set 500 °C and hold",
                                          "Set 720 °C and charge when it is reached"};
    session->n_curve = 12;
    session->curve = g_new0(SessionFurnacePoint, session->n_curve);
    for (guint i = 0; i < session->n_curve; i++) {
        session->curve[i].at = session->length * i / (session->n_curve - 1.0);
        session->curve[i].temperature = i < 3 ? 200.0 * i : 700.0 + 13.5 * (i % 2);
        session->curve[i].prompt = i % 2 ? g_strdup(prompts[i % 3]) : NULL;
    }
}

SessionResult *
sample_long(int moulds, int load, int furnaces, int people, int boxes)
{
    Shop s = {.n_people = people, .n_furnaces = furnaces, .n_boxes = boxes};
    g_assert_cmpint(boxes, <=, 600);
    g_assert_cmpint(load, <=, boxes);
    s.tasks = g_array_new(FALSE, FALSE, sizeof(SessionTask));
    add(&s, TASK_SET_UP, -1, -1, -1, 0, 0.0, 20.5);
    for (int i = 0; i < furnaces; i++)
        add(&s, TASK_WARM_UP, -1, -1, i, -1, 20.5 * MINUTE, 95.25);
    int loads = 0;
    for (int first = 0; first < moulds; first += load) {
        int n = MIN(load, moulds - first);
        for (int i = first; i < first + n; i++)
            make_mould(&s, loads, i);
        pour_load(&s, loads++, first, n);
    }
    double last = 0.0;
    for (int i = 0; i < people; i++)
        last = MAX(last, s.people[i]);
    add(&s, TASK_CLOSE, -1, -1, -1, 0, last, 25.5);
    g_array_sort(s.tasks, compare_tasks);
    SessionResult *session = g_new0(SessionResult, 1);
    session->n_tasks = s.tasks->len;
    session->length = session->hours = last + 25.5 * MINUTE;
    session->tasks = (SessionTask *)(gpointer)g_array_free(s.tasks, FALSE);
    session->loads = loads;
    session->flasks = session->castings = moulds;
    session->boxes = boxes;
    session->people = people;
    session->furnaces = furnaces;
    tell_needs(session);
    draw_curve(session);
    return session;
}

void
sample_long_free(SessionResult *session)
{
    for (guint i = 0; i < session->n_tasks; i++)
        session_task_clear(&session->tasks[i]);
    for (guint i = 0; i < session->n_curve; i++)
        g_free(session->curve[i].prompt);
    g_free(session->tasks);
    g_free(session->curve);
    g_free(session);
}
