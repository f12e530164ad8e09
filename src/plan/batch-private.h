// SPDX-License-Identifier: GPL-3.0-or-later
// How a batch is made, step by step. Private to plan/.
#pragma once

#include "learn/learn.h"
#include "plan/batch.h"
#include "session/light.h"

G_BEGIN_DECLS

// What a free day gives a session, min. Days alike but for their beginning are one, unless there is
// daylight to keep to.
typedef struct {
    int from; // after midnight
    int length;
} BatchHours;

// What is being put together.
typedef struct {
    const Book *book;
    const Tables *tables;
    Cache *cache;
    Progress *progress;
    BatchPlan *plan;
    GArray *days;                // of CalendarDay
    GArray *lengths;             // of BatchHours: each that differs once
    int start, hours;            // min
    char *light_from, *light_to; // clock times, or NULL
} BatchDraft;

// What pours on a day: one engine where a session has one job, one where it mixes them.
typedef struct BatchEngine BatchEngine;
struct BatchEngine {
    CalendarSessions kind;
    CalendarMost most;
    // Fills in loads, end and crucibles of a session whose pours are known.
    gboolean (*finish)(BatchEngine *engine, guint day, BatchSession *session, Progress *progress,
                       GError **error);
    // Says what keeps the session that was finished last from pouring all that is left (flasks, one
    // a job, with its own; some of them it does not pour).
    gboolean (*hold)(BatchEngine *engine, guint day, BatchSession *session, const int *left,
                     Progress *progress, GError **error);
    // Why a session of that day holds not one flask of a job, as far as the engine knows, and what
    // to do; or NULL. Free.
    char *(*why_none)(BatchEngine *engine, guint day, guint job);
    void (*free)(BatchEngine *engine);
};

// Makes the plans of the jobs; fills jobs in but for done, alone, late and left.
gboolean batch_add_jobs(BatchDraft *draft, const char *const *jobs, GError **error);
// The book with one field set for a job (NULL for the shop's); "" clears it.
Book *batch_set_text(const Book *book, const char *job, const char *path, const char *text,
                     const Tables *tables, GError **error);
// The plan of a job of some book, as far as a batch asks (plan/walk.h).
Plan *batch_plan_job(const BatchDraft *draft, const Book *book, const BatchJob *job,
                     GError **error);
BatchHours batch_hours_of(const BatchDraft *draft, const CalendarDay *day);
// The daylight of a day with these hours.
gboolean batch_light_of(const BatchDraft *draft, BatchHours hours, SessionLight *light,
                        GError **error);
// The job's plan for sessions of these hours.
Plan *batch_plan_of_hours(const BatchDraft *draft, guint job, BatchHours hours, GError **error);

// What the log teaches of a job. NULL when stopped.
LearnResult *batch_learn(const BatchDraft *draft, const Book *book, const char *job);

// One job a session. NULL when a plan cannot be made.
BatchEngine *batch_engine_single(const BatchDraft *draft, GError **error);

// Several jobs a session, by the shop-wide day.
BatchEngine *batch_engine_mixed(const BatchDraft *draft, GError **error);

// Says what holds a session back that the engine has just finished, and takes its flasks off what
// is left. FALSE when stopped or broken.
gboolean batch_find_held(const BatchDraft *draft, BatchEngine *engine, guint day,
                         BatchSession *session, int *left, GError **error);
// The session pours all that is left of its jobs, and the others not beside them.
void batch_take_alone(BatchSession *session);

// Jobs as the calendar wants them, without the flasks of those that no day could pour; `why`, one a
// job, gets the reasons (free each). Free; NULL when stopped or broken.
CalendarJob *batch_list_jobs(const BatchDraft *draft, BatchEngine *engine, char **why,
                             GError **error);
// Says of each job what the sessions do not pour of it. The reasons found before are taken over.
void batch_take_left(BatchPlan *plan, char **why, guint days);
// FALSE with BASE_ERROR_VALUE when jobs are left out and nothing at all is poured. A batch of jobs
// that are all cast has no session either.
gboolean batch_check_any(const BatchPlan *plan, GError **error);

// Fills needs, totals and shelves in. `batch` has the sessions the plan's are made of. FALSE with
// BASE_ERROR_VALUE when the metal in stock cannot be read.
gboolean batch_add_needs(BatchDraft *draft, const CalendarBatch *batch, GError **error);

void batch_add_figures(BatchDraft *draft);

G_END_DECLS
