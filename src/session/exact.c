// SPDX-License-Identifier: GPL-3.0-or-later
// Branch and bound over the order in which work is begun. Any session is found by taking its tasks
// in order of start, so trying each possible next task, again and again, misses none. What is left
// out cannot be better: a task that could have begun before the one last begun (its turn was
// earlier), the second of two pairs of hands that are both free, a later mould of the same kind.
#include "session/exact.h"

#include <math.h>
#include <string.h>

#include "session/exact-state.h"

#define MOST_NODES 40000
#define TIE 1e-7

static void search(Exact *exact, const ExactState *state);

gboolean
session_exact_is_small(const SessionFloor *floor, const int *counts)
{
    g_return_val_if_fail(floor && counts, FALSE);
    int moulds = session_count(floor, counts);
    return moulds > 0 && moulds <= SESSION_EXACT_MOULDS && floor->n_pins == 0 &&
           !isfinite(floor->sand_ready);
}

typedef void (*Apply)(Exact *exact, ExactState *state, const ExactTask *task, int index);

// The task with one pair of hands, and all that follows.
static void
branch_with(Exact *exact, const ExactState *state, ExactTask task, int who, Apply apply)
{
    guint taint;
    task.who = who;
    if (state->hands[who] >= 0)
        exact_add_arc(&task, state->hands[who], exact->tasks[state->hands[who]].duration);
    else
        task.least = MAX(task.least, exact_free(exact, state, who));
    double natural = exact_natural(exact, state, &task, &taint);
    gboolean may_wait = taint != 0 || (task.kind == EXACT_CHARGE && isfinite(exact->most_held));
    if (natural < exact_last_start(state) - TIE && !may_wait)
        return;
    ExactState next = *state;
    next.hands[who] = next.n_tasks;
    int index = next.n_tasks;
    apply(exact, &next, &task, index);
    if (exact_append(exact, &next, &task))
        search(exact, &next);
}

// With each pair of hands that makes a difference. Of those whose times are settled it is the one
// free first: were it another, the two could change places for the rest of the day.
static void
branch(Exact *exact, const ExactState *state, const ExactTask *task, Apply apply)
{
    guint waiting = exact_waiting(exact, state);
    int first = -1;
    for (int who = 0; who < exact->people && !exact->stopped; who++) {
        int last = state->hands[who];
        if (last >= 0 && (exact->tasks[last].taint & waiting) != 0)
            branch_with(exact, state, *task, who, apply);
        else if (first < 0 || exact_free(exact, state, who) < exact_free(exact, state, first))
            first = who;
    }
    if (first >= 0 && !exact->stopped)
        branch_with(exact, state, *task, first, apply);
}

static void
apply_step(Exact *exact, ExactState *state, const ExactTask *task, int index)
{
    ExactMould *mould = &state->moulds[task->mould];
    int box = exact->floor->kinds[mould->kind].box;
    if (task->step == 0) {
        mould->box = exact_free_unit(exact, state, state->boxes[box], exact->n_boxes[box]);
        mould->bench = exact_free_unit(exact, state, state->benches, exact->n_benches);
        state->boxes[box][mould->box] = state->benches[mould->bench] = -2;
    } else if (task->step == 2) {
        state->benches[mould->bench] = index;
    }
    mould->steps++;
    mould->last = index;
}

// The next step of each mould begun; of moulds of a kind that are equally far, the first.
static void
branch_steps(Exact *exact, const ExactState *state)
{
    for (int i = 0; i < exact->n_moulds && !exact->stopped; i++) {
        const ExactMould *mould = &state->moulds[i];
        if (mould->steps == 0 || mould->steps >= 4)
            continue;
        ExactTask task = {.kind = EXACT_STEP,
                          .mould = i,
                          .step = mould->steps,
                          .load = -1,
                          .furnace = -1,
                          .duration = exact->floor->kinds[mould->kind].ram[mould->steps]};
        exact_add_arc(&task, mould->last, exact->tasks[mould->last].duration);
        branch(exact, state, &task, apply_step);
    }
}

