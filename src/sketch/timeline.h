// SPDX-License-Identifier: GPL-3.0-or-later
// The session timeline: furnace temperature over the loads, loads as blocks that hold their flasks,
// a row for each resource. Plan -> Scene, laid out in device units for the place it is shown in, so
// that every label is known to have room.
#pragma once

#include "plan/plan.h"
#include "sketch/scene.h"
#include "sketch/timeline-chart.h"

G_BEGIN_DECLS

// What is to be seen of a chart.
typedef struct {
    double width, height; // device units
    double from;          // s from the start of the session, at the left edge
    double scale;         // device units per second; 0, or less than fits: the whole session
    guint first_row;      // what does not fit below the others is scrolled to
    double now;           // s from the start of the session; NAN: no line
    gboolean title;       // says what it is, for paper
    gboolean parts;       // every thing has its words, for files and for those who ask
    const char *pins;     // tasks put at a time by hand (see timeline-pins.h), or NULL
    const char *note;     // at the end of the title ("page 2 of 3"), or NULL
} TimelineLook;

// Where everything lies, device units; y points down.
typedef struct {
    double width, height;
    double left, right; // of the time that is shown
    double from, scale; // as in the look, made to fit
    double title, sets, set_step;
    guint set_levels;
    double curve_top, curve_bottom;
    double loads, load_step;
    guint n_load_lanes;
    double rows, row_step, row_height;
    guint first_row, n_rows; // shown
    double bottom;           // of the rows
    double axis, key;        // middles of lines of text
    double end;              // of all, which may be below what there is
} TimelineFrame;

TimelineFrame timeline_frame(const TimelineChart *chart, const TimelineLook *look);
double timeline_x(const TimelineFrame *frame, double seconds);
double timeline_at(const TimelineFrame *frame, double x); // s, the way back
// The least scale, at which the whole session is shown.
double timeline_least_scale(const TimelineChart *chart, const TimelineFrame *frame);
// The part of a bar in sight. FALSE when none of it is.
gboolean timeline_bar_box(const TimelineChart *chart, const TimelineFrame *frame, guint bar,
                          SolidPoint *min, SolidPoint *max);
// The bar at a place, or G_MAXUINT; narrow bars reach a little further than they are drawn.
guint timeline_pick(const TimelineChart *chart, const TimelineFrame *frame, double x, double y);

// Never NULL. Parts have the ids "task-1" .. (in the order of the session) and "load-1" ...
Scene *timeline_draw(const TimelineChart *chart, const TimelineLook *look);

// What lies over it while something is looked at or in hand.
typedef struct {
    guint chosen; // task, or G_MAXUINT: its mould's life lights up, and it is marked
    guint bar;    // the bar of it that has the keys, or G_MAXUINT
    guint hover;  // task under the pointer, or G_MAXUINT: what it waits for, and what for it
    guint held;   // task in hand, or G_MAXUINT,
    double at;    // put to begin here, s
    guint limit;  // what keeps it from going further to the left, or G_MAXUINT
} TimelineFocus;

Scene *timeline_overlay(const TimelineChart *chart, const TimelineFrame *frame,
                        const TimelineFocus *focus);

// Words about things of the chart. Free.
char *timeline_clock(double seconds);                              // "1:05"
char *timeline_task_label(const TimelineChart *chart, guint task); // "Pour mould 3"
char *timeline_task_words(const TimelineChart *chart, guint task, const char *pins);
const char *timeline_task_figure(const TimelineChart *chart, guint task); // that explains it

// On paper: pages of the same chart, each with its own key.
guint timeline_page_count(const TimelineChart *chart, double width, double height);
Scene *timeline_page(const TimelineChart *chart, double width, double height, guint page,
                     const char *pins);

// What a session takes to be seen whole on one page: no more than A4 lying, less the
// margin, if that is enough.
void timeline_whole_size(const TimelineChart *chart, double *width, double *height);
// To a file: a PDF on as many pages as it takes, a PNG or SVG on one that is as large as needed.
// Atomic; an existing file is replaced only if `replace`.
gboolean timeline_export(const TimelineChart *chart, const char *pins, const char *path,
                         gboolean replace, GError **error);

// NULL with BASE_ERROR_NOT_FOUND when the plan has no session (the message says why).
TimelineChart *sketch_timeline_chart(const Plan *plan, GError **error); // borrows from the plan
// The whole session of a plan on one page.
Scene *sketch_timeline_scene(const Plan *plan, GError **error);
// Tasks of the plan put at a time by hand, as the book has them; NULL: none. Free.
char *sketch_timeline_pins(const Plan *plan);

// A whole session on one page, with its words. `melt` may be NULL. `now` as in the look.
Scene *timeline_scene(const SessionResult *session, const MeltResult *melt, const UnitSet *units,
                      double now);

G_END_DECLS
