// SPDX-License-Identifier: GPL-3.0-or-later
// Times of a beginning of a session: the longest path through what waits for what.
#include <math.h>

#include "session/exact-state.h"

#define TIE 1e-7

double
exact_end(const Exact *exact, const ExactState *state, int task)
{
    return state->start[task] + exact->tasks[task].duration;
}

void
exact_add_arc(ExactTask *task, int from, double lag)
{
    g_return_if_fail(task->n_arcs < EXACT_ARCS);
    if (from >= 0)
        task->arcs[task->n_arcs++] = (ExactArc){from, lag};
}

guint
exact_waiting(const Exact *exact, const ExactState *state)
{
    guint furnaces = 0;
    for (int i = 0; i < exact->floor->n_furnaces; i++)
        if (state->in_furnace[i] >= 0)
            furnaces |= 1u << i;
    return isfinite(exact->most_held) ? furnaces : 0;
}

double
exact_natural(const Exact *exact, const ExactState *state, const ExactTask *task, guint *taint)
{
    double start = MAX(task->least, exact->floor->light_from);
    guint touched = 0;
    for (int i = 0; i < task->n_arcs; i++) {
        start = MAX(start, state->start[task->arcs[i].from] + task->arcs[i].lag);
        touched |= exact->tasks[task->arcs[i].from].taint;
    }
    *taint = touched & exact_waiting(exact, state);
    return start;
}

int
exact_free_unit(const Exact *exact, const ExactState *state, const int *units, int n)
{
    int best = -1;
    double earliest = INFINITY;
    for (int i = 0; i < n; i++) {
        if (units[i] == -2)
            continue;
        double free = units[i] < 0 ? -1.0 : exact_end(exact, state, units[i]);
        if (free < earliest) {
            best = i;
            earliest = free;
        }
    }
    return best;
}

// All starts, in order; each also no sooner than the one before it.
static void
settle(const Exact *exact, ExactState *state, int from)
{
    for (int i = from; i < state->n_tasks; i++) {
        const ExactTask *task = &exact->tasks[i];
        double start = MAX(MAX(task->least, state->delay[i]), exact->floor->light_from);
        if (i > 0)
            start = MAX(start, state->start[i - 1]);
        for (int j = 0; j < task->n_arcs; j++)
            start = MAX(start, state->start[task->arcs[j].from] + task->arcs[j].lag);
        state->start[i] = start;
    }
}

// Moves the first charge back whose metal is held too long; TRUE if there was one.
static gboolean
move_charge(const Exact *exact, ExactState *state)
{
    for (int i = 0; i < state->n_loads; i++) {
        const ExactLoad *load = &state->loads[i];
        if (load->tap < 0)
            continue;
        double reach = exact->floor->charge + load->melt + exact->most_held;
        double least = state->start[load->tap] - reach;
        if (state->start[load->charge] < least - TIE) {
            state->delay[load->charge] = least;
            settle(exact, state, load->charge);
            return TRUE;
        }
    }
    return FALSE;
}

static gboolean
is_in_time(const Exact *exact, const ExactState *state)
{
    for (int i = 0; i < state->n_tasks; i++) {
        double end = exact_end(exact, state, i);
        if (end > exact->floor->light_to + TIE)
            return FALSE;
        if (exact->tasks[i].kind != EXACT_SHAKE_OUT && end >= exact->until - TIE)
            return FALSE;
    }
    return TRUE;
}

gboolean
exact_append(Exact *exact, ExactState *state, const ExactTask *task)
{
    if (state->n_tasks == EXACT_TASKS)
        return FALSE;
    int index = state->n_tasks++;
    exact->tasks[index] = *task;
    guint touched = task->kind == EXACT_CHARGE ? 1u << task->furnace : 0;
    exact_natural(exact, state, task, &exact->tasks[index].taint);
    exact->tasks[index].taint |= touched;
    state->delay[index] = 0.0;
    settle(exact, state, index);
    int rounds = 0;
    while (isfinite(exact->most_held) && move_charge(exact, state))
        if (++rounds > 2 * SESSION_EXACT_MOULDS + 2) // each waits for the other
            return FALSE;
    return is_in_time(exact, state);
}
