// SPDX-License-Identifier: GPL-3.0-or-later
// A beginning of a session: tasks in the order in which they are begun, and what they hold. Private
// to exact*.c.
#pragma once

#include "session/exact.h"

G_BEGIN_DECLS

#define EXACT_TASKS 64
#define EXACT_ARCS 12
#define EXACT_SEEN (1u << 17)             // more than twice the nodes looked at
#define EXACT_PLACES SESSION_EXACT_MOULDS // of anything, no more are ever of use

typedef enum {
    EXACT_STEP, // of ramming
    EXACT_CHARGE,
    EXACT_TAP, // skimming and all pours of a load
    EXACT_SHAKE_OUT,
} ExactKind;

// Starts no sooner than the start of `from` plus `lag`.
typedef struct {
    int from;
    double lag;
} ExactArc;

typedef struct {
    ExactKind kind;
    int mould, step;   // EXACT_STEP, EXACT_SHAKE_OUT
    int load, furnace; // EXACT_CHARGE, EXACT_TAP
    int who;
    double duration;
    double least; // s, whatever else
    ExactArc arcs[EXACT_ARCS];
    int n_arcs;
    guint taint; // furnaces whose charge may still move back and this with it
} ExactTask;

typedef struct {
    int kind, box, bench, place;
    int steps;     // begun
    int last;      // task: the step begun last, then the shake-out
    int load;      // that poured it; -1
    double poured; // from the start of the tap to the end of its pour
    gboolean gone;
} ExactMould;

typedef struct {
    SessionLoad what;
    int furnace, charge, tap; // tasks; tap -1 before
    double melt;
} ExactLoad;

// Copied at every branching.
typedef struct {
    int n_tasks, n_loads;
    double start[EXACT_TASKS];
    double delay[EXACT_TASKS];             // least starts of charges that had to move back
    int hands[SESSION_MOST_PEOPLE];        // last task of each pair; -1
    int furnaces[SESSION_MOST_FURNACES];   // last tap in it; -1
    int in_furnace[SESSION_MOST_FURNACES]; // load; -1
    ExactMould moulds[SESSION_EXACT_MOULDS];
    ExactLoad loads[SESSION_EXACT_MOULDS];
    int boxes[SESSION_MOST_BOX_KINDS][EXACT_PLACES]; // task that empties it; -1: never taken;
                                                     // -2: taken
    int benches[EXACT_PLACES], places[EXACT_PLACES]; // as boxes
    int allotted[SESSION_MOST_KINDS];                // moulds of each kind in loads
} ExactState;

typedef struct {
    const SessionFloor *floor;
    const int *counts;
    int n_moulds;
    int n_boxes[SESSION_MOST_BOX_KINDS], n_benches, n_places, people;
    double most_held;
    double until; // a last pour must end before
    ExactTask tasks[EXACT_TASKS];
    // The best so far.
    ExactTask best_tasks[EXACT_TASKS];
    ExactState best;
    gboolean found, stopped, cancelled;
    guint nodes;
    guint64 *seen; // digests of states that were looked at, by digest; 0: free
    Progress *progress;
} Exact;

double exact_end(const Exact *exact, const ExactState *state, int task);
// Puts `task` behind the others with hands `who`, and moves charges back where metal would be held
// too long. FALSE when it cannot be, ends too late or in the dark.
gboolean exact_append(Exact *exact, ExactState *state, const ExactTask *task);
void exact_add_arc(ExactTask *task, int from, double lag);
// Furnaces whose charge may still move back: a load is in them.
guint exact_waiting(const Exact *exact, const ExactState *state);
// When it would start for what it waits for but hands and the order, with the taint of all that.
double exact_natural(const Exact *exact, const ExactState *state, const ExactTask *task,
                     guint *taint);
// The unit of `n` that is free first; -1 when all are taken.
int exact_free_unit(const Exact *exact, const ExactState *state, const int *units, int n);
// When the hands are free, and when the task begun last begins; 0 at first.
double exact_free(const Exact *exact, const ExactState *state, int who);
double exact_last_start(const ExactState *state);
// The last pour is no sooner, however it goes on: hands, furnaces and boxes each share what is left
// to do evenly and wait for nothing.
double exact_bound(const Exact *exact, const ExactState *state);
// TRUE the second time a state comes by.
gboolean exact_was_seen(Exact *exact, const ExactState *state);
// The session of the best found, with shaking out as time allows.
SessionPlan *exact_make_plan(const Exact *exact);

G_END_DECLS