static void
branch_begin(Exact *exact, const ExactState *state)
{
    int done = -1; // the last kind tried
    for (int i = 0; i < exact->n_moulds && !exact->stopped; i++) {
        const ExactMould *mould = &state->moulds[i];
        if (mould->steps > 0 || mould->kind == done)
            continue;
        done = mould->kind;
        int box = exact->floor->kinds[mould->kind].box;
        int in = exact_free_unit(exact, state, state->boxes[box], exact->n_boxes[box]);
        int on = exact_free_unit(exact, state, state->benches, exact->n_benches);
        if (in < 0 || on < 0)
            continue;
        ExactTask task = {.kind = EXACT_STEP,
                          .mould = i,
                          .load = -1,
                          .furnace = -1,
                          .duration = exact->floor->kinds[mould->kind].ram[0]};
        int emptied = state->boxes[box][in], cleared = state->benches[on];
        exact_add_arc(&task, emptied, emptied < 0 ? 0 : exact->tasks[emptied].duration);
        exact_add_arc(&task, cleared, cleared < 0 ? 0 : exact->tasks[cleared].duration);
        branch(exact, state, &task, apply_step);
    }
}

static void
apply_charge(Exact *exact, ExactState *state, const ExactTask *task, int index)
{
    ExactLoad *load = &state->loads[task->load];
    load->charge = index;
    state->in_furnace[task->furnace] = task->load;
    state->n_loads++;
    for (int k = 0; k < exact->floor->n_kinds; k++)
        state->allotted[k] += load->what.count[k];
}

static void
branch_charge(Exact *exact, ExactState *state, int furnace, const SessionLoad *what)
{
    ExactLoad *load = &state->loads[state->n_loads];
    *load = (ExactLoad){.what = *what,
                        .furnace = furnace,
                        .tap = -1,
                        .melt = session_load_melt(exact->floor, what, furnace)};
    double warm = exact->floor->set_up + exact->floor->furnaces[furnace].warm_up;
    ExactTask task = {.kind = EXACT_CHARGE,
                      .mould = -1,
                      .load = state->n_loads,
                      .furnace = furnace,
                      .duration = exact->floor->charge,
                      .least = warm};
    int before = state->furnaces[furnace];
    exact_add_arc(&task, before, before < 0 ? 0 : exact->tasks[before].duration);
    branch(exact, state, &task, apply_charge);
}

// All loads of a metal, largest first, kind by kind.
static void
branch_loads(Exact *exact, ExactState *state, int furnace, SessionLoad *what, int kind)
{
    const SessionFloor *floor = exact->floor;
    if (exact->stopped)
        return;
    if (kind == floor->n_kinds) {
        if (session_load_moulds(floor, what) > 0)
            branch_charge(exact, state, furnace, what);
        return;
    }
    int left = floor->kinds[kind].metal == what->metal ? exact->counts[kind] - state->allotted[kind]
                                                       : 0;
    for (int n = left; n >= 0; n--) {
        what->count[kind] = n;
        if (n == 0 ||
            (session_load_suits(floor, what, furnace) && session_load_is_possible(floor, what)))
            branch_loads(exact, state, furnace, what, kind + 1);
    }
    what->count[kind] = 0;
}

static void
branch_charges(Exact *exact, const ExactState *state)
{
    const SessionFloor *floor = exact->floor;
    for (int f = 0; f < floor->n_furnaces && !exact->stopped; f++) {
        if (state->in_furnace[f] >= 0)
            continue;
        for (int metal = 0; metal < floor->n_metals; metal++) {
            SessionLoad what = {.metal = metal};
            ExactState next = *state;
            branch_loads(exact, &next, f, &what, 0);
        }
    }
}

// Picks the moulds of a load that is tapped: the first shut of each kind. FALSE while some are
// missing.
static gboolean
pick_moulds(const Exact *exact, const ExactState *state, const ExactLoad *load,
            int picked[SESSION_EXACT_MOULDS], int *n_picked)
{
    int n = 0;
    for (int k = 0; k < exact->floor->n_kinds; k++) {
        int missing = load->what.count[k];
        for (int i = 0; i < exact->n_moulds && missing > 0; i++) {
            const ExactMould *mould = &state->moulds[i];
            if (mould->kind != k || mould->steps < 4 || mould->load >= 0)
                continue;
            picked[n++] = i;
            missing--;
        }
        if (missing > 0)
            return FALSE;
    }
    *n_picked = n;
    return TRUE;
}

