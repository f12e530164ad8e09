// SPDX-License-Identifier: GPL-3.0-or-later
// A drop-down that stays narrow.
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

// A GtkDropDown for a GtkStringList: long choices are shortened in the form, so that it does not
// grow wide, and whole in the list.
GtkWidget *fw_choice_new(void);

// Has the button inside any GtkDropDown of strings, which is what gets the focus, say what is
// chosen, and of what: "Metal: A356". `label` must stay.
void fw_choice_set_label(GtkWidget *drop_down, const char *label);

G_END_DECLS
