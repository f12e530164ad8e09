// SPDX-License-Identifier: GPL-3.0-or-later
// The batch over days: all jobs of a book laid out over the shop's free days until each has its
// good parts at the wanted confidence, the earliest due date first; when each ends and how late;
// and what has to be in the shop by when. batch = f(book, first day). Immutable.
#pragma once

#include "calendar/needs.h"
#include "plan/day.h"

G_BEGIN_DECLS

// More jobs are not planned together.
#define BATCH_MOST_JOBS 100
// Free days may have this many lengths.
#define BATCH_MOST_LENGTHS 24

typedef struct {
    char *id, *name;
    const Plan *plan;               // for the parts still wanted, as far as a batch asks, without
                                    // heat flow, machining and cost; NULL: nothing is left to cast
    char *metal, *metal_name;       // id and name; NULL without a plan
    char *crucible;                 // id, or NULL
    guint32 due;                    // Julian; 0: none
    int wanted, good, poured;       // parts; good castings of it in the log, and all
    int castings, flasks, cavities; // to start from now on
    guint32 done;                   // day of its last session; 0: none, or not all of it
    guint32 alone;                  // the same were it poured before all other jobs
    int late;                       // days; negative: to spare; G_MININT without a due day or end
    int left;                       // flasks no day is found for
    char *why; // it is left out, or not all of it has a day: why, and what to do; else NULL
} BatchJob;

typedef struct {
    int job; // into the jobs
    int flasks, castings;
    double charge;     // kg into the furnace
    int loads, shared; // it has a part in; of them those that other jobs have a part in too
} BatchPour;

#define BATCH_HELD_NOTHING "nothing" // all that is left is poured
#define BATCH_HELD_MIX "mix"         // all of its jobs, and the others not beside them

typedef struct {
    int number;    // from 1, the sessions of the log counted before it
    guint32 day;   // Julian
    int from, to;  // min after midnight: unlocking, and closing as planned
    int hours_end; // min: end of the day's free hours
    BatchPour *pours;
    guint n_pours;
    double charge;          // kg, all pours
    int loads, shared;      // each once; of them those that several jobs have a part in
    const char *held;       // what keeps it from pouring more, as session_bottleneck_word() says
                            // it, or BATCH_HELD_...; NULL: not known
    char *held_why;         // what that rests on, in a sentence, or NULL
    char **crucibles;       // ids of those heated, in the order of the book
    int *melts;             // loads of each of them
    const PlanDay *planned; // it laid out; NULL where no session mixes jobs
} BatchSession;

typedef struct {
    const Book *book;
    char *shop;    // its name, or NULL
    guint32 first; // Julian: the first day looked at
    UnitSet units;
    BatchJob *jobs; // in the order of the book
    guint n_jobs;
    BatchSession *sessions; // by day
    guint n_sessions;
    CalendarNeed *needs; // by session, then kind
    guint n_needs;
    gboolean lists_stock;   // the shop lists the metal it has
    CalendarShelf *shelves; // of the metals poured
    guint n_shelves;
    CalendarTotals totals;
    CalendarProof proof; // that no other order is less late
    int latest;          // days; G_MININT if no job has a due day
    gboolean mixed;      // sessions may pour several jobs
    FigureList *figures; // "batch.*"
} BatchPlan;

BatchPlan *batch_plan_ref(const BatchPlan *batch);
void batch_plan_unref(const BatchPlan *batch); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(BatchPlan, batch_plan_unref)

// `jobs` (ids, NULL-terminated) or NULL for all jobs of the book; `first` the Julian day from which
// on days are free, normally today. `cache` may be NULL. A job that cannot be planned, or of which
// not one flask can be poured on any free day, is left out and says why; one for which the free
// days, of which CALENDAR_MOST_DAYS are looked at, are too few says what is left of it. NULL with
// BASE_ERROR_VALUE when for such reasons nothing at all is poured or a field of the shop cannot be
// read, BASE_ERROR_NOT_FOUND for a book without jobs, a job it does not have or a shop without a
// free day, BASE_ERROR_LIMIT when more jobs than BATCH_MOST_JOBS or lengths of day than
// BATCH_MOST_LENGTHS would be needed, or BASE_ERROR_CANCELLED. The place of an error names the job
// or the field.
BatchPlan *batch_plan_make(const Book *book, const char *const *jobs, const Tables *tables,
                           Cache *cache, guint32 first, Progress *progress, GError **error);

// The first session laid out as a day to work by: what the calendar pours next, on its own day or
// earlier. BASE_ERROR_VALUE when all that is wanted is cast; else as plan_day_make().
PlanDay *batch_plan_next_day(const BatchPlan *batch, const Tables *tables, Progress *progress,
                             GError **error);

// Jobs of which the log has fewer good castings than are wanted.
guint batch_open_jobs(const Book *book, const Tables *tables);

// Today by the clock of this machine, Julian: what a person means who names no day.
guint32 batch_today(void);

// "2 loads, 1 shared". Free.
char *batch_loads_words(int loads, int shared);
// What holds a session back, in words; NULL when it was not looked for. Static.
const char *batch_held_words(const char *held);
// The loads of a session and what holds it back: "2 loads, 1 shared · held back by the sand".
// Free.
char *batch_session_words(const BatchSession *session);

// "one kind of need": the id it has in files: "patterns", "crucible", "ingot", "sand". Static.
const char *batch_need_id(CalendarNeedKind kind);

G_END_DECLS
