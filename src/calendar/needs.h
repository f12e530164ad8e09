// SPDX-License-Identifier: GPL-3.0-or-later
// What has to be in the shop, and by when: ingot, sand, crucibles and printed patterns. All of it
// is to be there on the morning of the session that first needs it.
//
// Ingot. A session melts what its flasks hold, the reserve of every load and a heel, more by the
// melt loss. What is neither lost nor in the castings comes back as returns and is charged before
// ingot from the next session on. Castings that turn out bad are not counted on as returns, and
// nothing is counted on that lies in the shop already.
//
// Sand. Heap enough for the flasks closed at one time; what each use burns off is made up in whole
// boxes when the heap no longer does.
//
// Crucibles. One that has had the least number of firings its kind bears is replaced before the
// session; each session is one firing.
#pragma once

#include "calendar/batch.h"

G_BEGIN_DECLS

// A job's needs. Masses in kg, prices a kg; NAN: not known.
typedef struct {
    const char *metal; // id
    int flasks_per_load, cavities;
    double poured;                       // in one flask
    double casting;                      // one, cut from its gates
    double loss, reserve, reserve_least; // share; share; kg a load
    double heel;                         // kg
    double price;                        // of ingot
    double sand;                         // in one flask
    int boxes;                           // flasks of its kind
    int crucible;                        // into the crucibles
    double print_time;                   // s, all its patterns
} CalendarStuff;

typedef struct {
    const char *id;
    double firings, life; // so far; that its kind bears at the least
    double price;
} CalendarCrucible;

typedef struct {
    double loss;  // share of what a flask holds, each use
    double box;   // kg
    double price; // a kg
} CalendarSand;

typedef enum {
    NEED_PATTERNS,
    NEED_CRUCIBLE,
    NEED_INGOT,
    NEED_SAND,
} CalendarNeedKind;

typedef struct {
    CalendarNeedKind kind;
    guint session;    // into the sessions, the first that needs it
    guint32 by;       // Julian, its day
    const char *what; // id of metal or crucible; NULL for sand and patterns
    int job;          // patterns: whose; else -1
    double amount;    // kg; crucibles: 1; patterns: sets, 1
    double so_far;    // with all before it of the same kind and what
    double returns;   // ingot: kg of returns charged beside it
    double cost;      // NAN: not known
    guint32 begin;    // patterns: the day on which printing has to begin; 0: not known
} CalendarNeed;

typedef struct {
    double charged;      // kg into the furnace, all sessions
    double returns_used; // kg of it that came back from earlier sessions
    double returns_left; // kg after the last session
    double ingot;        // kg
    double sand;         // kg
    int crucibles;
    double cost_ingot, cost_sand, cost_crucibles;
} CalendarTotals;

typedef struct {
    GArray *needs;   // of CalendarNeed, by session, then kind
    GArray *charges; // of double, kg charged by each session
    CalendarTotals totals;
} CalendarNeeds;

void calendar_needs_free(CalendarNeeds *needs); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(CalendarNeeds, calendar_needs_free)

// kg to charge for so many flasks of a job in one session: full loads and one that is not,
//   (flasks * poured + sum over loads of max(reserve * load, reserve_least) + heel) / (1 - loss).
double calendar_needs_charge(const CalendarStuff *stuff, int flasks);

// `stuff` is one a job, `days` what the sessions count in. `fired[session * n_crucibles +
// crucible]` says which are heated; NULL: those of the jobs poured. Strings of `stuff` and
// `crucibles` are not copied and must outlive the answer.
CalendarNeeds *calendar_needs_make(const GArray *sessions, const GArray *days,
                                   const CalendarStuff *stuff, guint n_jobs,
                                   const CalendarCrucible *crucibles, guint n_crucibles,
                                   const gboolean *fired, const CalendarSand *sand);

G_END_DECLS
