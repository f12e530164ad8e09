// SPDX-License-Identifier: GPL-3.0-or-later
// Beginning a piece of work: the task, and what it takes and gives back.
#include <math.h>

#include "session/lay-state.h"

// Adds a task and books the hands.
static void
add_task(Lay *lay, TaskKind kind, int load, int mould, int furnace, int who, double start,
         double end)
{
    const LayMould *m = mould < 0 ? NULL : &lay->moulds[mould];
    const SessionMould *what = m ? &lay->floor->kinds[m->kind] : NULL;
    SessionTask task = {.kind = kind,
                        .load = load,
                        .flask = mould,
                        .box = m ? lay->box_base[what->box] + m->box : -1,
                        .job = what ? what->job : -1,
                        .person = who >= 0,
                        .furnace = furnace,
                        .start = start,
                        .end = end,
                        .who = who};
    g_array_append_val(lay->plan->tasks, task);
    if (who >= 0)
        lay->hands[who] = MAX(lay->hands[who], end);
}

void
lay_begin_set_up(Lay *lay, double start, double end)
{
    add_task(lay, TASK_SET_UP, -1, -1, -1, 0, start, end);
}

void
lay_begin_close(Lay *lay, int who, double start, double end)
{
    add_task(lay, TASK_CLOSE, -1, -1, -1, who, start, end);
}

void
lay_begin_warm_up(Lay *lay, int furnace, double start, double end)
{
    add_task(lay, TASK_WARM_UP, -1, -1, furnace, -1, start, end);
    lay->furnaces[furnace].ready = end;
}

// The first that is free by `time`, else the one free earliest: the past may not keep the rules.
static int
take_free(double *free_from, int n, double time)
{
    int best = 0;
    for (int i = 0; i < n; i++) {
        if (free_from[i] <= time)
            return i;
        if (free_from[i] < free_from[best])
            best = i;
    }
    return best;
}

static void
remove_int(GArray *array, int value)
{
    for (guint i = 0; i < array->len; i++) {
        if (g_array_index(array, int, i) == value) {
            g_array_remove_index(array, i);
            return;
        }
    }
}

static void
take_box(Lay *lay, int mould, int box, double start)
{
    LayMould *m = &lay->moulds[mould];
    int kind = lay->floor->kinds[m->kind].box;
    m->box = box >= 0 ? box : take_free(lay->boxes[kind], lay->floor->boxes[kind], start);
    m->bench = take_free(lay->benches, lay->n_benches, start);
    lay->boxes[kind][m->box] = INFINITY;
    lay->benches[m->bench] = INFINITY;
    lay->not_begun--;
    g_array_append_val(lay->open, mould);
    int first = lay->first_mould[kind];
    if (first == mould) {
        do
            first = lay->moulds[first].next;
        while (first >= 0 && lay->moulds[first].step > 0);
        lay->first_mould[kind] = first;
    }
}

void
lay_begin_step(Lay *lay, int mould, int box, int step, int who, double start, double end)
{
    static const TaskKind kinds[LAY_STEPS] = {TASK_RAM_DRAG, TASK_RAM_COPE, TASK_DRAW, TASK_SHUT};
    LayMould *m = &lay->moulds[mould];
    m->step = step + 1;
    if (step == 0)
        take_box(lay, mould, box, start);
    m->until = end;
    if (step == 2)
        lay->benches[m->bench] = end;
    if (step == LAY_STEPS - 1)
        remove_int(lay->open, mould);
    add_task(lay, kinds[step], m->load, mould, -1, who, start, end);
}

void
lay_begin_charge(Lay *lay, int furnace, int load, int who, double start, double end, double molten)
{
    LayLoad *l = &lay->loads[load];
    add_task(lay, TASK_CHARGE, load, -1, furnace, who, start, end);
    add_task(lay, TASK_MELT, load, -1, furnace, -1, end, molten);
    l->furnace = furnace;
    l->molten = molten;
    lay->furnaces[furnace] = (LayFurnace){.load = load, .ready = molten, .used = TRUE};
    while (lay->first_load < lay->n_loads && lay->loads[lay->first_load].furnace >= 0)
        lay->first_load++;
}

void
lay_begin_skim(Lay *lay, int load, int who, double start, double end)
{
    LayLoad *l = &lay->loads[load];
    double held = MAX(start - l->molten, 0.0);
    lay->plan->held += held;
    lay->plan->longest_held = MAX(lay->plan->longest_held, held);
    l->skimmed = TRUE;
    l->who = who;
    l->ready = end;
    add_task(lay, TASK_SKIM, load, -1, l->furnace, who, start, end);
}

void
lay_begin_pour(Lay *lay, int mould, int who, double start, double end)
{
    LayMould *m = &lay->moulds[mould];
    LayLoad *l = &lay->loads[m->load];
    LayFurnace *furnace = &lay->furnaces[l->furnace];
    double cool = lay->floor->kinds[m->kind].cool;
    add_task(lay, TASK_POUR, m->load, mould, l->furnace, who, start, end);
    add_task(lay, TASK_COOL, m->load, mould, -1, -1, end, end + cool);
    m->cooled = end + cool;
    m->place = take_free(lay->places, lay->n_places, end);
    lay->places[m->place] = INFINITY;
    g_array_append_val(lay->cooling, mould);
    l->poured++;
    l->ready = furnace->ready = end;
    lay->plan->last_pour = MAX(lay->plan->last_pour, end);
    if (l->poured == l->n) {
        furnace->load = -1;
        lay->to_pour--;
    }
}

void
lay_begin_shake_out(Lay *lay, int mould, int who, double start, double end)
{
    LayMould *m = &lay->moulds[mould];
    m->gone = end;
    lay->boxes[lay->floor->kinds[m->kind].box][m->box] = end;
    lay->places[m->place] = end;
    remove_int(lay->cooling, mould);
    add_task(lay, TASK_SHAKE_OUT, m->load, mould, -1, who, start, end);
}
