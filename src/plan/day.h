// SPDX-License-Identifier: GPL-3.0-or-later
// One casting day for the whole shop: moulds of several jobs, over all furnaces, crucibles and
// flasks of the book. A load has one metal, a crucible one metal family, a furnace one crucible for
// the day. Which moulds are made, which share a load and when everything runs is worked out by the
// engine of session/.
#pragma once

#include "plan/plan.h"
#include "session/bottleneck.h"

G_BEGIN_DECLS

// What is asked of the day; every number may be NAN for what the book says or for no limit.
typedef struct {
    double hours;                // s; NAN: shop.hours
    double light_from, light_to; // s from the start of the session: handwork and pouring fall
                                 // between them; NAN: shop.light_from and shop.light_to for a
                                 // session that begins then; 0 and INFINITY: no limit
    const int *begins;           // min after midnight; NULL: shop.start
    // Ids of crucibles heated on a day before this one, NULL-terminated: they are not new any more,
    // whatever the book says. NULL: none.
    const char *const *heated;
    const int *moulds; // per plan, moulds still to pour, 0 for none; NULL or an entry
                       // below 0: what the batch needs (run.batch_flasks)
    const char *pins;  // "KEY TIME; ..." as in job.pins, or NULL. A day's own: the pins
                       // of single jobs name the moulds of their own session
    gboolean gains; // also plan the day with one more of each thing, which takes six times as long
} PlanDayWish;

typedef struct PlanDay PlanDay;

PlanDay *plan_day_ref(const PlanDay *day);
void plan_day_unref(const PlanDay *day); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(PlanDay, plan_day_unref)

// `plans` are of jobs of one book, each once; `wish` may be NULL (all NAN and NULL). A job that
// cannot be poured is left out and says why; so a day may hold no mould at all. NULL with
// BASE_ERROR_VALUE for hours that are negative or not above setting up and closing, for pins that
// cannot be read, for no plan or plans of different books; BASE_ERROR_LIMIT for more jobs,
// furnaces, crucibles or kinds of flask than a day is planned for; BASE_ERROR_CANCELLED.
PlanDay *plan_day_make(const Plan *const *plans, guint n, const PlanDayWish *wish,
                       const Tables *tables, Progress *progress, GError **error);

// The same from job ids, NULL-terminated, or NULL for all jobs of the book: plans are made first.
PlanDay *plan_day_of_book(const Book *book, const char *const *jobs, const PlanDayWish *wish,
                          const Tables *tables, Cache *cache, Progress *progress, GError **error);

// What keeps a day that pours certain moulds from pouring more of one job beside them.
typedef struct {
    gboolean poured; // FALSE: the job is not poured beside those, whatever there is more of
    SessionMore which;
    int gain; // moulds of it that a little more of that would bring, 0 or more
} PlanDayHeld;

// `wish->moulds` is what the day pours, without `more` moulds that are left of `job` (a place among
// the plans). All the moulds of the day are kept. Of what brings the same the first is named, that
// is easiest to get; the hours, or a light that cuts them short, where nothing brings anything.
// Errors as plan_day_make().
gboolean plan_day_find_held(const Plan *const *plans, guint n, const PlanDayWish *wish, guint job,
                            int more, const Tables *tables, PlanDayHeld *held, Progress *progress,
                            GError **error);

// The tasks; jobs in the order of the plans. Never NULL; without a mould it has no tasks.
const SessionResult *plan_day_session(const PlanDay *day);
// Figures "day.*": flasks, castings, loads, length, idle shares, bound, gap.
const FigureList *plan_day_figures(const PlanDay *day);
// Moulds and castings the day pours for a job, by place among the plans.
int plan_day_moulds(const PlanDay *day, guint job);
int plan_day_castings(const PlanDay *day, guint job);
// Why a job has no mould on this day, in words ("crucible “Small” holds 0.8 kg, one flask needs 1.2
// kg; ..."); NULL when it has.
const char *plan_day_why_not(const PlanDay *day, guint job);
// The plans it was made from, in their order.
const Plan *plan_day_plan(const PlanDay *day, guint job);
// The metal id of a load of the session, and the ids of its furnace and crucible.
const char *plan_day_load_metal(const PlanDay *day, int load);
const char *plan_day_load_furnace(const PlanDay *day, int load);
const char *plan_day_load_crucible(const PlanDay *day, int load);
// Cold metal to weigh in for a load, kg: what its moulds take and the reserve, heel and melt loss
// of that of its jobs which asks for most; NAN when not known.
double plan_day_load_charge(const PlanDay *day, int load);

G_END_DECLS