static void
apply_tap(Exact *exact, ExactState *state, const ExactTask *task, int index)
{
    int picked[SESSION_EXACT_MOULDS], n = 0;
    ExactLoad *load = &state->loads[task->load];
    double at = exact->floor->skim;
    pick_moulds(exact, state, load, picked, &n);
    for (int i = 0; i < n; i++) {
        ExactMould *mould = &state->moulds[picked[i]];
        at += exact->floor->kinds[mould->kind].pour;
        mould->load = task->load;
        mould->poured = at;
        mould->place = exact_free_unit(exact, state, state->places, exact->n_places);
        state->places[mould->place] = -2;
    }
    load->tap = index;
    state->in_furnace[load->furnace] = -1;
    state->furnaces[load->furnace] = index;
}

// One place for each mould, the first to be free. FALSE when there are not so many.
static gboolean
add_places(const Exact *exact, const ExactState *state, int n, ExactTask *task)
{
    int places[EXACT_PLACES];
    memcpy(places, state->places, sizeof places);
    for (int i = 0; i < n; i++) {
        int place = exact_free_unit(exact, state, places, exact->n_places);
        if (place < 0)
            return FALSE;
        if (places[place] >= 0)
            exact_add_arc(task, places[place], exact->tasks[places[place]].duration);
        places[place] = -2;
    }
    return TRUE;
}

static void
branch_taps(Exact *exact, const ExactState *state)
{
    for (int f = 0; f < exact->floor->n_furnaces && !exact->stopped; f++) {
        int picked[SESSION_EXACT_MOULDS], n = 0;
        if (state->in_furnace[f] < 0)
            continue;
        const ExactLoad *load = &state->loads[state->in_furnace[f]];
        if (!pick_moulds(exact, state, load, picked, &n))
            continue;
        ExactTask task = {.kind = EXACT_TAP,
                          .mould = -1,
                          .load = state->in_furnace[f],
                          .furnace = f,
                          .duration = exact->floor->skim};
        exact_add_arc(&task, load->charge, exact->floor->charge + load->melt);
        for (int i = 0; i < n; i++) {
            const ExactMould *mould = &state->moulds[picked[i]];
            task.duration += exact->floor->kinds[mould->kind].pour;
            exact_add_arc(&task, mould->last, exact->tasks[mould->last].duration);
        }
        if (add_places(exact, state, n, &task))
            branch(exact, state, &task, apply_tap);
    }
}

static void
apply_shake_out(Exact *exact, ExactState *state, const ExactTask *task, int index)
{
    ExactMould *mould = &state->moulds[task->mould];
    int box = exact->floor->kinds[mould->kind].box;
    mould->gone = TRUE;
    mould->last = index;
    state->boxes[box][mould->box] = index;
    state->places[mould->place] = index;
}

// TRUE if something still waits for the mould's box or place.
static gboolean
is_needed(const Exact *exact, const ExactState *state, const ExactMould *mould)
{
    int box = exact->floor->kinds[mould->kind].box, to_pour = 0, free = 0;
    for (int i = 0; i < exact->n_moulds; i++) {
        const ExactMould *other = &state->moulds[i];
        to_pour += other->load < 0;
        if (other->steps == 0 && exact->floor->kinds[other->kind].box == box)
            return TRUE;
    }
    for (int i = 0; i < exact->n_places; i++)
        free += state->places[i] != -2;
    return free < to_pour;
}

static void
branch_shake_outs(Exact *exact, const ExactState *state)
{
    for (int i = 0; i < exact->n_moulds && !exact->stopped; i++) {
        const ExactMould *mould = &state->moulds[i];
        if (mould->load < 0 || mould->gone || !is_needed(exact, state, mould))
            continue;
        const SessionMould *kind = &exact->floor->kinds[mould->kind];
        ExactTask task = {.kind = EXACT_SHAKE_OUT,
                          .mould = i,
                          .load = -1,
                          .furnace = -1,
                          .duration = kind->shake_out};
        exact_add_arc(&task, state->loads[mould->load].tap, mould->poured + kind->cool);
        branch(exact, state, &task, apply_shake_out);
    }
}

