// SPDX-License-Identifier: GPL-3.0-or-later
// What has to be in the shop, and by when: ingot, sand, crucibles and printed patterns. All of it
// is to be there on the morning of the session that first needs it.
//
// Metal. A session melts what its flasks hold, the reserve of every load and a heel, more by the
// melt loss. Each charge is made up as the stage "melt" would do it with the stock of that morning
// (melt/makeup.h): returns, castings and ingot by their shares of a full crucible; what the stock
// lacks is ingot to buy. What is neither lost nor in the castings is cold when the session is over,
// and lies with the stock as clean returns from the next one on. Castings that turn out bad are not
// counted on as returns.
//
// Sand. Heap enough for the flasks closed at one time; what each use burns off is made up in whole
// boxes when the heap no longer does.
//
// Crucibles. One that could not bear the session's firings, by the least number its kind bears, is
// replaced before it: by a spare from the shelf while there are any, else by one to buy.
#pragma once

#include "calendar/batch.h"
#include "melt/makeup.h"

G_BEGIN_DECLS

// A job's needs. Masses in kg, prices a kg; NAN: not known.
typedef struct {
    const char *metal; // id
    int flasks_per_load;
    double poured;                       // in one flask
    double castings;                     // of one flask, cut from their gates, any other job's too
    double loss, reserve, reserve_least; // share; share; kg a load
    double heel;                         // kg
    double working;                      // kg of a full crucible
    double returns_share;                // of a charge, at most
    gboolean any;                        // lots that are not clean may go in
    double price;                        // of ingot
    double sand;                         // in one flask
    int boxes;                           // flasks of its kind
    int crucible;                        // into the crucibles
    gboolean printed;                    // its patterns are there
    double print_time;                   // s, all of them
} CalendarStuff;

typedef struct {
    const char *id;
    double firings, life; // so far; that its kind bears at the least
    gboolean by_melt;     // a firing is a load, not a cold start
    int spares;           // new ones on the shelf
    double price;
} CalendarCrucible;

typedef struct {
    double loss;  // share of what a flask holds, each use
    double box;   // kg
    double price; // a kg
    double ready; // kg there at the outset
} CalendarSand;

// What the shop has at the outset and does with it.
typedef struct {
    const CalendarCrucible *crucibles;
    guint n_crucibles;
    const int *melts;   // [session * n_crucibles + crucible]: loads; NULL: one for jobs poured
    const GArray *lots; // of Lot: metal in stock; NULL: none is listed
    CalendarSand sand;
} CalendarShop;

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
    double amount;    // to get: kg; crucibles, sets of patterns: how many
    double so_far;    // with all before it of the same kind and what
    double stock;     // beside it, out of the stock: kg of ingot; spare crucibles
    double returns;   // ingot: kg of returns and chips charged beside it
    double castings;  // ingot: kg of old castings charged beside it
    double cost;      // NAN: not known
    guint32 begin;    // patterns: the day on which the one printer, which prints one set after
                      // the other day and night, has to begin; 0: not known
} CalendarNeed;

typedef struct {
    double charged;       // kg into the furnace, all sessions
    double returns_used;  // kg of it: returns and chips, in stock before or come back since
    double castings_used; // kg of it: old castings
    double ingot_used;    // kg of it: ingot that was in stock
    double ingot;         // kg of it: ingot to buy
    double returns_left;  // kg of the metals poured, after the last session
    double sand;          // kg
    int crucibles, spares;
    double cost_ingot, cost_sand, cost_crucibles;
} CalendarTotals;

// What may be charged of a metal that is poured, kg: in stock now, and after the last session.
typedef struct {
    const char *metal;
    double before[MAKEUP_COUNT], after[MAKEUP_COUNT];
} CalendarShelf;

typedef struct {
    GArray *needs;   // of CalendarNeed, by session, then kind
    GArray *charges; // of double, kg charged by each session
    GArray *shelves; // of CalendarShelf, in the order in which the metals are first poured
    CalendarTotals totals;
} CalendarNeeds;

void calendar_needs_free(CalendarNeeds *needs); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(CalendarNeeds, calendar_needs_free)

// kg to charge for so many flasks of a job in one session: full loads and one that is not,
//   (flasks * poured + sum over loads of max(reserve * load, reserve_least) + heel) / (1 - loss).
double calendar_needs_charge(const CalendarStuff *stuff, int flasks);

// `stuff` is one a job, `days` what the sessions count in. Strings of `stuff` and `shop` are not
// copied and must outlive the answer.
CalendarNeeds *calendar_needs_make(const GArray *sessions, const GArray *days,
                                   const CalendarStuff *stuff, guint n_jobs,
                                   const CalendarShop *shop);

G_END_DECLS
