// SPDX-License-Identifier: GPL-3.0-or-later
// Stage "run": one session laid out over furnace, person, flasks and bench, and the batch that
// brings N good parts.
#pragma once

#include "freeze/freeze.h"
#include "learn/learn.h"
#include "melt/melt.h"

G_BEGIN_DECLS

#define SESSION_MOST_BOX_KINDS 16

typedef enum {
    TASK_SET_UP,    // person
    TASK_WARM_UP,   // furnace
    TASK_RAM,       // person + flask + bench: a whole mould, where its steps are not told apart
    TASK_RAM_DRAG,  // person + flask + bench
    TASK_RAM_COPE,  // person + flask + bench
    TASK_DRAW,      // person + flask + bench: the patterns
    TASK_SHUT,      // person + flask: closed and weighted
    TASK_CHARGE,    // person + furnace
    TASK_MELT,      // furnace
    TASK_SKIM,      // person + furnace
    TASK_POUR,      // person + furnace + flask; where there is no TASK_SKIM the first of a load
                    // begins with skimming
    TASK_COOL,      // flask + cooling place; may end after the session for flasks left overnight
    TASK_SHAKE_OUT, // person + flask
    TASK_CLOSE,     // person
} TaskKind;

typedef struct {
    TaskKind kind;
    int load;          // 0-based, -1 if none
    int flask;         // flask of the session, 0-based over all rammings; -1 if none
    int box;           // which physical flask, 0-based; -1 if none
    int job;           // into the jobs of the result; -1 if none
    gboolean person;   // takes one
    int furnace;       // which it takes, 0-based; -1 if none
    double start, end; // s from the start of the session
    char *label;       // "Ram mould 3", "Melt load 2"
    int who;           // which pair of hands, 0-based; -1 if none
    char *key;         // "ram-drag-3", "pour-12", "melt-2", "close": kind and number of mould or
                       // load from 1; the same thing keeps its key when the rest is planned again
    guint *after;      // tasks, by place in the list, that end before this one may start
    guint n_after;
} SessionTask;

typedef struct {
    TaskKind kind;
    int number; // of mould, load or furnace, from 1; 0 for kinds without
    double at;  // s from the start of the session; it does not begin before
} SessionPin;

typedef struct SessionLimits SessionLimits; // session/limits.h

typedef struct {
    double at;          // s
    double temperature; // deg C
    char *prompt;       // what to turn to, or NULL; names the furnace where there are several
    int furnace;        // 0-based
} SessionFurnacePoint;

typedef struct {
    SessionTask *tasks; // in order of start
    guint n_tasks;
    SessionFurnacePoint *curve; // in order of time, of all furnaces
    guint n_curve;
    double length;                             // s, whole session
    double hours;                              // s, the hours given
    int loads, flasks, castings;               // what the session yields
    int boxes;                                 // physical flasks
    int boxes_of_kind[SESSION_MOST_BOX_KINDS]; // numbered kind by kind; all 0: all alike
    int people, furnaces;
    int benches, places;          // moulding benches, cooling places; 0: as many as are asked for
    char **jobs;                  // ids, NULL-terminated
    const SessionLimits *limits;  // sand, daylight and pins it keeps to; NULL: none
    gboolean past_light;          // planned again when the daylight could not be kept to any more
    gboolean past_sand;           // the same of the sand
    char **furnace_names;         // NULL-terminated; NULL where they are not told apart by name
    char *bottleneck;             // "furnace", "crucible", "person", "flasks", "hours", "sand",
                                  // "daylight"
    int castings_to_start;        // for N good; 0 when unknown
    int sessions;                 // 0 when unknown
    double confidence, good_rate; // NAN when unknown
    int left_to_cool;             // flasks shaken out before the next session
    double last_length;           // s, of the last session of the batch, which may be shorter
} SessionResult;

// The name of a furnace, or NULL where they have none.
const char *session_furnace_name(const SessionResult *result, int furnace);

// Frees what a SessionTask holds, for arrays of them.
void session_task_clear(gpointer data);

SessionResult *session_result_ref(const SessionResult *result);
void session_result_unref(const SessionResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC(SessionResult, session_result_unref)

extern const char *const session_reads[];
SessionResult *session_stage(const Inputs *inputs, const LearnResult *learn,
                             const MouldLayout *layout, const FreezeResult *freeze,
                             const MeltResult *melt, FigureList *figures, Progress *progress,
                             GError **error);

G_END_DECLS
