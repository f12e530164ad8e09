// SPDX-License-Identifier: GPL-3.0-or-later
// A session by list scheduling: whenever a pair of hands is free it takes the most pressing piece
// of work that can begin now, and time then moves on to the next thing that ends.
//
//   hands    |set up|drag|cope|draw|shut|charge|drag|....|skim|pour 1 2|charge|shake 1|drag|...
//   furnace         |warm up ..........|charge|melt.....|skim|pour 1 2|charge|melt ...
//   flask 1         |drag|cope|draw|shut|....................|p|cool .......|shake|drag ...
//
// Most pressing first: pour, charge, ram what is begun, ram what is not, shake out. Nothing is ever
// broken off, every choice goes by number, so the same floor gives the same session. Boxes, sand
// and furnaces go to earlier loads first, so that no two loads can wait for each other.
#include <math.h>

#include "session/lay-state.h"

SessionWay
session_way(guint index)
{
    static const int patience[] = {2, 1, 0, 3};
    return (SessionWay){.patience = patience[index / 3 % 4],
                        .foresight = (int)(index % 3),
                        .shake_first = index / 12 % 2};
}

// Gives work to every free pair of hands. What one begins can call for another, so it goes round
// until nobody finds anything.
static void
dispatch(Lay *lay)
{
    gboolean found = TRUE;
    while (found) {
        found = FALSE;
        for (int who = 0; who < lay->floor->people; who++) {
            if (lay->hands[who] > lay->now)
                continue;
            if (lay_try_pour(lay, who) || lay_try_charge(lay, who) ||
                (lay->way->shake_first && lay_try_shake_out(lay, who)) || lay_try_ram(lay, who) ||
                lay_try_shake_out(lay, who))
                found = TRUE;
        }
    }
}

static void
consider(const Lay *lay, double time, double *next)
{
    if (time > lay->now && time < *next)
        *next = time;
}

static void
consider_furnaces(const Lay *lay, double *next)
{
    for (int i = 0; i < lay->floor->n_furnaces && lay->to_pour > 0; i++) {
        consider(lay, lay->furnaces[i].ready, next);
        if (lay->furnaces[i].load < 0)
            consider(lay, lay_find_charge_time(lay, i, TRUE), next);
        else
            consider(lay, lay_find_pour_pin(lay, lay->furnaces[i].load), next);
    }
}

// The next moment at which anything can change; INFINITY at the end. Boxes, benches and places are
// given back by hands, so their moments are those of the hands.
static double
find_next(const Lay *lay)
{
    double next = INFINITY;
    const SessionFloor *floor = lay->floor;
    for (int i = 0; i < floor->people; i++)
        consider(lay, lay->hands[i], &next);
    for (guint i = 0; i < lay->cooling->len; i++)
        consider(lay, lay->moulds[g_array_index(lay->cooling, int, i)].cooled, &next);
    consider_furnaces(lay, &next);
    consider(lay, floor->light_from, &next);
    for (guint i = 0; i < floor->n_pins; i++) {
        consider(lay, floor->pins[i].at, &next);
        if (floor->pins[i].kind == TASK_MELT)
            consider(lay, floor->pins[i].at - floor->charge, &next);
    }
    for (int i = 0; isfinite(floor->sand_ready) && lay->not_begun > 0 && i < lay->n_moulds; i++)
        consider(lay, lay_sand_back(lay, &lay->moulds[i]), &next);
    return next;
}

static guint
find_suited(const SessionFloor *floor, const SessionLoad *load)
{
    guint suits = 0;
    for (int i = 0; i < floor->n_furnaces; i++)
        if (session_load_suits(floor, load, i))
            suits |= 1u << i;
    return suits;
}

