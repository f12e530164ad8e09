// SPDX-License-Identifier: GPL-3.0-or-later
// What the window's tests share: a desk on the demo book in a folder of its own, and waiting.
#pragma once

#include <gtk/gtk.h>

#include "plan/desk.h"
#include "window/window.h"

G_BEGIN_DECLS

// Starts GTK; without a display the program ends as skipped. Drafts go to a fresh folder.
void hand_init(int *argc, char ***argv);
int hand_run(void); // runs the tests and cleans up

const Tables *hand_tables(void);
char *hand_demo(void); // path of a copy of the demo book, quick to plan
// A window that shows a book, settled and drawn; NULL: the demo.
FwWindow *hand_open(Desk *desk, const char *path);
void hand_close(FwWindow *window);                  // and nothing of it may be left
void hand_show(FwWindow *window, const char *view); // until it is drawn
void hand_wait_plan(Desk *desk);                    // until nothing is being computed
void hand_wait_settled(FwWindow *window);           // and until it is drawn
void hand_turn(guint milliseconds);                 // runs the main loop for a while
// Is this part of what a label says?
gboolean hand_label_has(GtkWidget *label, gconstpointer words);
// The first widget below `root` of this type for which `fits` (may be NULL) holds; NULL if none.
typedef gboolean (*HandFits)(GtkWidget *widget, gconstpointer data);
GtkWidget *hand_find(GtkWidget *root, GType type, HandFits fits, gconstpointer data);

G_END_DECLS
