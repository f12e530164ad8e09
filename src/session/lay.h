// SPDX-License-Identifier: GPL-3.0-or-later
// Laying loads out over a floor, minute by minute, in one of a fixed set of ways.
#pragma once

#include "session/floor.h"

G_BEGIN_DECLS

// A session laid out. The tasks are as in SessionResult, in order of start.
typedef struct {
    GArray *tasks; // of SessionTask; what they hold is freed with it
    int loads, flasks;
    double worth;        // of all its moulds
    int left_to_cool;    // flasks still closed at the end, shaken out before the next session
    double length;       // s, to the end of closing
    double last_pour;    // s
    double held;         // s, molten metal waiting for its flasks, all loads
    double longest_held; // s, the load that waits longest
    double person_time;  // s, all hands
    double furnace_time; // s, all furnaces: warming, charging, melting, skimming, pouring
    double box_time, bench_time, place_time; // s, all of them, to the end of the session
    SessionPackHow packed;                   // how its loads were found
    gboolean proved;     // no session of these moulds pours the last of them sooner
    gboolean within;     // ends within the hours and the light, and holds no metal too long
    gboolean past_light; // it is laid as if the light did not end
} SessionPlan;

void session_plan_free(SessionPlan *session); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(SessionPlan, session_plan_free)

// How hands choose.
typedef struct {
    int patience;         // 0: a load is charged at once; 1: just before its last moulds are begun;
                          // 2: so that they will be shut when it is molten; 3: when all are shut
    int foresight;        // 0: hands take what is at hand; 1: they wait for a pour that falls
                          // within the next piece of work; 2: for a charge too
    gboolean shake_first; // shake out what is cool before ramming
    gboolean begun_first; // loads whose moulds are all begun go before others, whatever the order;
                          // not among the numbered ways
} SessionWay;

// A fixed number of ways, by index.
#define SESSION_WAYS 24
SessionWay session_way(guint index);

// What has happened already, to plan the rest from.
typedef struct {
    TaskKind kind;     // not TASK_MELT and TASK_COOL, which follow by themselves
    int number;        // of mould or load, from 0; -1 for kinds without
    int furnace, box;  // which it took, the box within its kind; -1 if none
    int who;           // -1 if none
    double start, end; // both known
    double molten;     // of TASK_CHARGE: when its metal is or will be
} SessionPast;

typedef struct {
    const SessionPast *past; // in order of start; a load's tasks and a mould's without gaps
    guint n_past;
    double now;            // nothing else begins before
    const gboolean *shake; // which moulds are shaken out, whatever the hours; NULL: as they allow
} SessionStart;

// Lays out the loads, in this order where there is a choice; their moulds are numbered load by load
// and within a load by kind. `start` NULL: from the beginning. `give_up` 0: it is laid to its end,
// however late; else NULL as soon as so many times the hours, or the metal, are seen not to do.
// NULL too when a load is not possible on this floor, or cannot be poured for lack of light or of
// sand.
SessionPlan *session_lay(const SessionFloor *floor, const SessionLoad *loads, guint n_loads,
                         const SessionWay *way, const SessionStart *start, double give_up);

// Adds a task with hands and furnace booked in the sums. For those who make plans otherwise.
SessionPlan *session_plan_new(void);
// Puts the tasks in order, adds closing, and works out lengths, sums and `within` from the tasks.
// Closing is by the first pair of hands, after everything by hand and after the last pour.
void session_plan_finish(SessionPlan *session, const SessionFloor *floor);

G_END_DECLS
