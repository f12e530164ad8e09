// SPDX-License-Identifier: GPL-3.0-or-later
// What a day is gathered from; for day*.c only.
#pragma once

#include "plan/day.h"
#include "session/gain.h"

G_BEGIN_DECLS

#define DAY_MOST_CRUCIBLES 16

// One job's metal in one furnace with one crucible.
typedef struct {
    double holds;   // kg it gives to moulds; 0: not allowed, or not known
    double melt;    // s for each of these kg; NAN when not known
    double warm_up; // s
    double loss;    // share of what is charged; NAN when not known
    MeltResult *result;
} DayMelt;

typedef struct {
    const Plan *plan;
    const char *job, *family; // borrowed of the plan; family NULL when the metal is not known
    int metal;                // into the metals of the floor; -1
    int kind;                 // of the floor; -1: left out
    int cavities, wanted;
    char *why; // it is left out
} DayJob;

typedef struct {
    const Tables *tables;
    const Book *book;
    PlanDayWish wish;
    SessionFloor floor;
    DayJob *jobs;
    guint n_jobs;
    GPtrArray *furnaces, *crucibles, *flasks; // char *: ids of the shop; "" for the one by default
    DayMelt *melts;                           // furnace by furnace, crucible by crucible, by job
    int pair[SESSION_MOST_FURNACES];          // crucible of each furnace of the shop; -1: none
    int furnace_of[SESSION_MOST_FURNACES];    // of the floor: which of the shop
    GArray *pins;
} Day;

struct PlanDay {
    Book *book;
    guint n;
    SessionResult *session;
    FigureList *figures;
    int *moulds, *castings;
    char **why;
    GPtrArray *metals, *load_furnaces, *load_crucibles; // char *, by load
    GArray *charges;                                    // double, kg, by load
    GPtrArray *plans;                                   // Plan *, by job
};

// Reads plans and shop into floor, jobs and melts; furnaces and kinds come later.
gboolean day_gather(Day *day, const Plan *const *plans, Progress *progress, GError **error);
void day_clear(Day *day);
DayMelt *day_melt(const Day *day, guint furnace, guint crucible, guint job);

// Chooses which crucible stands in which furnace and which family it melts, so that most could be
// poured were nothing ever to wait; puts furnaces and kinds into the floor.
gboolean day_pair(Day *day, Progress *progress, GError **error);

// Figures "day.*". `most` and `plan` NULL: nothing is poured.
gboolean day_add_figures(const Day *day, const SessionMost *most, const SessionPlan *plan,
                         FigureList *figures, Progress *progress, GError **error);

G_END_DECLS
