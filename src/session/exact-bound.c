// SPDX-License-Identifier: GPL-3.0-or-later
// What no way on from a beginning of a session can beat, and whether the same beginning was looked
// at before.
#include <math.h>

#include "session/exact-state.h"

double
exact_free(const Exact *exact, const ExactState *state, int who)
{
    int last = state->hands[who];
    if (last >= 0)
        return exact_end(exact, state, last);
    return who == 0 ? exact->floor->set_up : 0.0;
}

double
exact_last_start(const ExactState *state)
{
    return state->n_tasks > 0 ? state->start[state->n_tasks - 1] : 0.0;
}

static double
get_ram_left(const Exact *exact, const ExactMould *mould)
{
    double left = 0.0;
    for (int s = mould->steps; s < 4; s++)
        left += exact->floor->kinds[mould->kind].ram[s];
    return left;
}

// When the mould's box can be empty again at the earliest.
static double
find_emptied(const Exact *exact, const ExactState *state, const ExactMould *mould)
{
    const SessionMould *kind = &exact->floor->kinds[mould->kind];
    if (mould->gone)
        return exact_end(exact, state, mould->last);
    if (mould->load >= 0)
        return state->start[state->loads[mould->load].tap] + mould->poured + kind->cool +
               kind->shake_out;
    return exact_last_start(state) + get_ram_left(exact, mould) + exact->floor->skim + kind->pour +
           kind->cool + kind->shake_out;
}

// Boxes of one kind turn round as fast as they can for the moulds not begun.
static double
find_box_bound(const Exact *exact, const ExactState *state, int box)
{
    double ready[EXACT_PLACES], bound = 0.0, ram = INFINITY, rest = INFINITY;
    int n = exact->n_boxes[box], to_begin = 0;
    for (int i = 0; i < n; i++)
        ready[i] = exact_last_start(state);
    for (int i = 0; i < exact->n_moulds; i++) {
        const ExactMould *mould = &state->moulds[i];
        const SessionMould *kind = &exact->floor->kinds[mould->kind];
        if (kind->box != box)
            continue;
        ram = MIN(ram, session_mould_work(kind) + exact->floor->skim);
        rest = MIN(rest, kind->cool + kind->shake_out);
        to_begin += mould->steps == 0;
        if (mould->steps > 0)
            ready[mould->box] = MAX(ready[mould->box], find_emptied(exact, state, mould));
    }
    for (; to_begin > 0; to_begin--) {
        int first = 0;
        for (int i = 1; i < n; i++)
            first = ready[i] < ready[first] ? i : first;
        bound = MAX(bound, ready[first] + ram);
        ready[first] += ram + rest;
    }
    return bound;
}

// Work left for hands and furnaces in the loads not charged yet.
static void
add_loads_left(const Exact *exact, const ExactState *state, double *hands, double *furnaces)
{
    const SessionFloor *floor = exact->floor;
    for (int m = 0; m < floor->n_metals; m++) {
        double kg = 0.0, holds = 0.0, melt = INFINITY;
        for (int f = 0; f < floor->n_furnaces; f++) {
            holds = MAX(holds, floor->furnaces[f].holds[m]);
            if (floor->furnaces[f].holds[m] > 0.0)
                melt = MIN(melt, floor->furnaces[f].melt[m]);
        }
        for (int k = 0; k < floor->n_kinds; k++) {
            int left = floor->kinds[k].metal == m ? exact->counts[k] - state->allotted[k] : 0;
            kg += left * floor->kinds[k].kg;
            *furnaces += left * floor->kinds[k].pour;
        }
        double loads = kg > 0.0 ? ceil(kg / holds - 1e-9) : 0.0;
        *hands += loads * (floor->charge + floor->skim);
        *furnaces += loads * (floor->charge + floor->skim) + (kg > 0.0 ? kg * melt : 0.0);
    }
}

// When the furnace can be charged again at the earliest.
static double
find_furnace_free(const Exact *exact, const ExactState *state, int furnace)
{
    const SessionFloor *floor = exact->floor;
    if (state->in_furnace[furnace] >= 0) {
        const ExactLoad *load = &state->loads[state->in_furnace[furnace]];
        double free = exact_end(exact, state, load->charge) + load->melt + floor->skim;
        for (int k = 0; k < floor->n_kinds; k++)
            free += load->what.count[k] * floor->kinds[k].pour;
        return free;
    }
    if (state->furnaces[furnace] >= 0)
        return exact_end(exact, state, state->furnaces[furnace]);
    return floor->set_up + floor->furnaces[furnace].warm_up;
}

