// SPDX-License-Identifier: GPL-3.0-or-later
// What a person is asked before a day is started in a book with several jobs still to cast: the day
// of the job in hand, or the one the calendar lays out for all.
#pragma once

#include <gtk/gtk.h>

#include "plan/desk.h"
#include "window/calendar-view.h"

G_BEGIN_DECLS

#define FW_TYPE_LIVE_START (fw_live_start_get_type())
G_DECLARE_FINAL_TYPE(FwLiveStart, fw_live_start, FW, LIVE_START, GtkBox)

// Signals: "one" (the day of the job in hand is wanted), "all" (gpointer, a const PlanDay: the day
// of all jobs is wanted, and planned). The calendar plans for it.
void fw_live_start_set_desk(FwLiveStart *start, Desk *desk, FwCalendarView *calendar); // once
// Shows the book as it is, with the first choice in focus.
void fw_live_start_ask(FwLiveStart *start);

G_END_DECLS
