// SPDX-License-Identifier: GPL-3.0-or-later
// A session sorted into the rows of its chart: a row for each furnace, each pair of hands and each
// flask box, with a bar for each task that takes it; what waits for what; where something stands
// idle or waits. Knows nothing of how it is drawn.
#pragma once

#include "session/schedule.h"
#include "units/quantity.h"

G_BEGIN_DECLS

typedef enum {
    TIMELINE_FURNACE,
    TIMELINE_PERSON,
    TIMELINE_BOX
} TimelineRowKind;

typedef struct {
    TimelineRowKind kind;
    int index;   // which furnace, person or box, 0-based
    char *label; // "Furnace", "Person 2", "Flask 3"
    double idle; // share of the session in which nothing takes it, 0 to 1
    guint first_bar, n_bars;
} TimelineRow;

typedef struct {
    guint task, row;
    double start, end; // s
} TimelineBar;

// A stretch of a row in which something that is begun only waits: a mould for its metal or to be
// opened, molten metal for its pour.
typedef struct {
    guint row, task; // the task after it
    double start, end;
} TimelineWait;

// From charging to the last pour.
typedef struct {
    double start, end; // s; end is not after start: no task belongs to it
    int furnace;
    guint n_pours;
} TimelineLoad;

typedef struct {
    const SessionResult *session; // borrowed: outlives the chart
    const MeltResult *melt;       // likewise; may be NULL: prompts are then those of the curve
    UnitSet units;
    TimelineRow *rows;
    guint n_rows;
    TimelineBar *bars; // row by row, then in time
    guint n_bars;
    TimelineWait *waits; // row by row, then in time
    guint n_waits;
    TimelineLoad *loads;
    guint n_loads;
    guint *pour_place; // of each task that pours a mould, its place in its load, from 0
    guint *first_bar;  // of each task, its bar in the row of its box, else person, else furnace;
                       // G_MAXUINT for tasks that are not drawn
    // tasks that end before task i may start: needs[needs_start[i]] .. needs[needs_start[i + 1]]
    guint *needs_start, *needs;
    guint *users_start, *users; // the other way round: what waits for task i
    double length;              // s, of the whole drawing
} TimelineChart;

TimelineChart *timeline_chart_new(const SessionResult *session, const MeltResult *melt,
                                  const UnitSet *units);
void timeline_chart_free(TimelineChart *chart); // NULL is harmless
G_DEFINE_AUTOPTR_CLEANUP_FUNC(TimelineChart, timeline_chart_free)

gboolean timeline_is_drawn(const SessionTask *task); // finite times, lasting longer than nothing
// The key pins know a task by: its own, or one made of kind and number where it has none. Free.
char *timeline_key(const SessionTask *task);
// The task with this key, or G_MAXUINT.
guint timeline_find_key(const TimelineChart *chart, const char *key);

// The tasks of one mould in their order, from ramming to shake-out; none for -1. Free the array.
GArray *timeline_life(const TimelineChart *chart, int flask); // of guint

// When everything a task needs is done, s (0 if it needs nothing), and what ends last (G_MAXUINT).
double timeline_earliest(const TimelineChart *chart, guint task, guint *last);

// The bar of `row` nearest in time to `at` (s), or G_MAXUINT if the row has none.
guint timeline_bar_near(const TimelineChart *chart, guint row, double at);
// The bar that the keys come to from `bar`: -1 or 1 along its row or to the next row with bars;
// `bar` itself at the end.
guint timeline_step_along(const TimelineChart *chart, guint bar, int by);
guint timeline_step_across(const TimelineChart *chart, guint bar, int by);

G_END_DECLS