static void
number_moulds(Lay *lay)
{
    int last[SESSION_MOST_BOX_KINDS];
    for (int k = 0; k < SESSION_MOST_BOX_KINDS; k++)
        last[k] = lay->first_mould[k] = -1;
    int mould = 0;
    for (int i = 0; i < lay->n_loads; i++) {
        lay->loads[i] = (LayLoad){.suits = find_suited(lay->floor, &lay->what[i]),
                                  .furnace = -1,
                                  .first = mould,
                                  .who = -1,
                                  .molten = INFINITY};
        for (int kind = 0; kind < lay->floor->n_kinds; kind++) {
            int box = lay->floor->kinds[kind].box;
            for (int j = 0; j < lay->what[i].count[kind]; j++, mould++) {
                lay->moulds[mould] = (LayMould){.kind = kind,
                                                .load = i,
                                                .box = -1,
                                                .bench = -1,
                                                .place = -1,
                                                .cooled = INFINITY,
                                                .gone = INFINITY,
                                                .next = -1};
                if (last[box] >= 0)
                    lay->moulds[last[box]].next = mould;
                else
                    lay->first_mould[box] = mould;
                last[box] = mould;
            }
        }
        lay->loads[i].n = mould - lay->loads[i].first;
    }
}

static void
open_lay(Lay *lay)
{
    const SessionFloor *floor = lay->floor;
    for (int i = 0; i < lay->n_loads; i++)
        lay->n_moulds += session_load_moulds(floor, &lay->what[i]);
    lay->moulds = g_new(LayMould, MAX(lay->n_moulds, 1));
    lay->loads = g_new(LayLoad, MAX(lay->n_loads, 1));
    number_moulds(lay);
    int base = 0;
    for (int k = 0; k < floor->n_boxes; k++) {
        lay->boxes[k] = g_new0(double, MAX(floor->boxes[k], 1));
        lay->box_base[k] = base;
        base += floor->boxes[k];
    }
    lay->n_benches = MIN(floor->benches, MAX(lay->n_moulds, 1));
    lay->n_places = MIN(floor->places, MAX(lay->n_moulds, 1));
    lay->benches = g_new0(double, lay->n_benches);
    lay->places = g_new0(double, lay->n_places);
    lay->open = g_array_new(FALSE, FALSE, sizeof(int));
    lay->cooling = g_array_new(FALSE, FALSE, sizeof(int));
    lay->not_begun = lay->n_moulds;
    lay->to_pour = lay->n_loads;
    for (int i = 0; i < floor->n_furnaces; i++)
        lay->furnaces[i] = (LayFurnace){.load = -1, .ready = INFINITY};
    lay->plan = session_plan_new();
}

static void
close_lay(Lay *lay)
{
    g_free(lay->moulds);
    g_free(lay->loads);
    for (int k = 0; k < lay->floor->n_boxes; k++)
        g_free(lay->boxes[k]);
    g_free(lay->benches);
    g_free(lay->places);
    g_array_unref(lay->open);
    g_array_unref(lay->cooling);
}

static int
find_step(TaskKind kind)
{
    static const TaskKind kinds[LAY_STEPS] = {TASK_RAM_DRAG, TASK_RAM_COPE, TASK_DRAW, TASK_SHUT};
    for (int i = 0; i < LAY_STEPS; i++)
        if (kinds[i] == kind)
            return i;
    return -1;
}

static void
add_past(Lay *lay, const SessionPast *past)
{
    int step = find_step(past->kind), n = past->number;
    if (step >= 0) {
        lay_begin_step(lay, n, past->box, step, past->who, past->start, past->end);
    } else if (past->kind == TASK_SET_UP) {
        lay_begin_set_up(lay, past->start, past->end);
    } else if (past->kind == TASK_WARM_UP) {
        lay_begin_warm_up(lay, past->furnace, past->start, past->end);
        lay->furnaces[past->furnace].used = TRUE;
    } else if (past->kind == TASK_CHARGE) {
        lay_begin_charge(lay, past->furnace, n, past->who, past->start, past->end, past->molten);
    } else if (past->kind == TASK_SKIM) {
        lay_begin_skim(lay, n, past->who, past->start, past->end);
    } else if (past->kind == TASK_POUR) {
        lay_begin_pour(lay, n, past->who, past->start, past->end);
    } else if (past->kind == TASK_SHAKE_OUT) {
        lay_begin_shake_out(lay, n, past->who, past->start, past->end);
    } else if (past->kind == TASK_CLOSE) {
        lay_begin_close(lay, past->who, past->start, past->end);
    }
}

