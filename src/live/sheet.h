// SPDX-License-Identifier: GPL-3.0-or-later
// What the day needs of the plan, fixed when the day is started: tasks, furnace, jobs. It is the
// first line of the journal, so a day goes on by the plan it was started with.
#pragma once

#include "plan/plan.h"

G_BEGIN_DECLS

#define LIVE_VERSION 1

typedef struct {
    char *id, *name, *metal, *flask; // ids of the book; metal and flask may be NULL
    double pouring_temperature;      // deg C; NAN: unknown, and so below
    double casting_mass;             // kg, one rough casting
    double mould_mass;               // kg of metal one mould takes
    guint cavities;                  // of one mould
} LiveJob;

typedef struct {
    char *id;               // of the day: its start in UTC and a random tail
    double start;           // UTC, s; times of the session count from here
    char *book;             // its file, or NULL
    SessionResult *session; // every task with a key
    LiveJob *jobs;
    guint n_jobs;
    char *furnace, *crucible; // ids of the book, may be NULL
    double charge_mass;       // kg, a full load; NAN: unknown
} LiveSheet;

// From a plan whose session is known; `start` in UTC. NULL with BASE_ERROR_VALUE when the plan has
// no session to work by. Jobs of the session beside the plan's own are known by id only.
LiveSheet *live_sheet_new(const Plan *plan, const char *book_path, double start, GError **error);
// The same from a session of several jobs and their plans, of one book; the first is the one whose
// furnace and crucible are noted.
LiveSheet *live_sheet_of(const SessionResult *session, const Plan *const *plans, guint n_plans,
                         const char *book_path, double start, GError **error);
void live_sheet_free(LiveSheet *sheet); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LiveSheet, live_sheet_free)

// To the first line and back. Reading checks everything it hands on; BASE_ERROR_FORMAT and
// BASE_ERROR_VERSION name what is wrong.
Node *live_sheet_node(const LiveSheet *sheet);
LiveSheet *live_sheet_read(const Node *node, const char *name, GError **error);

// The job of a task; NULL if it has none. One job serves tasks that name none.
const LiveJob *live_sheet_job(const LiveSheet *sheet, const SessionTask *task);
// The place of a task by its key; -1 if there is none.
int live_sheet_find(const LiveSheet *sheet, const char *key);

G_END_DECLS