// Ramming and pouring that is left; the longest of it alone is a bound too.
static double
add_moulds_left(const Exact *exact, const ExactState *state, double *hands)
{
    double longest = 0.0;
    for (int i = 0; i < exact->n_moulds; i++) {
        const ExactMould *mould = &state->moulds[i];
        double chain = get_ram_left(exact, mould);
        double pour = exact->floor->kinds[mould->kind].pour;
        if (mould->load >= 0)
            continue;
        *hands += chain + pour;
        longest = MAX(longest, chain + pour + (chain > 0.0 ? exact->floor->skim : 0.0));
    }
    return longest;
}

double
exact_bound(const Exact *exact, const ExactState *state)
{
    const SessionFloor *floor = exact->floor;
    double from = exact_last_start(state), hands = 0.0, furnaces = 0.0;
    double bound = from + add_moulds_left(exact, state, &hands);
    gboolean charges = FALSE;
    add_loads_left(exact, state, &hands, &furnaces);
    for (int k = 0; k < floor->n_kinds; k++)
        charges = charges || state->allotted[k] < exact->counts[k];
    for (int f = 0; f < floor->n_furnaces; f++) {
        double free = find_furnace_free(exact, state, f);
        furnaces += free;
        if (state->in_furnace[f] < 0)
            continue;
        hands += floor->skim;
        bound = MAX(bound, free);
    }
    for (int who = 0; who < exact->people; who++)
        hands += MAX(exact_free(exact, state, who), from);
    for (int box = 0; box < floor->n_boxes; box++)
        bound = MAX(bound, find_box_bound(exact, state, box));
    if (charges)
        bound = MAX(bound, furnaces / floor->n_furnaces);
    return MAX(bound, hands / exact->people);
}

static guint64
mix(guint64 value)
{
    value = (value ^ (value >> 30)) * G_GUINT64_CONSTANT(0xbf58476d1ce4e5b9);
    value = (value ^ (value >> 27)) * G_GUINT64_CONSTANT(0x94d049bb133111eb);
    return value ^ (value >> 31);
}

// To a tenth of a millisecond.
static guint64
mix_time(guint64 what, double time)
{
    return mix(mix(what) + (guint64)(gint64)llround(time * 1e4));
}

// The same tasks begun at the same times, whatever the order and the hands, have the same future.
// A sum, so that order does not count; 64 bits of it are taken for the state itself.
static guint64
digest_state(const Exact *exact, const ExactState *state)
{
    guint64 sum = 1;
    for (int i = 0; i < state->n_tasks; i++) {
        const ExactTask *task = &exact->tasks[i];
        guint64 what = ((guint64)task->kind << 24) + ((guint64)(task->mould + 1) << 16) +
                       ((guint64)task->step << 12) + ((guint64)(task->furnace + 1) << 8);
        if (task->load >= 0)
            for (int k = 0; k < exact->floor->n_kinds; k++)
                what = mix(what + (guint64)state->loads[task->load].what.count[k]);
        sum += mix_time(what, state->start[i]);
    }
    guint waiting = exact_waiting(exact, state);
    for (int who = 0; who < exact->people; who++) {
        int last = state->hands[who];
        guint taint = last >= 0 ? exact->tasks[last].taint & waiting : 0;
        double free = MAX(exact_free(exact, state, who), exact_last_start(state));
        sum += mix_time(G_GUINT64_CONSTANT(1) << 40 | taint, free);
    }
    return sum ? sum : 1;
}

gboolean
exact_was_seen(Exact *exact, const ExactState *state)
{
    guint64 digest = digest_state(exact, state);
    for (guint i = (guint)digest % EXACT_SEEN;; i = (i + 1) % EXACT_SEEN) {
        if (exact->seen[i] == digest)
            return TRUE;
        if (exact->seen[i] == 0) {
            exact->seen[i] = digest;
            return FALSE;
        }
    }
}
