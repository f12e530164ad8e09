// SPDX-License-Identifier: GPL-3.0-or-later
// One thread that makes Plans. There is one slot: the newest Book wins, nothing queues.
#pragma once

#include "plan/plan.h"

G_BEGIN_DECLS

typedef struct Worker Worker;

// Called on the main context that was the default of the thread which made the worker. `plan` is
// borrowed; `last` when nothing more comes for this run. `error` is set instead when a run ended
// badly (not when it was stopped for a newer one).
typedef void (*WorkerPost)(const Plan *plan, gboolean last, const GError *error, gpointer data);

Worker *worker_new(const Tables *tables, Cache *cache, WorkerPost post, gpointer data);
void worker_free(Worker *worker); // stops, joins; nothing is posted afterwards

// Puts a book and job in the slot and stops what is running. `quick` leaves slow stages stale.
void worker_submit(Worker *worker, const Book *book, const char *job_id, const Plan *before,
                   gboolean quick);
// Stops what is running or waits to; the run is told as ended with BASE_ERROR_CANCELLED, unless its
// last plan is already on its way.
void worker_stop(Worker *worker);
// The same, and nothing more is told of it, not even what is already on its way.
void worker_drop(Worker *worker);
// Of the run in hand; 0 and "" when idle.
double worker_fraction(Worker *worker);
const char *worker_words(Worker *worker);

G_END_DECLS
