// SPDX-License-Identifier: GPL-3.0-or-later
// What the page of the day holds; for live-page.c and live-show.c only.
#pragma once

#include "live/next.h"
#include "window/live-page.h"
#include "window/live-past.h"

G_BEGIN_DECLS

#define LIVE_UPCOMING 3

// What one furnace does, and the button that says it is done with it.
typedef struct {
    GtkWidget *row;
    GtkLabel *words;
    GtkButton *tick;
    char *next; // key of what the button ticks; NULL: nothing
} LiveFurnace;

struct _FwLivePage {
    GtkBox parent;
    GtkLabel *started, *trouble, *who, *action, *countdown, *caution, *tick_words, *note_words;
    GtkLabel *temperature_label, *mass_label, *prompt, *warnings;
    GtkDropDown *hands;
    GtkCheckButton *sound;
    GtkButton *tick, *undo, *finish;
    GtkBox *furnaces;
    GArray *furnace_rows; // LiveFurnace, one a furnace of the day
    FwLivePast *past;
    GtkWidget *noting;
    GtkEntry *temperature, *mass, *words;
    GtkGrid *upcoming;
    GtkLabel *rows[LIVE_UPCOMING][3]; // when, what, how late
    Desk *desk;
    Live *live;
    SessionResult *settled, *rest; // the day planned again; NULL: not yet
    guint planning, planned;       // newest request, and the one in hand
    double planned_at;             // s from the start
    char *next;                    // key of what the large button ticks; NULL: nothing
    gboolean next_begins;
    LivePhase phase; // of the next action, to beep once when it changes
    double beeped;   // s from the start, of the last prompt that was beeped for
    char *noted;     // key of the task whose values are noted; NULL: none
    char *told;      // what finishing the day changed beside the log; NULL: nothing
    guint timer;
    int size; // of the large type, px
};

// live-show.c
void fw_live_page_show(FwLivePage *page);   // reads the day again; changes only what differs
void fw_live_page_replan(FwLivePage *page); // off the main thread, then shows
void fw_live_page_fit(FwLivePage *page);    // the large type to the window

G_END_DECLS
