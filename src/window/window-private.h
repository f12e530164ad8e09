// SPDX-License-Identifier: GPL-3.0-or-later
// What the window holds; for window.c and its files of commands only.
#pragma once

#include "sketch/template-export.h"
#include "window/calendar-view.h"
#include "window/casting-view.h"
#include "window/explain-popover.h"
#include "window/inspector.h"
#include "window/job-pane.h"
#include "window/live-page.h"
#include "window/live-start.h"
#include "window/notice.h"
#include "window/piece-writer.h"
#include "window/placing.h"
#include "window/pull-view.h"
#include "window/result-page.h"
#include "window/ruler.h"
#include "window/sketch-view.h"
#include "window/timeline-view.h"
#include "window/window.h"

G_BEGIN_DECLS

struct _FwWindow {
    GtkApplicationWindow parent;
    GtkStack *pages;
    FwNotice *notice;
    char *offered; // file of the book whose draft was offered last, or NULL
    FwJobPane *job_pane;
    FwInspector *inspector;
    FwSketchView *sketch;
    FwTimelineView *timeline;
    GtkStack *views; // "flask", "casting", "pull" or "calendar"
    FwCastingView *casting;
    FwPullView *pull;
    FwCalendarView *calendar;
    char *calendar_path; // to write when the days are planned, or NULL
    GtkLabel *title, *subtitle, *status;
    GtkWidget *task;
    GtkLabel *task_words;
    GtkProgressBar *task_bar;
    GtkWidget *explain; // the popover in use, or NULL
    GtkWidget *beside;  // menu or values beside a cavity or a task, or NULL
    GtkMenuButton *more_views;
    Desk *desk;
    FwPlacing *placing;
    FwRuler *ruler;
    char *view;                   // of the flask, by name
    double cut_along, cut_across; // m, planes of "section" and "across"; NAN: by the drawing
    guint task_timer, say_timer;
    guint drawing, drawn; // newest request for scenes, and the one shown
    GtkFileChooserNative *chooser;
    TemplateBoards boards; // that the chooser asks for
    FwPieceWriter *writer;
    GtkWidget *write_task;
    GtkLabel *write_words;
    GtkProgressBar *write_bar;
    guint write_timer;
    FwLivePage *live;
    FwLiveStart *start;
    FwResultPage *results;
    GtkButton *day;
    char *in_the_way;        // a file that could be replaced by saving, or NULL
    char *lost;              // the draft of a book never saved that the notice bar offers, or NULL
    gboolean told_overtaken; // that another program has changed the book's file
    gboolean saving;         // the book is getting another name
    char *own_page;          // "start", "day" or "results" in place of the plan, or NULL
};

// window-commands.c
void fw_window_add_commands(FwWindow *self);
void fw_window_update_commands(FwWindow *self);
void fw_window_enable(FwWindow *self, const char *name, gboolean enabled); // an action of it
gboolean fw_window_shows_pull(FwWindow *self);                             // and not the flask
gboolean fw_window_shows_casting(FwWindow *self);                          // likewise
gboolean fw_window_shows_calendar(FwWindow *self);
// window-files.c
void fw_window_add_files(FwWindow *self);
void fw_window_offer_lost(FwWindow *self); // a book never saved that nobody works at
// window-export.c
void fw_window_add_exports(FwWindow *self);
void fw_window_update_exports(FwWindow *self);
// Starts a file chooser whose answer goes to `chosen`. One at a time.
void fw_window_choose_file(FwWindow *self, const char *title, GtkFileChooserAction action,
                           const char *accept, const char *suffix, const char *kind,
                           const char *name, GCallback chosen);
char *fw_window_take_answer(FwWindow *self, int response); // the path or NULL; ends the chooser
// window-traveller.c
void fw_window_add_traveller(FwWindow *self);
void fw_window_update_traveller(FwWindow *self);
// window-calendar.c
void fw_window_add_calendar_commands(FwWindow *self);
void fw_window_start_calendar(FwWindow *self); // once the desk is known
void fw_window_update_calendar_commands(FwWindow *self);
// window-patterns.c
void fw_window_add_pattern_commands(FwWindow *self);
void fw_window_update_pattern_commands(FwWindow *self);
void fw_window_drop_writer(FwWindow *self); // what is being written ends soon

void fw_window_update_page(FwWindow *self); // window.c
// window-day.c
void fw_window_add_day(FwWindow *self);
void fw_window_start_days(FwWindow *self); // once the desk is known
void fw_window_update_day(FwWindow *self);
void fw_window_offer_day(FwWindow *self); // in the notice bar, when there is one
gboolean fw_window_shows_day(FwWindow *self);
void fw_window_update_day_command(FwWindow *self);

// window-placing.c
void fw_window_add_placing(FwWindow *self);
void fw_window_start_placing(FwWindow *self); // once the desk is known
void fw_window_stop_placing(FwWindow *self);
void fw_window_update_placing(FwWindow *self);
// window-timeline.c
void fw_window_add_timeline(FwWindow *self);
void fw_window_start_timeline(FwWindow *self); // once the desk is known
void fw_window_update_timeline(FwWindow *self);
// window-views.c
void fw_window_update_views(FwWindow *self);
void fw_window_explain(FwWindow *self, const char *figure_id, GtkWidget *at,
                       const GdkRectangle *where);

G_END_DECLS