static gboolean
is_done(const Exact *exact, const ExactState *state)
{
    for (int i = 0; i < exact->n_moulds; i++)
        if (state->moulds[i].load < 0)
            return FALSE;
    return TRUE;
}

static void
keep_best(Exact *exact, const ExactState *state)
{
    double last = 0.0;
    for (int i = 0; i < state->n_loads; i++)
        last = MAX(last, exact_end(exact, state, state->loads[i].tap));
    if (last >= exact->until - TIE)
        return;
    exact->until = last;
    exact->best = *state;
    memcpy(exact->best_tasks, exact->tasks, sizeof exact->best_tasks);
    exact->found = TRUE;
}

static void
search(Exact *exact, const ExactState *state)
{
    if (is_done(exact, state)) {
        keep_best(exact, state);
        return;
    }
    if (++exact->nodes > MOST_NODES)
        exact->stopped = TRUE;
    if (exact->nodes % 256 == 0 && progress_stopped(exact->progress))
        exact->stopped = exact->cancelled = TRUE;
    if (exact->stopped || exact_bound(exact, state) >= exact->until - TIE ||
        exact_was_seen(exact, state))
        return;
    branch_taps(exact, state);
    branch_steps(exact, state);
    branch_begin(exact, state);
    branch_charges(exact, state);
    branch_shake_outs(exact, state);
}

static void
fill_units(int *units)
{
    for (int i = 0; i < EXACT_PLACES; i++)
        units[i] = -1;
}

static void
open_state(const Exact *exact, ExactState *state)
{
    memset(state, 0, sizeof *state);
    for (int i = 0; i < SESSION_MOST_PEOPLE; i++)
        state->hands[i] = -1;
    for (int i = 0; i < SESSION_MOST_FURNACES; i++)
        state->furnaces[i] = state->in_furnace[i] = -1;
    for (int i = 0; i < SESSION_MOST_BOX_KINDS; i++)
        fill_units(state->boxes[i]);
    fill_units(state->benches);
    fill_units(state->places);
    int mould = 0;
    for (int k = 0; k < exact->floor->n_kinds; k++)
        for (int i = 0; i < exact->counts[k]; i++)
            state->moulds[mould++] = (ExactMould){
                .kind = k, .box = -1, .bench = -1, .place = -1, .last = -1, .load = -1};
}

gboolean
session_exact(const SessionFloor *floor, const int *counts, double least, SessionExact *result,
              Progress *progress, GError **error)
{
    g_return_val_if_fail(session_exact_is_small(floor, counts) && result, FALSE);
    g_autofree Exact *exact = g_new0(Exact, 1);
    g_autofree guint64 *seen = g_new0(guint64, EXACT_SEEN);
    exact->seen = seen;
    exact->floor = floor;
    exact->counts = counts;
    exact->progress = progress;
    exact->n_moulds = session_count(floor, counts);
    exact->people = MIN(floor->people, SESSION_MOST_PEOPLE);
    exact->n_benches = MIN(floor->benches, EXACT_PLACES);
    exact->n_places = MIN(floor->places, EXACT_PLACES);
    for (int i = 0; i < floor->n_boxes; i++)
        exact->n_boxes[i] = MIN(floor->boxes[i], EXACT_PLACES);
    exact->most_held = exact->n_moulds == 1 ? INFINITY : SESSION_MOST_HELD;
    exact->until = MIN(least, floor->hours - floor->closing + 1e-6);
    ExactState state;
    open_state(exact, &state);
    if (progress_check(progress, error))
        search(exact, &state);
    else
        return FALSE;
    if (exact->cancelled && !progress_check(progress, error))
        return FALSE;
    *result = (SessionExact){.session = exact->found ? exact_make_plan(exact) : NULL,
                             .proved = !exact->stopped,
                             .bound = exact->until,
                             .nodes = exact->nodes};
    return TRUE;
}
