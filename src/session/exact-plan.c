// SPDX-License-Identifier: GPL-3.0-or-later
// The best order of work found, as a session: moulds numbered load by load, and moulds that nothing
// waited for shaken out as time allows.
#include <math.h>
#include <string.h>

#include "session/exact-state.h"

typedef struct {
    const Exact *exact;
    SessionPlan *plan;
    int number[SESSION_EXACT_MOULDS]; // of each mould
    int box_base[SESSION_MOST_BOX_KINDS];
    double hands[SESSION_MOST_PEOPLE];
} Writing;

static void
add_task(Writing *w, TaskKind kind, int load, int mould, int furnace, int who, double start,
         double end)
{
    const ExactMould *m = mould < 0 ? NULL : &w->exact->best.moulds[mould];
    const SessionMould *what = m ? &w->exact->floor->kinds[m->kind] : NULL;
    SessionTask task = {.kind = kind,
                        .load = m ? m->load : load,
                        .flask = m ? w->number[mould] : -1,
                        .box = m ? w->box_base[what->box] + m->box : -1,
                        .job = what ? what->job : -1,
                        .person = who >= 0,
                        .furnace = furnace,
                        .start = start,
                        .end = end,
                        .who = who};
    g_array_append_val(w->plan->tasks, task);
    if (who >= 0)
        w->hands[who] = MAX(w->hands[who], end);
}

static void
number_moulds(Writing *w)
{
    const Exact *exact = w->exact;
    int number = 0, base = 0;
    for (int load = 0; load < exact->best.n_loads; load++)
        for (int i = 0; i < exact->n_moulds; i++)
            if (exact->best.moulds[i].load == load)
                w->number[i] = number++;
    for (int k = 0; k < exact->floor->n_boxes; k++) {
        w->box_base[k] = base;
        base += exact->floor->boxes[k];
    }
}

static void
write_tap(Writing *w, const ExactTask *task, double start)
{
    const Exact *exact = w->exact;
    const ExactLoad *load = &exact->best.loads[task->load];
    double molten = exact->best.start[load->charge] + exact->floor->charge + load->melt;
    double held = MAX(start - molten, 0.0), at = start + exact->floor->skim;
    w->plan->held += held;
    w->plan->longest_held = MAX(w->plan->longest_held, held);
    add_task(w, TASK_SKIM, task->load, -1, task->furnace, task->who, start, at);
    for (int i = 0; i < exact->n_moulds; i++) {
        const ExactMould *mould = &exact->best.moulds[i];
        if (mould->load != task->load)
            continue;
        const SessionMould *kind = &exact->floor->kinds[mould->kind];
        add_task(w, TASK_POUR, -1, i, task->furnace, task->who, at, at + kind->pour);
        at += kind->pour;
        add_task(w, TASK_COOL, -1, i, -1, -1, at, at + kind->cool);
    }
    w->plan->last_pour = MAX(w->plan->last_pour, at);
}

static void
write_task(Writing *w, const ExactTask *task, double start)
{
    static const TaskKind steps[4] = {TASK_RAM_DRAG, TASK_RAM_COPE, TASK_DRAW, TASK_SHUT};
    double end = start + task->duration;
    switch (task->kind) {
    case EXACT_STEP:
        add_task(w, steps[task->step], -1, task->mould, -1, task->who, start, end);
        break;
    case EXACT_CHARGE:
        add_task(w, TASK_CHARGE, task->load, -1, task->furnace, task->who, start, end);
        add_task(w, TASK_MELT, task->load, -1, task->furnace, -1, end,
                 end + w->exact->best.loads[task->load].melt);
        break;
    case EXACT_TAP:
        write_tap(w, task, start);
        break;
    case EXACT_SHAKE_OUT:
        add_task(w, TASK_SHAKE_OUT, -1, task->mould, -1, task->who, start, end);
        break;
    }
}

static void
write_day(Writing *w)
{
    const SessionFloor *floor = w->exact->floor;
    add_task(w, TASK_SET_UP, -1, -1, -1, 0, 0.0, floor->set_up);
    for (int f = 0; f < floor->n_furnaces; f++)
        if (w->exact->best.furnaces[f] >= 0)
            add_task(w, TASK_WARM_UP, -1, -1, f, -1, floor->set_up,
                     floor->set_up + floor->furnaces[f].warm_up);
}

// Moulds still closed, in order of number, by whoever is free first.
static void
shake_out_rest(Writing *w)
{
    const Exact *exact = w->exact;
    double until = MIN(exact->floor->hours - exact->floor->closing, exact->floor->light_to);
    for (int number = 0; number < exact->n_moulds; number++) {
        int i = 0;
        while (w->number[i] != number)
            i++;
        const ExactMould *mould = &exact->best.moulds[i];
        const SessionMould *kind = &exact->floor->kinds[mould->kind];
        if (mould->gone)
            continue;
        int who = 0;
        for (int j = 1; j < exact->people; j++)
            if (w->hands[j] < w->hands[who])
                who = j;
        double cooled = exact->best.start[exact->best.loads[mould->load].tap] + mould->poured +
                        kind->cool;
        double start = MAX(cooled, w->hands[who]);
        if (start + kind->shake_out <= until)
            add_task(w, TASK_SHAKE_OUT, -1, i, -1, who, start, start + kind->shake_out);
    }
}

SessionPlan *
exact_make_plan(const Exact *exact)
{
    Writing w = {.exact = exact, .plan = session_plan_new()};
    number_moulds(&w);
    write_day(&w);
    for (int i = 0; i < exact->best.n_tasks; i++)
        write_task(&w, &exact->best_tasks[i], exact->best.start[i]);
    shake_out_rest(&w);
    for (int i = 0; i < exact->n_moulds; i++)
        w.plan->worth += exact->floor->kinds[exact->best.moulds[i].kind].worth;
    w.plan->loads = exact->best.n_loads;
    w.plan->flasks = exact->n_moulds;
    session_plan_finish(w.plan, exact->floor);
    return w.plan;
}