// Setting up and warming up, where they have not been done.
static void
begin_day(Lay *lay, const SessionStart *start)
{
    const SessionFloor *floor = lay->floor;
    gboolean set_up = FALSE;
    double ready = 0.0;
    lay->now = start ? start->now : 0.0;
    lay->shake = start ? start->shake : NULL;
    for (guint i = 0; start && i < start->n_past; i++) {
        add_past(lay, &start->past[i]);
        if (start->past[i].kind == TASK_SET_UP) {
            set_up = TRUE;
            ready = start->past[i].end;
        }
    }
    if (!set_up) {
        double from = MAX(lay->now, session_floor_pin(floor, TASK_SET_UP, 0));
        ready = from + floor->set_up;
        lay_begin_set_up(lay, from, ready);
    }
    for (int i = 0; i < floor->n_furnaces; i++) {
        if (isfinite(lay->furnaces[i].ready))
            continue;
        double from = MAX(MAX(ready, lay->now), session_floor_pin(floor, TASK_WARM_UP, i + 1));
        lay_begin_warm_up(lay, i, from, from + floor->furnaces[i].warm_up);
    }
}

// A furnace that gets no load is not switched on.
static void
drop_idle_furnaces(Lay *lay)
{
    GArray *tasks = lay->plan->tasks;
    for (guint i = tasks->len; i-- > 0;) {
        const SessionTask *task = &g_array_index(tasks, SessionTask, i);
        if (task->kind == TASK_WARM_UP && !lay->furnaces[task->furnace].used)
            g_array_remove_index(tasks, i);
    }
}

static gboolean
run(Lay *lay, double give_up)
{
    const SessionFloor *floor = lay->floor;
    double open_until = floor->hours * give_up - floor->closing;
    while (isfinite(lay->now)) {
        dispatch(lay);
        lay->now = find_next(lay);
        gboolean late = lay->to_pour > 0 && lay->now > open_until;
        gboolean held = lay->n_moulds > 1 && lay->plan->longest_held > SESSION_MOST_HELD;
        if (give_up > 0.0 && (late || held))
            return FALSE;
    }
    return lay->to_pour == 0;
}

// As `within`, for so many times the hours.
static gboolean
ends_in_time(const SessionPlan *plan, const SessionFloor *floor, double times)
{
    gboolean keeps_metal = plan->flasks == 1 || plan->longest_held <= SESSION_MOST_HELD;
    return plan->within || (plan->length <= floor->hours * times && keeps_metal);
}

SessionPlan *
session_lay(const SessionFloor *floor, const SessionLoad *loads, guint n_loads,
            const SessionWay *way, const SessionStart *start, double give_up)
{
    g_return_val_if_fail(floor && (loads || n_loads == 0) && way, NULL);
    for (guint i = 0; i < n_loads; i++)
        if (!session_load_is_possible(floor, &loads[i]))
            return NULL;
    Lay lay = {.floor = floor, .way = way, .what = loads, .n_loads = (int)n_loads};
    open_lay(&lay);
    begin_day(&lay, start);
    gboolean laid = run(&lay, give_up);
    if (laid) {
        drop_idle_furnaces(&lay);
        for (int i = 0; i < lay.n_moulds; i++)
            lay.plan->worth += floor->kinds[lay.moulds[i].kind].worth;
        lay.plan->loads = lay.n_loads;
        lay.plan->flasks = lay.n_moulds;
        session_plan_finish(lay.plan, floor);
    }
    close_lay(&lay);
    if (!laid || (give_up > 0.0 && !ends_in_time(lay.plan, floor, give_up)))
        g_clear_pointer(&lay.plan, session_plan_free);
    return lay.plan;
}
