// SPDX-License-Identifier: GPL-3.0-or-later
// The state of a day: its sheet and what was ticked. A pure function of the journal's lines, so it
// is the same after a crash as before.
#pragma once

#include "live/line.h"
#include "live/sheet.h"
#include "session/replan.h"

G_BEGIN_DECLS

typedef enum {
    LIVE_BEGIN,       // a task was begun
    LIVE_DONE,        // a task was done
    LIVE_TEMPERATURE, // of a pour, deg C
    LIVE_MASS,        // of a charge or a pour, kg
    LIVE_NOTE,        // words
    LIVE_UNDO,        // takes back the last line not taken back
    LIVE_FINISH,      // the day is over
} LiveWhat;

// One line to add. SI; `value` and `text` by kind.
typedef struct {
    LiveWhat what;
    double at;        // UTC, s: when it happened
    double written;   // UTC, s: when it was noted
    const char *key;  // of the task, NULL for the day
    int who;          // hands, -1: as planned
    double value;     // NAN if none
    const char *text; // the number as typed, with its unit; or the note
} LiveTick;

Node *live_tick_node(const LiveTick *tick);

typedef enum {
    LIVE_TO_DO,
    LIVE_RUNNING,
    LIVE_OVER
} LiveState;

typedef struct {
    const SessionTask *task; // as planned when the day was started
    LiveState state;
    double start, end; // s from the start of the day; NAN: unknown or not yet
    gboolean begun;    // the start was ticked
    gboolean timed;    // that, or it follows at once on the same mould's step before
    int who;
    double temperature, mass; // SI, NAN: not noted
    char *temperature_text, *mass_text;
} LiveTask;

typedef struct {
    const LiveSheet *sheet; // borrowed
    LiveTask *tasks;        // in the order of the sheet's
    guint n_tasks;
    GPtrArray *notes;   // char *
    GPtrArray *strange; // char *: lines that fit no task, told and not used
    gboolean finished;
    double finished_at; // s from the start
    double noted;       // s from the start, when the last line in force was written
    guint ticks;        // lines in force
    char *last;         // what undo would take back, in words; NULL: nothing
} LiveDay;

// From the lines after the first, whatever they are. `sheet` must outlive the day.
LiveDay *live_day_make(const LiveSheet *sheet, const LiveLines *lines);
void live_day_free(LiveDay *day); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(LiveDay, live_day_free)

const LiveTask *live_day_find(const LiveDay *day, const char *key); // NULL if there is none

// What has happened, for planning the rest again; keys are borrowed from the sheet. A task that is
// running has end NAN; a mould cools from its pour, for as long as planned. Free with
// g_array_unref.
GArray *live_day_done(const LiveDay *day, double now);

G_END_DECLS
