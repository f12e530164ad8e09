// SPDX-License-Identifier: GPL-3.0-or-later
// Every command of the window, once: name, label and key. Menus, the shortcuts window and tests
// read this table.
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef struct {
    const char *name;  // "win.undo"
    const char *label; // N_("Undo")
    const char *accel; // "<Control>z", or NULL
    const char *group; // N_("Editing"): heading in the shortcuts window
    gboolean local;    // the key works while the sketch has the focus: it would be typed elsewhere
} ActionRow;

guint actions_count(void);
const ActionRow *actions_at(guint index);
void actions_set_accels(GtkApplication *app);
GtkWidget *actions_shortcuts_window(void); // a GtkShortcutsWindow made from the table

G_END_DECLS
