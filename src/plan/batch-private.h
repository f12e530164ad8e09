// SPDX-License-Identifier: GPL-3.0-or-later
// How a batch is made, step by step. Private to plan/.
#pragma once

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
    void (*free)(BatchEngine *engine);
};

// Makes the plans of the jobs; fills jobs in but for done, alone and late.
gboolean batch_add_jobs(BatchDraft *draft, const char *const *jobs, GError **error);
// The book with one field set for a job (NULL for the shop's); "" clears it.
Book *batch_set_text(const Book *book, const char *job, const char *path, const char *text,
                     const Tables *tables, GError **error);
BatchHours batch_hours_of(const BatchDraft *draft, const CalendarDay *day);
// The daylight of a day with these hours.
gboolean batch_light_of(const BatchDraft *draft, BatchHours hours, SessionLight *light,
                        GError **error);
// The job's plan for sessions of these hours.
Plan *batch_plan_of_hours(const BatchDraft *draft, guint job, BatchHours hours, GError **error);

// One job a session. NULL when a plan cannot be made.
BatchEngine *batch_engine_single(const BatchDraft *draft, GError **error);

// Several jobs a session, by the shop-wide day.
BatchEngine *batch_engine_mixed(const BatchDraft *draft, GError **error);

// Fills needs and totals in. `batch` has the sessions the plan's are made of.
void batch_add_needs(BatchDraft *draft, const CalendarBatch *batch);

void batch_add_figures(BatchDraft *draft);

G_END_DECLS
