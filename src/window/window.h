// SPDX-License-Identifier: GPL-3.0-or-later
// The main window: job pane, sketch over timeline, inspector, and the commands.
#pragma once

#include <gtk/gtk.h>

#include "board/files.h"
#include "plan/desk.h"

G_BEGIN_DECLS

#define FW_TYPE_WINDOW (fw_window_get_type())
G_DECLARE_FINAL_TYPE(FwWindow, fw_window, FW, WINDOW, GtkApplicationWindow)

// `app` may be NULL (tests). The desk is kept.
GtkWidget *fw_window_new(GtkApplication *app, Desk *desk);
Desk *fw_window_get_desk(FwWindow *window);
// Opens a book; trouble is shown in the notice bar.
gboolean fw_window_open(FwWindow *window, const char *path);
void fw_window_choose_step(FwWindow *window, const char *step_id);
// A word in the status line.
void fw_window_say(FwWindow *window, const char *words);
// Writes the sessions as .ics or .csv, now or as soon as they are planned; replaces what is there.
void fw_window_write_calendar(FwWindow *window, const char *path);
// Writes the patterns to print in the background; the notice bar tells how it ended. Files that are
// there are replaced only if `replace`.
void fw_window_write_patterns(FwWindow *window, const char *folder, BoardFormat format,
                              gboolean replace);
// TRUE when the plan is made and its drawings are shown.
gboolean fw_window_is_settled(FwWindow *window);
// A picture of the window as it is drawn now, as PNG. FALSE if it is not on a screen.
gboolean fw_window_save_picture(FwWindow *window, const char *path, GError **error);

G_END_DECLS
