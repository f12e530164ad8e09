// SPDX-License-Identifier: GPL-3.0-or-later
// The page of the day: the next action in large type with a countdown, one button to tick it, what
// the furnace does, what comes after. Holds the day's journal while it is open.
#pragma once

#include <gtk/gtk.h>

#include "live/live.h"
#include "plan/desk.h"

G_BEGIN_DECLS

#define FW_TYPE_LIVE_PAGE (fw_live_page_get_type())
G_DECLARE_FINAL_TYPE(FwLivePage, fw_live_page, FW, LIVE_PAGE, GtkBox)

// Signals: "changed" (a tick was added or taken back; the day was opened or left), "finished" (the
// day is in the book's log).
void fw_live_page_set_desk(FwLivePage *page, Desk *desk);

// Goes on with the day of the desk's book, or starts one: `day`, or that of the desk's job when it
// is NULL. What fails is said in words.
gboolean fw_live_page_open(FwLivePage *page, const PlanDay *day, GError **error);
void fw_live_page_leave(FwLivePage *page); // lets go of the journal, which stays
// The book was saved under another name: the journal goes with it.
void fw_live_page_follow(FwLivePage *page, const char *book_path);
// Puts a journal aside whose day is in a book on the disk.
void fw_live_page_settle(FwLivePage *page);

const Live *fw_live_page_live(FwLivePage *page); // NULL: no day is open
void fw_live_page_tick(FwLivePage *page);        // what the large button does
gboolean fw_live_page_can_undo(FwLivePage *page);
void fw_live_page_undo(FwLivePage *page);
gboolean fw_live_page_finish(FwLivePage *page);
// What the last day finished changed beside the log, in words; NULL: nothing. Borrowed.
const char *fw_live_page_told(FwLivePage *page);
void fw_live_page_focus(FwLivePage *page); // the large button

G_END_DECLS
