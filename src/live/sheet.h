// SPDX-License-Identifier: GPL-3.0-or-later
// What the day needs of the plan, fixed when the day is started: tasks, furnaces, jobs. It is the
// first line of the journal, so a day goes on by the plan it was started with.
#pragma once

#include "plan/day.h"

G_BEGIN_DECLS

#define LIVE_VERSION 2

typedef struct {
    char *id, *name, *metal, *flask; // ids of the book; metal and flask may be NULL
    double pouring_temperature;      // deg C; NAN: unknown, and so below
    double solidus;                  // deg C, of its metal
    double pour_from, pour_to;       // deg C, poured no cooler and no hotter
    double casting_mass;             // kg, one rough casting
    double mould_mass;               // kg of metal one mould takes
    guint cavities;                  // of one mould, its own
    char *guest;                     // id of the job that shares its flask, or NULL
    double guest_mass;               // kg, one casting of that
    guint guests;                    // cavities of that in one mould
} LiveJob;

// A load and what it is melted in. Ids of the book, NULL: unknown.
typedef struct {
    char *metal, *furnace, *crucible;
    double charge_mass; // kg as planned; NAN: unknown
} LiveLoad;

typedef struct {
    char *id;               // of the day: its start in UTC and a random tail
    double start;           // UTC, s; times of the session count from here
    char *book;             // its file, or NULL
    SessionResult *session; // every task with a key
    LiveJob *jobs;
    guint n_jobs;
    LiveLoad *loads; // of a day of all jobs; the day of one job has none, its loads are alike
    guint n_loads;
    char *furnace, *crucible; // ids of the book, may be NULL; of the first load
    double charge_mass;       // kg, a full load; NAN: unknown
} LiveSheet;

// From a plan whose session is known; `start` in UTC. NULL with BASE_ERROR_VALUE when the plan has
// no session to work by. Jobs of the session beside the plan's own are known by id only.
LiveSheet *live_sheet_new(const Plan *plan, const char *book_path, double start, GError **error);
// From a day of all jobs: those that have a mould on it. Labels say whose a mould is and, where
// loads differ, of which metal and in which furnace. NULL with BASE_ERROR_VALUE when nothing is
// poured.
LiveSheet *live_sheet_of_day(const PlanDay *day, const char *book_path, double start,
                             GError **error);
void live_sheet_free(LiveSheet *sheet); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LiveSheet, live_sheet_free)

// Everything about it unknown.
void live_job_init(LiveJob *job);

// To the first line and back. Reading checks everything it hands on; BASE_ERROR_FORMAT and
// BASE_ERROR_VERSION name what is wrong.
Node *live_sheet_node(const LiveSheet *sheet);
LiveSheet *live_sheet_read(const Node *node, const char *name, GError **error);

// The job of a task; NULL if it has none. One job serves tasks that name none.
const LiveJob *live_sheet_job(const LiveSheet *sheet, const SessionTask *task);
// What is known of a load, by number from 0; texts are borrowed. A load of a day of one job is
// charged with the share of a full one that its moulds have.
LiveLoad live_sheet_load(const LiveSheet *sheet, int load);
// The place of a task by its key; -1 if there is none.
int live_sheet_find(const LiveSheet *sheet, const char *key);

G_END_DECLS
